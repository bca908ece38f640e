"""Words that were not understood: kept beside the piece, for the maker alone, and listed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.pieces import begun
from tests.properties import examples
from voice.caller import unheard

HAT = ("--piece", "x", "--head", "56cm", "--yarn", "worsted", "--hook", "H")
SAID = "flibber wugs\nnext\nthe cat is out\n"


def program(*words: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "voice", *words]
    return subprocess.run(command, input=typed, capture_output=True, text=True, check=False)


def test_they_are_kept_with_their_place_and_listed(tmp_path: Path) -> None:
    where = ("--folder", str(tmp_path))
    assert program("pieces", "--unheard", *where).stdout.startswith("Nothing that was not")
    assert program("call", "--typed", *where, *HAT, typed=SAID).returncode == 0
    file = tmp_path / "x.unheard"
    lines = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    assert [(line["said"], line["stage"], line["round"]) for line in lines] == [
        ("flibber wugs", "ring", 1),
        ("the cat is out", "crown", 2),
    ]
    assert all(line["at"].endswith("Z") for line in lines)
    listed = program("pieces", "--unheard", *where)
    assert listed.stdout.splitlines() == [
        "x: round 1, ring: flibber wugs",
        "x: round 2, crown: the cat is out",
    ]
    assert len(program("pieces", *where).stdout.splitlines()) == 1


@pytest.mark.skipif(os.name != "posix", reason="rights of POSIX")
def test_only_the_maker_may_read_them(tmp_path: Path) -> None:
    program("call", "--typed", "--folder", str(tmp_path), *HAT, typed=SAID)
    assert (tmp_path / "x.unheard").stat().st_mode & 0o777 == 0o600


def test_none_is_kept_where_none_is_wanted(tmp_path: Path) -> None:
    options = ("--folder", str(tmp_path), "--unheard", "none")
    program("call", "--typed", *options, *HAT, typed=SAID)
    assert [path.name for path in tmp_path.glob("x.*")] == ["x.jsonl"]


def test_nothing_is_left_of_a_piece_that_was_not_begun(tmp_path: Path) -> None:
    program("call", "--typed", "--folder", str(tmp_path), "--piece", "y", typed="flibber wugs\n")
    assert list(tmp_path.glob("y.*")) == []


def test_the_file_stays_small(tmp_path: Path) -> None:
    journal = tmp_path / "x.jsonl"
    for _ in range(60):
        unheard.keep(journal, "w" * 2000, begun(), "2026-01-01T00:00:00.000000Z")
    assert 0 < unheard.file_of(journal).stat().st_size <= unheard.MOST_BYTES


@pytest.mark.skipif(not hasattr(os, "O_NOFOLLOW"), reason="no such flag")
def test_no_link_is_followed(tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.write_text("mine\n", "utf-8")
    unheard.file_of(tmp_path / "x.jsonl").symlink_to(other)
    keeper = unheard.Keeper(wanted=True)
    why = keeper.kept_or_why(tmp_path / "x.jsonl", "flibber wugs", begun(), "now")
    assert why.startswith("What I do not understand cannot be kept (")
    assert keeper.kept_or_why(tmp_path / "x.jsonl", "flibber wugs", begun(), "now") == ""
    assert other.read_text("utf-8") == "mine\n"


@given(st.lists(st.text(max_size=30).filter(lambda text: text.isprintable()), max_size=5))
@settings(max_examples=examples(30), deadline=None)
def test_what_is_kept_is_read_again(texts: list[str]) -> None:
    with TemporaryDirectory() as folder:
        for text in texts:
            unheard.keep(Path(folder, "x.jsonl"), text, begun(), "now")
        found = list(unheard.kept(Path(folder)))
    assert [(name, words.said) for name, words in found] == [("x", text) for text in texts]


@given(st.binary(max_size=200))
@settings(max_examples=examples(60), deadline=None)
def test_a_file_by_others_is_no_fault(content: bytes) -> None:
    with TemporaryDirectory() as folder:
        Path(folder, "x.unheard").write_bytes(content)
        assert all(name == "x" for name, _ in unheard.kept(Path(folder)))
