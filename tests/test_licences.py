"""Licences: the text that travels, the table of what is installed beside it, and who loads what.

Against the outside: `importlib.metadata` says what each package states of itself, and `packaging`,
pip's own library for dependency specifiers, which packages those are.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from importlib.metadata import Distribution, distribution
from pathlib import Path

import pytest
from packaging.licenses import canonicalize_license_expression
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from voice.recognisers.net.learning.speaking import SOURCES

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
LICENCES = ROOT / "voice" / "licences"
TABLE = (LICENCES / "installed.md").read_text("utf-8")
OTHER_SYSTEMS = ("Windows", "Darwin")


def told() -> dict[str, str]:
    """The table: licence by package."""
    rows = re.findall(r"^\| ((?!package )[a-z0-9-]+) \| (.+?) \| .+ \|$", TABLE, re.MULTILINE)
    found = dict(rows)
    assert len(found) == len(rows)
    return found


def stated(package: Distribution) -> str:
    """The licence that a package states: an expression, else words, else classifiers.

    Source: packaging.python.org/en/latest/specifications/core-metadata.
    """
    of = package.metadata
    for key in ("License-Expression", "License"):
        if key in of and of[key] not in {"", "UNKNOWN"}:
            return of[key]
    classified = [
        line.rpartition(" :: ")[2]
        for line in of.get_all("Classifier") or []
        if line.startswith("License :: ")
    ]
    return ", ".join(classified) or "none stated"


def wanted(requirements: list[str], environment: dict[str, str]) -> Iterator[str]:
    for requirement in map(Requirement, requirements):
        if requirement.marker is None or requirement.marker.evaluate(environment):
            yield canonicalize_name(requirement.name)


def installed() -> dict[str, Distribution]:
    """What this program brings here, with all that these packages bring."""
    found: dict[str, Distribution] = {}
    left = list(wanted(PROJECT["dependencies"], {}))
    while left:
        name = left.pop()
        if name not in found:
            found[name] = distribution(name)
            left += wanted(found[name].requires or [], {"extra": ""})
    return found


@pytest.mark.parametrize("name", sorted(installed()))
def test_the_table_says_what_each_installed_package_states(name: str) -> None:
    """Releases for other Pythons may state it otherwise: `one; later another`."""
    assert stated(installed()[name]) in told()[name].split("; later ")


@pytest.mark.parametrize("system", OTHER_SYSTEMS)
def test_the_table_names_what_comes_on_other_systems(system: str) -> None:
    here = {"platform_system": system, "extra": ""}
    for package in installed().values():
        assert set(wanted(package.requires or [], here)) <= set(told())


def test_the_licence_of_the_program_is_a_known_one_and_lies_at_the_top() -> None:
    """Apache-2.0: an SPDX identifier (spdx.org/licenses), by the list in `packaging`."""
    assert canonicalize_license_expression(PROJECT["license"]) == "Apache-2.0"
    text = (ROOT / "LICENSE").read_text("utf-8")
    assert text.split()[:4] == ["Apache", "License", "Version", "2.0,"]
    assert "9. Accepting Warranty or Additional Liability." in text
    assert "LICENSE" in PROJECT["license-files"]


def test_the_notice_of_the_net_is_the_one_that_its_package_brings() -> None:
    """The net was adapted from that package's; its licence wants the notice in every copy."""
    brought = distribution("moonshine-voice").read_text("licenses/LICENSE")
    assert (LICENCES / "moonshine.txt").read_text("utf-8") == brought
    readme = distribution("moonshine-voice").read_text("METADATA") or ""
    plain = re.sub(r"\[([^]]+)\]\([^)]+\)", r"\1", readme)
    quoted = re.search(r'"(The code and English-language models .+?)"', TABLE)
    assert quoted is not None
    assert quoted[1] in plain


def test_espeak_is_loaded_by_the_process_that_speaks_alone() -> None:
    """eSpeak NG is under the GPL: a process of its own, which takes text and gives back sound."""
    engine = "voice.speech.speech_engine"
    loads: dict[str, set[str]] = {"espeakng_loader": set(), "hibari": set(), engine: set()}
    for path in [path for top in ("pattern", "voice") for path in (ROOT / top).rglob("*.py")]:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom) and node.module:
                names = [node.module, *(f"{node.module}.{alias.name}" for alias in node.names)]
            for name in loads.keys() & set(names):
                loads[name].add(path.relative_to(ROOT).as_posix())
    assert loads["espeakng_loader"] == {"voice/speech/speech_engine.py"}
    assert loads["hibari"] == {"voice/speech/clear_voice.py"}
    assert loads[engine] == {"voice/speech/speech_child.py"}


def test_the_net_learns_from_what_its_table_names_and_nothing_else() -> None:
    text = (LICENCES / "net.md").read_text("utf-8")
    rows = re.findall(r"^\| ([a-z]+) \|.* (\d+) \| .+ \|$", text, re.MULTILINE)
    assert {name: int(most) for name, most in rows} == {
        name: source.most for name, source in SOURCES.items()
    }
