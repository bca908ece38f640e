"""Other hands, a new ball, a piece put down for a week: what is told, noted, and measured again."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import decide, taken_up
from pattern.session.folding import fold
from pattern.session.history import CODEC
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.edition import Edition
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.hats import why_refused
from tests.pieces import NEXT, begun, told
from voice.caller.caller import Caller
from voice.sentences.reply import reply
from voice.words.phrases import read


def measured(rounds: int = 8) -> State:
    state = told(begun(unit="centimeter"), *[NEXT] * rounds)
    girth = Amount(round(state.piece.stitches * state.piece.gauge.width_mm), 1.0, Unit.MM)
    return told(state, c.Measured(girth, Kind.AROUND), c.Choose("unit", "centimeter"))


def answer(state: State, command: c.Command) -> str:
    turn = decide(state, command)
    return reply(state, command, turn, fold(state, turn))


def width_sd(state: State) -> float:
    return state.piece.gauge.of((1.0, 0.0, 0.0)).sd


def test_other_hands_widen_more_than_a_break_or_a_change_of_tension() -> None:
    state = measured()
    other = told(state, c.OtherHands())
    assert width_sd(other) > width_sd(told(state, c.Tension()))
    assert width_sd(other) > width_sd(fold(state, taken_up(state, 30.0)))
    assert other.piece.gauge.mean == state.piece.gauge.mean
    assert told(other, c.Undo()).piece.gauge == state.piece.gauge


def test_other_hands_are_measured_when_their_stitches_show() -> None:
    state = told(measured(), c.OtherHands())
    wants = []
    for _ in range(4):
        state = told(state, NEXT)
        wants.append(state.want is not None and state.want.kind is Kind.AROUND)
    assert wants[:2] == [False, True]
    assert state.recheck == 0


@pytest.mark.parametrize(
    ("command", "note"),
    [
        (c.NewBall(), "new ball"),
        (c.OtherHands(), "somebody else goes on"),
        (c.Change("hook_mm", Amount(4.5, 0.1)), "a 4.5 mm hook from here on"),
    ],
)
def test_it_is_written_up_with_its_round(command: c.Command, note: str) -> None:
    state = told(measured(), command)
    assert f"Round 9: {note}" in as_text(as_made(state, "Test", Edition(as_worked=True)), 200)
    assert not told(state, c.Undo()).notes


def test_a_mended_hook_is_noted_as_mended() -> None:
    state = told(measured(), c.Change("hook_mm", Amount(4.0)), c.No(Amount(4.5, 0.5)))
    assert [note.text for note in state.notes] == ["a 4.5 mm hook from here on"]


def test_a_new_ball_is_told_where_and_with_what_tails() -> None:
    said = answer(measured(), c.NewBall())
    assert said.startswith("Fifteen centimetres of tail")
    assert "between two increases" in said
    assert "Noted at round nine: new ball." in said
    inches = told(measured(), c.Choose("unit", "inch"))
    assert answer(inches, c.NewBall()).startswith("Six inches of tail")
    brief = told(measured(), c.Wording(brief=True))
    assert answer(brief, c.NewBall()) == "Noted at round nine: new ball."


@pytest.mark.parametrize("command", [c.NewBall(), c.OtherHands()])
def test_where_nothing_is_worked_it_makes_no_sense(command: c.Command) -> None:
    assert why_refused(State(), command) is Reason.STILL_SETUP


def test_after_a_week_it_says_place_look_and_last_reading(tmp_path: Path) -> None:
    now = [datetime(2026, 3, 1, 18, 30, tzinfo=UTC)]

    def opened(*words: str) -> str:
        with Journal.open(tmp_path, "hat", CODEC) as journal:
            caller = Caller(journal, lambda: now[0])
            first = caller.open([c.HeadOf(), c.Choose("yarn", 4), c.Change("hook_mm", Amount(5))])
            for said in words:
                caller.hear(said)
            return first.say

    opened("centimetres", *["next"] * 9, "around 36 cm")
    now[0] += timedelta(days=7)
    said = opened()
    assert "It has been seven days. It should lie flat, about " in said
    assert "Round ten, the crown." in said
    assert "Last reading: thirty six around" in said


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("new ball", c.NewBall()),
        ("The ball is empty.", c.NewBall()),
        ("somebody else goes on", c.OtherHands()),
        ("note new ball here", c.Note("new ball here")),
    ],
)
def test_what_makers_say(said: str, command: c.Command) -> None:
    assert read(said) == command


def test_a_pattern_says_where_the_hook_changes() -> None:
    """Without the notes too: whoever works from it needs the hook."""
    state = told(measured(), c.Change("hook_mm", Amount(4.5, 0.1)), *[c.Next()] * 3)
    text = as_text(as_made(state, "Test"), 400)
    before, change, after = text.partition("Change to a hook of 4.5 mm (US 7).")
    assert change
    assert "Round 8: " in before
    assert after.strip().startswith("Round 9: ")
    assert "Hook: 5 mm (US H-8) for rounds 1 to 8, 4.5 mm (US 7) from round 9 on" in before
