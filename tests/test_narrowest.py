"""What cannot be as narrow as asked is said with what can, where it matters."""

from __future__ import annotations

from pathlib import Path

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.next_offer import WORKING
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_planned
from tests.any_call import begun
from tests.closing_shapes import BERET, POUCH, TUBE
from tests.test_call import run
from tests.wordings.places import said
from voice.sentences import misfits as words
from voice.sentences import opening
from voice.sentences.reply import reply


def closing() -> State:
    return begun({"unit": "centimeter", "shape": POUCH, "yarn": 4, "hook_mm": 5.0})


def test_what_it_closes_at_is_said_in_plan_and_write_up() -> None:
    """Six stitches of 7.2 mm (class 4 on a 5 mm hook) are 4.3 cm around, where 3 cm were asked."""
    closes = "The neck closes at six stitches, four point three centimetres around."
    assert closes in opening.plan(closing())
    assert closes in opening.whole_plan(closing())
    text = " ".join(as_text(as_planned(closing(), "Pouch")).split())
    assert "The neck closes at 6 sts, 4.3 cm around; 3 cm were asked for." in text
    assert not words.planned(begun({"head_mm": 560.0}).piece)


def test_what_a_ring_cannot_be_is_said_before_it_is_worked() -> None:
    state = begun({**BERET, "shape": "close cap", "unit": "centimeter"})
    said = opening.plan(state)
    assert "The dome begins with twenty four stitches, so it is at least thirty" in said
    assert "begin with fewer for a narrower one" in said


def test_what_it_closes_at_is_said_where_it_closes(tmp_path: Path) -> None:
    """The program itself, typed to: it used to go on with six plain stitches."""
    shape = tmp_path / "pouch.toml"
    shape.write_text(POUCH, encoding="utf-8")
    options = ("--shape", str(shape), "--yarn", "4", "--hook", "5", "--unit", "cm")
    typed = "\n".join(["begin", *["next"] * 60]) + "\n"
    done = run(
        "call", "--typed", "--folder", str(tmp_path), "--piece", "x", *options, typed=typed.encode()
    )
    assert done.returncode == 0
    (last,) = [line for line in done.stdout.decode().splitlines() if "the last round" in line]
    assert "It closes at six stitches, four point three centimetres around." in last


def test_and_where_the_next_part_begins() -> None:
    state, heard = begun({"shape": TUBE, "yarn": 4, "hook_mm": 5.0, "unit": "centimeter"}), ""
    while state.stage in WORKING:
        aside = state.doubt is not None or state.want is not None
        command = c.Skip() if aside else c.Next()
        turn = decide(state, command)
        heard += reply(state, command, turn, fold(state, turn)) + "\n"
        state = fold(state, turn)
    (line,) = [line for line in heard.splitlines() if "it closes at" in line]
    assert "it closes at six stitches, four point three centimetres around." in line
    assert line.startswith("Now the tube")


def test_the_brim_may_be_given_up_while_it_is_worked() -> None:
    """The part that was worked last is then none of the shape."""
    _, (reply,) = said("B", "no brim")
    assert reply.state.stage is Stage.FINISHING
    assert reply.say.startswith("No brim. That was the last round. Say next to finish.")
