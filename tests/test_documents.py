"""The documents name what there is: their lists against the code and the folders."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.bench.__main__ import NAMES
from voice.caller.json_reply import FIELDS
from voice.cli.command_line import COMMANDS
from voice.words.phrases import TOPICS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
LISTED = {"pattern": (".",), "voice": (".", "recognisers")}
"""Folders whose modules are named one by one, by package; the others are named as a whole."""
NOT_MODULES = {"rooms", "check", "add_arguments", "run"}
"""Other words of the lists: a folder of weights, a command, functions."""


def between(text: str, start: str, end: str) -> str:
    return text.partition(start)[2].partition(end)[0]


def named(text: str) -> set[str]:
    """What stands between backquotes, without its folder and ending."""
    return {Path(name).name.removesuffix(".py") for name in re.findall(r"`([^`]+)`", text)}


def house(package: str) -> str:
    """What DEVELOPERS.md says of a package."""
    return between(DEVELOPERS, f"\n`{package}/`\n", "\n`" if package == "pattern" else "\n## ")


def there(package: str) -> set[str]:
    """The modules and folders of a package."""
    inside = [path for place in LISTED[package] for path in (ROOT / package / place).iterdir()]
    return {
        path.stem
        for path in inside
        if (path.suffix == ".py" or any(path.glob("*.py"))) and not path.stem.startswith("__")
    }


@pytest.mark.parametrize("package", LISTED)
def test_every_module_is_named_and_every_name_is_one(package: str) -> None:
    told, modules = named(house(package)), there(package)
    if "*_command" in told:
        told = told - {"*_command"} | {name for name in modules if name.endswith("_command")}
    assert modules - told == set()
    anywhere = {path.stem for path in (ROOT / package).rglob("*.py")}
    words = {name for name in told if re.fullmatch(r"[a-z_]+", name)}
    assert words - modules - anywhere <= NOT_MODULES


def test_every_benchmark_is_named() -> None:
    command = re.search(r"python -m tests\.bench ([a-z|]+\|[a-z|]+)`", DEVELOPERS)
    assert command is not None
    assert sorted(command[1].split("|")) == sorted(NAMES)


def test_the_readme_names_every_command_every_field_and_every_topic() -> None:
    commands = between(README, "## The commands", "## ")
    assert set(re.findall(r"`rounds-aloud ([a-z]+)", commands)) == {name for name, *_ in COMMANDS}
    fields = re.findall(r"`([a-z_]+)`", between(commands, "the opening first:", "."))
    assert tuple(fields) == FIELDS
    topics = between(README, '"help with measuring", ', ".").removeprefix("a ")
    assert {"measuring", *topics.split(", ")} == {
        t.removeprefix("a ") if t == "a swatch" else t for t in TOPICS.values()
    }
