"""The program as a process: the script contract, bad input, interruption, the README's words."""

from __future__ import annotations

import itertools
import json
import re
import signal
import subprocess
import sys
from io import FileIO
from pathlib import Path
from typing import Any

import pytest

from tests import dialogues
from tests.command_lines import ended
from voice.caller.json_reply import FIELDS
from voice.sentences.examples import example
from voice.words.phrases import PHRASES

ROOT = Path(__file__).parent.parent
HAT = ("--head", "52cm", "--yarn", "4", "--hook", "4.5", "--unit", "cm")
ASKS = {None, "across", "around", "along", "depth", "brim", "fit", "confirm", "look", "setup"}
STAGES = {"setup", "ring", "crown", "sides", "brim", "finishing", "done"}


def program(*args: str) -> list[str]:
    return [sys.executable, "-m", "voice", *args]


def run(*args: str, typed: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(program(*args), input=typed, capture_output=True, cwd=ROOT, check=False)


def replies(
    folder: Path, *lines: str | bytes, options: tuple[str, ...] = HAT, piece: str = "test"
) -> list[dict[str, Any]]:
    """What the program answers to lines, in this process; there is one answer to each."""
    typed = b"".join((line if isinstance(line, bytes) else line.encode()) + b"\n" for line in lines)
    args = ["call", "--typed", "--json", "--folder", str(folder), "--piece", piece, *options]
    done = ended(args, typed)
    assert (done.code, done.err) == (0, "")
    said = [json.loads(line) for line in done.out.splitlines()]
    for each in said:
        assert tuple(each) == FIELDS
        assert each["stage"] in STAGES
        assert each["asks"] in ASKS
        assert each["say"]
    return said


def test_a_whole_piece_by_next_and_skip(tmp_path: Path) -> None:
    said = replies(tmp_path, *["next"] * 90)
    assert said[0]["stage"] == "ring"
    assert said[0]["round"] == 1
    assert said[-1]["stage"] == "done"
    assert len(said) < 90, "the program ends when the piece is done"
    called = [each for each in said if each["round"] is not None]
    for one, then in itertools.pairwise(called):
        assert then["round"] == one["round"] + 1
        assert then["stitches_before"] == one["stitches_after"]
        change = then["stitches_after"] - then["stitches_before"]
        assert len(then["places"]) == abs(change)
        assert then["places"] == sorted(set(then["places"]))
        assert all(0 <= place < then["stitches_before"] for place in then["places"])
        assert then["rounds_left"] <= one["rounds_left"] + 1
    assert called[0]["girth_wanted_mm"] == 520.0
    assert abs(called[-1]["girth_expected_mm"] - 520.0) < 10
    assert called[-1]["girth_sd_mm"] > 20, "no reading was taken, and it says so"
    order = ["ring", "crown", "sides", "brim", "finishing", "done"]
    stages = [each["stage"] for each in said]
    assert stages == sorted(stages, key=order.index)


def test_readings_narrow_the_girth(tmp_path: Path) -> None:
    said = replies(tmp_path, *["next"] * 8, "12.4 cm across", "next", "around 39 cm")
    assert said[9]["girth_sd_mm"] < said[8]["girth_sd_mm"]
    assert said[11]["girth_sd_mm"] < said[9]["girth_sd_mm"] / 2
    assert "Twelve point four across" in said[9]["say"]


def test_an_interview_asks_each_question_once(tmp_path: Path) -> None:
    said = replies(tmp_path, "ask me everything", *["skip"] * 12, options=())
    assert [each["asks"] for each in said[:-1]] == ["setup"] * 13
    assert said[-1]["stage"] == "ring"
    assert all(each["girth_expected_mm"] is None for each in said[:-1])
    assert len({each["say"].rpartition("Skip means")[0][-30:] for each in said[:-1]}) == 12
    named = [each["question"] for each in said[1:-1]]
    assert len(set(named)) == len(named) == 12


def test_a_hat_is_begun_in_four_answers(tmp_path: Path) -> None:
    said = replies(tmp_path, "fifty six centimetres", "DK", "four", "yes", options=())
    assert [each["question"] for each in said] == ["head", "yarn", "hook", "begin", None]
    offer = "For the rest I take the usual: a sun hat with a six centimetre brim."
    assert said[3]["say"].endswith(f"{offer} Begin, or change something?")
    assert said[-1]["stage"] == "ring"


def test_a_bare_head_beforehand_tells_its_unit(tmp_path: Path) -> None:
    """Heads of 56 inches there are none, and of 22 centimetres neither."""
    for number, told in (("56", "fifty six centimetres"), ("22", "twenty two inches")):
        (said,) = replies(tmp_path / number, options=("--head", number))
        assert f"I take the head as {told}." in said["say"]
        assert said["question"] == "yarn"


BAD_LINES: tuple[str | bytes, ...] = (
    "",
    "   ",
    "xyzzy",
    "measured",
    "across forty grams",
    "across zero",
    "around minus four",
    "count nine hundred",
    "count 0",
    "ripped back ninety",
    "yes",
    "no sets",
    "forty sets",
    "ninety nine",
    "\x1b[2J",
    "ne\x00xt",
    b"\xff\xfe next",
    b"next " * 2500,
    "brim two",
    "across 99999",
    "help with nothing",
    "change the head to 2 cm",
    "change the head to nine thousand cm",
    "change the start to ten thousand",
    "'; --",
)


def test_bad_input_gets_one_sentence_and_changes_nothing(tmp_path: Path) -> None:
    said = replies(tmp_path, *["next"] * 4, *BAD_LINES)
    before = {key: said[4][key] for key in FIELDS if key not in {"say", "verdict", "asks"}}
    for line, each in zip(BAD_LINES, said[5:], strict=True):
        assert {key: each[key] for key in before} == before, line
        assert line == "measured" or each["verdict"] in {"refused", "asked"}, line
        assert each["asks"] == ("confirm" if each["verdict"] == "asked" else said[4]["asks"]), line
        assert len(each["say"].split()) < 40, line
    before_file = (tmp_path / "test.jsonl").read_bytes()
    assert before_file.count(b"\n") == 5


def test_the_attention_words_may_be_typed_too(tmp_path: Path) -> None:
    plain = replies(tmp_path / "plain", "next", "count twelve", "note a knot")
    called = replies(
        tmp_path / "called", "listen basket, next", "Listen  basket: count twelve", "note a knot"
    )
    assert called == plain
    own = replies(
        tmp_path / "own", "purple teapot next", options=(*HAT, "--attention", "purple teapot")
    )
    assert own[1] == plain[1]
    alone = replies(tmp_path / "alone", "listen basket", "note listen basket")
    assert alone[1]["say"].startswith("I heard nothing;")
    assert alone[1]["verdict"] == "refused"
    assert "listen basket" in alone[2]["say"]


def test_the_odd_lines_have_sentences_of_their_own(tmp_path: Path) -> None:
    odd: tuple[str | bytes, ...] = ("", "xyzzy", "\x1b[2J", b"\xff", b"next " * 2500)
    said = replies(tmp_path, *odd)
    assert len({each["say"] for each in said[1:]}) == len(odd)
    assert {each["verdict"] for each in said[1:]} == {"refused"}


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (("--head", "22cm"), "head"),
        (("--head", "22"), None),
        (("--head", "22", "--unit", "cm"), "inch"),
        (("--head", "56", "--unit", "in"), "centimetre"),
        (("--hook", "90"), "hook"),
        (("--age", "200"), "age"),
        (("--stash", "6in"), "grams"),
        (("--ball-metres", "0"), "ball"),
        (("--stitch", "purl"), "stitch"),
        (("--brim", "9 m"), "inches"),
        (("--rate", "300"), "220"),
        (("--rate", "0"), "120"),
        (("--rate", "fast"), "120"),
    ],
)
def test_an_option_that_makes_no_sense_is_one_sentence(
    tmp_path: Path, options: tuple[str, ...], word: str | None
) -> None:
    place = ("--folder", str(tmp_path), "--piece", "x")
    done = ended(["call", "--typed", "--json", *place, *options], b"")
    assert (done.code == 0) == (word is None)
    assert done.err.count("\n") == (word is not None)
    assert (word or "") in done.err


def test_a_resumed_piece_opens_with_where_it_was(tmp_path: Path) -> None:
    first = replies(tmp_path, *["next"] * 7, "three sets")
    again = replies(tmp_path, "undo", "undo", "undo")
    assert again[0]["round"] == first[-1]["round"]
    assert "Round eight" in again[0]["say"]
    assert "Three of" in again[0]["say"]
    assert again[-1]["round"] == first[-1]["round"] - 2


def test_end_of_input_in_the_interview_keeps_the_answers(tmp_path: Path) -> None:
    replies(tmp_path, "centimetres", "us", "54", options=())
    assert "class of yarn" in replies(tmp_path, options=())[0]["say"]


def test_a_killed_program_has_kept_all_that_it_answered(tmp_path: Path) -> None:
    args = program("call", "--typed", "--json", "--folder", str(tmp_path), "--piece", "test", *HAT)
    with subprocess.Popen(args, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdout.readline()
        for _ in range(5):
            child.stdin.write(b"next\n")
            child.stdin.flush()
            last = json.loads(child.stdout.readline())
        child.send_signal(signal.SIGKILL)
    assert replies(tmp_path)[0]["round"] == last["round"] == 6


def test_a_torn_last_line_is_dropped_and_said(tmp_path: Path) -> None:
    replies(tmp_path, "next", "next")
    file = tmp_path / "test.jsonl"
    file.write_bytes(file.read_bytes()[:-9])
    opened = replies(tmp_path)[0]
    assert opened["round"] == 2
    assert "were not kept" in opened["say"]


def test_two_callers_on_one_piece(tmp_path: Path) -> None:
    args = program("call", "--typed", "--json", "--folder", str(tmp_path), "--piece", "test", *HAT)
    with subprocess.Popen(args, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT) as child:
        assert child.stdout is not None
        child.stdout.readline()
        second = run(*args[3:])
        child.kill()
    assert second.returncode == 1
    assert re.fullmatch(rb"[^\n]* open in another call[^\n]*\n", second.stderr)


def test_damage_is_refused_with_its_line_and_the_file_is_kept(tmp_path: Path) -> None:
    replies(tmp_path, "next", "next", "next")
    file = tmp_path / "test.jsonl"
    lines = file.read_bytes().splitlines(keepends=True)
    lines[1] = lines[1].replace(b"Round", b"Rouno", 1)
    file.write_bytes(b"".join(lines))
    done = run("call", "--typed", "--folder", str(tmp_path), "--piece", "test")
    assert done.returncode == 1
    assert b"Line 2 of" in done.stderr
    assert file.read_bytes() == b"".join(lines)


class FullDisk(FileIO):
    """A file whose writes go to a disk that is always full: full(4)."""

    def write(self, data: Any, /) -> int:  # noqa: ANN401 (as in the class above it)
        with Path("/dev/full").open("wb", buffering=0) as full:
            return full.write(data)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a disk that is always full")
def test_a_full_disk_is_told_and_nothing_changes(tmp_path: Path) -> None:
    from pattern.journal.journal import Journal
    from pattern.session.history import CODEC
    from voice.caller.caller import Caller

    with Journal.open(tmp_path, "full", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        state, whole = caller.state, journal._file.raw
        with FullDisk(tmp_path / "full.jsonl", "a+") as full:
            journal._file.raw = full
            reply = caller.hear("centimetres")
        journal._file.raw = whole
        assert "cannot be written" in reply.say
        assert caller.state is state
        assert caller.hear("centimetres").say.startswith("Centimetres.")


def test_pieces_and_writeup_of_what_is_kept(tmp_path: Path) -> None:
    replies(tmp_path, *["next"] * 9, "around 38.5 cm", piece="garden hat")
    listed = run("pieces", "--folder", str(tmp_path)).stdout.decode()
    assert listed.startswith("garden hat: Round ten, the crown.")
    command = ("writeup", "garden hat", "--folder", str(tmp_path), "--with-readings")
    written = run(*command).stdout.decode()
    assert "pattern as made so far" in written
    assert "38.5 cm" in written
    missing = run("writeup", "other", "--folder", str(tmp_path))
    assert missing.returncode == 1
    assert missing.stderr.count(b"\n") == 1


def test_without_a_name_the_last_unfinished_piece_goes_on(tmp_path: Path) -> None:
    where = ("--typed", "--folder", str(tmp_path))
    begun = run("call", *where, *HAT, typed=b"next\nnext\n").stdout.decode()
    assert begun.startswith("The piece is called hat 1.")
    again = run("call", *where, typed=b"").stdout.decode()
    assert "Welcome back. Round three" in again
    assert run("call", *where, *HAT).stdout.decode().startswith("The piece is called hat 2.")


def test_plan_prints_the_whole_piece() -> None:
    said = run("plan", *HAT, "--brim", "no", "--terms", "uk", "--age", "4").stdout.decode()
    for part in ("Gauge:", "Round 1:", "double crochet", "Check:", "No cords"):
        assert part in " ".join(said.split())
    data = json.loads(run("plan", *HAT, "--json").stdout)
    assert data["terms"] == "us"
    assert [section["heading"] for section in data["sections"]]


def test_every_phrase_of_the_table_is_answered(tmp_path: Path) -> None:
    said = [
        example(form)
        for phrase in PHRASES
        for form in phrase.forms
        if example(form) not in {"leave", "goodbye"}
        and "leave" not in form
        and "that's all" not in form
    ]
    answers = replies(tmp_path, *["next"] * 4, *said)
    assert len(answers) == len(said) + 5
    for words, each in zip(said, answers[5:], strict=True):
        assert not each["say"].startswith("I did not understand"), words


def test_the_dialogue_of_the_readme_is_what_the_program_says(tmp_path: Path) -> None:
    """The others are looked at in one process, see tests/test_documents.py."""
    lines = dialogues.turns((ROOT / "README.md").read_text(encoding="utf-8"))
    said = replies(tmp_path, *(maker for maker, _ in lines), options=())
    assert [each["say"] for each in said[1:]] == [caller for _, caller in lines]


def test_output_that_nobody_reads_any_more_is_no_traceback() -> None:
    args = program("plan", *HAT)
    with subprocess.Popen(args, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        child.stdout.close()
        assert b"Traceback" not in child.stderr.read()
