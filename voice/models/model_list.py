"""Reads models.txt, the one list of speech models, and refuses anything it does not know."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

from pattern.shape.shape_lines import line_of
from pattern.trade.toml_text import BadToml, read_toml
from voice.models.model_errors import ListFault, ListMissing, NoSuchModel

_DISTRIBUTION = "rounds-aloud"
_FILE = "models.txt"
OURS = "this program"
"""Source of a model that comes with this program."""


class Engine(StrEnum):
    """Library or net that turns sound into words with the model."""

    VOSK = "vosk"
    MOONSHINE = "moonshine"


class Use(StrEnum):
    """Purpose of a listed model."""

    LISTENING = "listening"
    TESTS = "tests"


@dataclass(frozen=True, slots=True)
class Package:
    """One version of a package on an index."""

    name: str
    version: str

    def __str__(self) -> str:
        """The requirement, as an installer takes it."""
        return f"{self.name}=={self.version}"


@dataclass(frozen=True, slots=True)
class Model:
    """One speech model of the list."""

    name: str
    engine: Engine
    language: str
    """A BCP 47 tag."""
    use: Use
    size_bytes: int
    """Size of the archive; for another model, of all files in its folder."""
    licence: str
    """An SPDX identifier, or NOASSERTION."""
    source: str | Package
    """The address of a zip archive, the package that holds the model, or `OURS`."""
    folder: str
    """Path inside the archive, the installed package or this program."""
    file: str
    """The archive, or the main weight file inside the folder."""
    sha256: str
    """Hash of that file."""

    @property
    def address(self) -> str | None:
        """Address of the archive; None where the model comes with a package or this program."""
        return None if isinstance(self.source, Package) or self.source == OURS else self.source


_PATH = r"[A-Za-z0-9_][A-Za-z0-9._-]*"
_PACKAGE = re.compile(r"package ([a-z0-9]+(?:-[a-z0-9]+)*)==([0-9]+(?:\.[0-9]+)*)")
_RULES: dict[str, tuple[str, str]] = {
    "name": (r"[a-z0-9][a-z0-9.-]*", "must be small letters, digits, dots and hyphens"),
    "engine": ("|".join(Engine), f"must be one of {', '.join(Engine)}"),
    "language": (r"[a-z]{2,3}(-[A-Z]{2})?", "must be a language tag such as en-US"),
    "use": ("|".join(Use), f"must be one of {', '.join(Use)}"),
    "size_bytes": (r"[1-9][0-9]*", "must be a whole number above 0"),
    "licence": (r"[A-Za-z0-9][A-Za-z0-9.+-]*", "must be an SPDX identifier or NOASSERTION"),
    "from": (
        rf"https://[^\s/?#@]+(/[^\s/?#]+)+|{_PACKAGE.pattern}|{OURS}",
        f"must be an https address, or: package NAME==VERSION, or: {OURS}",
    ),
    "folder": (rf"{_PATH}(/{_PATH})*", "must be a plain path inside the archive or package"),
    "file": (rf"{_PATH}(/{_PATH})*", "must be a plain path"),
    "sha256": (r"[0-9a-f]{64}", "must be 64 digits of 0-9 and a-f"),
}


def _text(path: Path, data: bytes) -> str:
    """The list as text. Raises: ListFault."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        raise ListFault(path, line, "the text", "must be UTF-8") from None


def _tables(path: Path, text: str) -> list[dict[str, Any]]:
    """The tables [[model]], and nothing beside them. Raises: ListFault."""
    try:
        found = read_toml(text)
    except BadToml as fault:
        raise ListFault(path, fault.line, "the text", "must be TOML, every key once") from fault
    tables = found.pop("model", [])
    for key in found:
        raise ListFault(path, line_of(text, key, None), key, "must stand below [[model]]")
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise ListFault(path, line_of(text, "model", None), "model", "must be written [[model]]")
    return tables


def _refusal(table: dict[str, Any]) -> tuple[str, str] | None:
    """The first key that breaks its rule, and the rule; None where none does."""
    for key in table:
        if key not in _RULES:
            return key, f"is none of the keys {', '.join(_RULES)}"
    for key, (pattern, rule) in _RULES.items():
        if key not in table:
            return key, "is missing from the model that begins there"
        kind = int if key == "size_bytes" else str
        if type(table[key]) is not kind or not re.fullmatch(pattern, str(table[key])):
            return key, rule
    if table["from"].startswith("https:") and table["from"].rpartition("/")[2] != table["file"]:
        return "file", "must be the last part of the address"
    return None


def _model(table: dict[str, Any]) -> Model:
    source = table.pop("from")
    package = _PACKAGE.fullmatch(source)
    table |= {"engine": Engine(table["engine"]), "use": Use(table["use"])}
    return Model(source=Package(package[1], package[2]) if package else source, **table)


def parse(path: Path, data: bytes) -> tuple[Model, ...]:
    """The models of a list, in its order; the path is only named. Raises: ListFault."""
    text, found = _text(path, data), dict[str, Model]()
    for at, table in enumerate(_tables(path, text)):
        refusal = _refusal(table)
        if refusal is None and table["name"] in found:
            refusal = "name", "must differ from those above it"
        if refusal is not None:
            raise ListFault(path, line_of(text, refusal[0], at, "model"), *refusal)
        found[table["name"]] = _model(table)
    return tuple(found.values())


def list_path() -> Path:
    """Path of models.txt: at the top of a checkout, else where the installer put it.

    Raises: ListMissing.
    """
    top = Path(__file__).resolve().parents[2]
    if (top / "pyproject.toml").is_file() and (top / _FILE).is_file():
        return top / _FILE
    try:
        files = metadata.files(_DISTRIBUTION) or []
    except metadata.PackageNotFoundError:
        raise ListMissing from None
    paths = (Path(str(file.locate())) for file in files if file.name == _FILE)
    for path in paths:
        if path.is_file():
            return path.resolve()
    raise ListMissing


@cache
def listed() -> tuple[Model, ...]:
    """Every model of models.txt, in its order. Raises: ListFault, ListMissing."""
    path = list_path()
    return parse(path, path.read_bytes())


def find(name: str) -> Model:
    """The model of that name. Raises: NoSuchModel, ListFault, ListMissing."""
    for model in listed():
        if model.name == name:
            return model
    raise NoSuchModel(name, tuple(model.name for model in listed()))
