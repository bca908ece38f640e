"""Reads models.txt, the one list of speech models, and refuses anything it does not know."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import metadata
from pathlib import Path

from voice.models.model_errors import ListFault, ListMissing, NoSuchModel

_DISTRIBUTION = "rounds-aloud"
_FILE = "models.txt"
OURS = "this program"
"""Where a model is from that comes with this program."""


class Engine(StrEnum):
    """What turns sound into words with the model."""

    VOSK = "vosk"
    MOONSHINE = "moonshine"


class Use(StrEnum):
    """What a model is listed for."""

    LISTENING = "listening"
    TESTS = "tests"


@dataclass(frozen=True, slots=True)
class Package:
    """A package on an index, of one version."""

    name: str
    version: str

    def __str__(self) -> str:
        """As an installer wants it."""
        return f"{self.name}=={self.version}"


@dataclass(frozen=True, slots=True)
class Model:
    """One block of the list."""

    name: str
    engine: Engine
    language: str
    """A BCP 47 tag."""
    use: Use
    size_bytes: int
    """Of the archive; for another model, of all files in its folder."""
    licence: str
    """An SPDX identifier, or NOASSERTION."""
    source: str | Package
    """The address of a zip archive, the package that holds the model, or `OURS`."""
    folder: str
    """Inside the archive, the installed package or this program."""
    file: str
    """The archive, or the main weight file inside the folder."""
    sha256: str
    """Of that file."""

    @property
    def address(self) -> str | None:
        """Where it is fetched from, if it does not come with a package or this program."""
        return None if isinstance(self.source, Package) or self.source == OURS else self.source


_PATH = r"[A-Za-z0-9_][A-Za-z0-9._-]*"
_PACKAGE = re.compile(r"package ([a-z0-9]+(?:-[a-z0-9]+)*)==([0-9]+(?:\.[0-9]+)*)")
_RULES: dict[str, tuple[str, str]] = {
    "name": (r"[a-z0-9][a-z0-9.-]*", "must be small letters, digits, dots and hyphens"),
    "engine": ("|".join(Engine), f"must be one of {', '.join(Engine)}"),
    "language": (r"[a-z]{2,3}(-[A-Z]{2})?", "must be a language tag such as en-US"),
    "use": ("|".join(Use), f"must be one of {', '.join(Use)}"),
    "size_bytes": (r"[1-9][0-9]*", "must be a whole number above 0, digits only"),
    "licence": (r"[A-Za-z0-9][A-Za-z0-9.+-]*", "must be an SPDX identifier or NOASSERTION"),
    "from": (
        rf"https://[^\s/?#@]+(/[^\s/?#]+)+|{_PACKAGE.pattern}|{OURS}",
        f"must be an https address, or: package NAME==VERSION, or: {OURS}",
    ),
    "folder": (rf"{_PATH}(/{_PATH})*", "must be a plain path inside the archive or package"),
    "file": (rf"{_PATH}(/{_PATH})*", "must be a plain path"),
    "sha256": (r"[0-9a-f]{64}", "must be 64 digits of 0-9 and a-f"),
}
_Block = dict[str, tuple[int, str]]
"""Key -> the line it stands on, and its value."""


def _lines(path: Path, data: bytes) -> Iterator[tuple[int, str]]:
    for number, raw in enumerate(data.splitlines(), 1):
        try:
            yield number, raw.decode("utf-8").rstrip()
        except UnicodeDecodeError:
            raise ListFault(path, number, "text", "must be UTF-8") from None


def _blocks(path: Path, data: bytes) -> Iterator[_Block]:
    block: _Block = {}
    for number, line in _lines(path, data):
        if line.startswith("#"):
            continue
        if not line:
            if block:
                yield block
            block = {}
            continue
        key, colon, value = line.partition(": ")
        if not colon or key not in _RULES:
            raise ListFault(path, number, repr(key), f"is none of the keys {', '.join(_RULES)}")
        if key in block:
            raise ListFault(path, number, key, "must stand once in a block")
        block[key] = number, value
    if block:
        yield block


def _model(path: Path, block: _Block) -> Model:
    first = min(number for number, _ in block.values())
    for key, (pattern, rule) in _RULES.items():
        if key not in block:
            raise ListFault(path, first, key, "is missing from the block that begins there")
        if not re.fullmatch(pattern, block[key][1]):
            raise ListFault(path, block[key][0], key, rule)
    text = {key: value for key, (_, value) in block.items()}
    package = _PACKAGE.fullmatch(text["from"])
    if text["from"].startswith("https:") and text["from"].rpartition("/")[2] != text["file"]:
        raise ListFault(path, block["file"][0], "file", "must be the last part of the address")
    return Model(
        name=text["name"],
        engine=Engine(text["engine"]),
        language=text["language"],
        use=Use(text["use"]),
        size_bytes=int(text["size_bytes"]),
        licence=text["licence"],
        source=Package(package[1], package[2]) if package else text["from"],
        folder=text["folder"],
        file=text["file"],
        sha256=text["sha256"],
    )


def parse(path: Path, data: bytes) -> tuple[Model, ...]:
    """The models of a list, in its order; the path is only named. Raises: ListFault."""
    found: dict[str, Model] = {}
    for block in _blocks(path, data):
        model = _model(path, block)
        if model.name in found:
            raise ListFault(path, block["name"][0], "name", "must differ from those above it")
        found[model.name] = model
    return tuple(found.values())


def list_path() -> Path:
    """Where models.txt is: at the top of a checkout, else where the installer put it.

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
