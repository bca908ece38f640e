"""The documents name what there is: their words against the code, the table and the folders."""

from __future__ import annotations

import ast
import re
from argparse import ArgumentParser
from functools import cache
from pathlib import Path

import pytest

from pattern.shape.rounds import Stage
from tests import dialogues
from tests.bench.__main__ import NAMES as BENCHES
from tests.golden.reading import caller_in
from tests.test_layers import ROWS
from voice.caller.caller import Caller
from voice.caller.json_reply import FIELDS, QUESTIONS
from voice.caller.reply import Verdict
from voice.cli.app import EX_SOFTWARE, INTERRUPTED
from voice.cli.command_line import COMMANDS
from voice.cli.manual_pages import ORDER, pages
from voice.words.phrases import TOPICS, read

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
MANUAL = {page.topic: page.text for page in pages()}
DOCUMENTS = {"README.md": README, "DEVELOPERS.md": DEVELOPERS, **MANUAL}
LONGEST_LINES = 150
PLACE = re.compile(
    r"(?<![\w~./-])((?:pattern|voice|tests|\.ci)/[\w./-]*\w|[\w.-]+\.(?:py|toml|md))"
)
OTHERS_OPTIONS = {"--system-site-packages"}
"""Options of other programs."""


@pytest.fixture(params=DOCUMENTS, name="document")
def _document(request: pytest.FixtureRequest) -> str:
    return DOCUMENTS[request.param]


def between(text: str, start: str, end: str) -> str:
    return text.partition(start)[2].partition(end)[0]


def table(text: str, heading: str) -> dict[str, str]:
    """Rows of the first table under a heading: the second cell by the first."""
    cells = re.findall(
        r"^\| (.+?) \| (.+?) \|", between(f"{text}\n#", heading, "\n#"), re.MULTILINE
    )
    return dict(cells[1:])


def backquoted(text: str) -> list[str]:
    return re.findall(r"`([^`\n]+)`", text)


def test_every_place_that_is_named_is_there(document: str) -> None:
    named = PLACE.findall(re.sub(r"https?://\S+", "", document))
    lacking = [name for name in named if not (ROOT / name).exists()]
    assert lacking == []


def test_every_command_and_module_that_is_named_is_there(document: str) -> None:
    commands = {name for name, *_ in COMMANDS}
    told = re.findall(r"(?:`|bin/|Scripts\\)rounds-aloud ([a-z]+)", document)
    assert set(told) <= commands
    assert set(re.findall(r"rounds-aloud manual ([a-z]+)", document)) <= {*ORDER, "lists"}
    assert set(re.findall(r"python -m tests\.bench ([a-z]+)", document)) <= set(BENCHES)
    for module in re.findall(r"python -m ([a-z_.]+)", document):
        path = ROOT / module.replace(".", "/")
        assert path.with_suffix(".py").exists() or path.is_dir() or module in {"pytest", "venv"}


def test_every_name_of_the_code_that_developers_are_told_is_there() -> None:
    """Constants and classes, such as SHAPES or PartKind."""
    told = {name for name in backquoted(DEVELOPERS) if re.fullmatch(r"_?[A-Z]\w+", name)}
    source = "\n".join(
        path.read_text("utf-8")
        for top in ("pattern", "voice", "tests")
        for path in (ROOT / top).rglob("*.py")
        if path != Path(__file__)
    )
    defined = set(re.findall(r"^(?:class )?(_?[A-Z]\w+)\b", source, re.MULTILINE))
    assert len(told) > 20
    assert told - defined == set()


@cache
def options() -> set[str]:
    """Every option of the program, of the benchmarks and of the net's learning."""
    found: set[str] = set()
    for _, _, command in COMMANDS:
        parser = ArgumentParser()
        command.add_arguments(parser)
        found |= set(re.findall(r"--[a-z-]+", parser.format_help()))
    places = (ROOT / "tests" / "bench", ROOT / "voice" / "recognisers" / "net" / "learning")
    return found | {
        node.value
        for place in places
        for path in place.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and node.value.startswith("--")
    }


def test_every_option_that_is_named_is_there(document: str) -> None:
    told = set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", document))
    assert told - options() <= OTHERS_OPTIONS


def test_the_manual_names_every_command() -> None:
    told = re.findall(r"^(?:- )?`rounds-aloud ([a-z]+)", MANUAL["commands"], re.MULTILINE)
    assert set(told) == {name for name, *_ in COMMANDS}


def test_the_manual_has_a_part_for_every_topic_of_help() -> None:
    parts = {heading.casefold() for heading in re.findall(r"^## (.+)$", MANUAL["phrases"], re.M)}
    assert set(TOPICS.values()) <= parts


@pytest.mark.parametrize(
    "text", [MANUAL["phrases"], between(README, "## What to say", "## In your room")]
)
def test_every_phrase_that_is_told_is_one(text: str) -> None:
    said = [words for words in backquoted(text) if not words.startswith("rounds-aloud")]
    assert len(said) > 20
    assert [words for words in said if read(words) is None] == []


def in_the_crown(caller: Caller) -> None:
    caller.open()
    for words in ("centimetres", "skip", "fifty six", "begin", "next", "next", "next", "next"):
        caller.hear(words)
    assert caller.state.stage is Stage.CROWN


WORDINGS = re.findall(
    r'^- "(.+)" is (answered at once|asked about first)$', MANUAL["phrases"], re.M
)


@pytest.mark.parametrize(("words", "told"), WORDINGS)
def test_own_words_of_the_manual_come_to_what_it_says(
    words: str, told: str, tmp_path: Path
) -> None:
    assert read(words) is None
    with caller_in(tmp_path) as caller:
        in_the_crown(caller)
        before = caller.state
        answer = caller.hear(words)
        asked = told == "asked about first"
        assert answer.verdict is (Verdict.ASKED if asked else Verdict.DONE)
        assert (answer.command is None) == asked
        assert caller.state == before


def test_own_words_of_the_readme_are_asked_about(tmp_path: Path) -> None:
    words = re.findall(r'[Yy]our own words are understood too: "(.+?)"', README)
    assert len(words) == 1
    with caller_in(tmp_path) as caller:
        in_the_crown(caller)
        assert caller.hear(words[0]).verdict is Verdict.ASKED
    assert len(WORDINGS) >= 4


@pytest.mark.parametrize("path", dialogues.FILES, ids=lambda path: path.name)
def test_a_dialogue_is_what_the_program_says(path: Path) -> None:
    """Written anew by `python -m tests.golden`."""
    text = path.read_text("utf-8")
    assert len(dialogues.turns(text)) >= 10
    assert dialogues.answered(text) == text


def test_the_contract_for_scripts_is_that_of_the_code() -> None:
    page = MANUAL["scripts"]
    fields = table(page, "## One answer a line")
    assert tuple(name.strip("`") for name in fields) == FIELDS
    listed = {name.strip("`"): re.split(r", | or ", told) for name, told in fields.items()}
    assert listed["stage"] == [stage.value for stage in Stage]
    assert listed["verdict"][1:] == [verdict.value for verdict in list(Verdict)[1:]]
    assert fields["`question`"].endswith(
        f"{', '.join(list(QUESTIONS.values())[:-1])} or {list(QUESTIONS.values())[-1]}"
    )
    codes = {int(code) for code in table(page, "## How a command ends")}
    assert codes == {0, 1, 2, EX_SOFTWARE, INTERRUPTED}


def test_the_layers_are_told_in_their_order() -> None:
    for package, rows in ROWS.items():
        told = re.findall(rf"^\| (\d+) \| (.*`{package}/.*)\|$", DEVELOPERS, re.MULTILINE)
        assert [int(number) for number, _ in told] == list(range(1, len(rows) + 1))
        for (_, line), rooms in zip(told, rows, strict=True):
            named = re.findall(rf"`{package}/(\w+)(?:\.py)?`: ", line)
            assert set(named) == rooms


def test_every_benchmark_is_named() -> None:
    rows = table(DEVELOPERS, "## Benches")
    assert sorted(name for row in rows for name in backquoted(row)) == sorted(BENCHES)


@pytest.mark.parametrize("name", BENCHES)
def test_every_benchmark_can_be_run(name: str) -> None:
    path = ROOT / "tests" / "bench" / name
    file = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    tree = ast.parse(file.read_text("utf-8"))
    assert "run" in {each.name for each in tree.body if isinstance(each, ast.FunctionDef)}


@pytest.mark.parametrize("text", [README, DEVELOPERS])
def test_the_first_documents_stay_short(text: str) -> None:
    assert len(text.splitlines()) <= LONGEST_LINES
