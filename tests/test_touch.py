"""Measuring by touch: a string, fingers and the hand, each the reading that a tape would give."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.commands import Fit, Kind, OwnUnit
from pattern.session.next_piece import carried
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from tests.hats import begun, said, until, why_refused
from voice.sentences.reply import reply
from voice.words.phrases import read

PLAIN = {"head_mm": 560.0, "yarn": 5, "hook_mm": 6.0}
FINGER = c.OwnWidth(OwnUnit.FINGER, Amount(20.0, 1.0, Unit.MM))


def on_sides() -> State:
    state = until(lambda now: now.piece.side_rounds == 2, begun(**PLAIN))
    return replace(state, want=None)


def reading(state: State, *commands: c.Command) -> tuple[Kind, float, float]:
    after = said(state, *commands)
    after = said(after, c.Yes()) if after.doubt is not None else after
    assert after.taken is not None
    one = after.taken.reading
    return one.kind, one.value_mm, one.step_mm


@given(st.integers(0, 4), st.booleans(), st.integers(12, 28))
def test_a_string_is_a_reading_against_the_head(halves: int, long: bool, wide_mm: int) -> None:
    finger = c.OwnWidth(OwnUnit.FINGER, Amount(float(wide_mm), 1.0, Unit.MM))
    off = c.StringOff(Amount(halves / 2, 0.5), too_long=long, unit=OwnUnit.FINGER)
    kind, value_mm, step_mm = reading(on_sides(), finger, off)
    assert kind is Kind.AROUND
    assert value_mm == pytest.approx(560 + (-1 if long else 1) * halves / 2 * wide_mm)
    assert step_mm >= 10  # no finer than half a finger: common practice, no source


def test_lengths_are_told_in_fingers() -> None:
    crown = replace(until(lambda now: now.piece.finished == 6, begun(**PLAIN)), want=None)
    kind, value_mm, step_mm = reading(crown, FINGER, c.ByHand(Kind.ACROSS, Amount(5.0)))
    assert kind is Kind.ACROSS
    assert value_mm == pytest.approx(100)
    assert step_mm >= 10
    short = said(on_sides(), FINGER, c.ByHand(Kind.EDGE, Amount(2.0), fit=Fit.SHORT_BY))
    assert short.settings.depth_mm is not None
    assert "depth_mm" in short.fitted


@pytest.mark.parametrize("mm", [3.0, 60.0])
def test_no_finger_is_so_wide(mm: float) -> None:
    command = c.OwnWidth(OwnUnit.FINGER, Amount(mm, 1.0, Unit.MM))
    assert why_refused(begun(), command) is Reason.OWN_WIDTH


def test_widths_go_with_the_maker_to_the_next_piece_and_undo_leaves_them() -> None:
    state = said(on_sides(), FINGER, c.Measured(Amount(56.0, 0.5, Unit.CM), Kind.AROUND))
    state = said(state, c.Yes()) if state.doubt else state
    events = carried(state, "before")
    assert any(getattr(event, "width_mm", None) == 20.0 for event in events)
    assert said(state, c.Undo()).own.finger_mm == 20.0


@pytest.mark.parametrize(
    ("words", "command"),
    [
        ("the string is a finger too long", c.StringOff(Amount(1.0), True, OwnUnit.FINGER)),
        (
            "the string is two and a half fingers too short",
            c.StringOff(Amount(2.5, 0.5), False, OwnUnit.FINGER),
        ),
        ("my finger is eighteen millimetres", c.OwnWidth(OwnUnit.FINGER, Amount(18, 1, Unit.MM))),
        ("two fingers more", c.ByHand(Kind.EDGE, Amount(2.0), fit=Fit.SHORT_BY)),
    ],
)
def test_touch_is_said_plainly(words: str, command: c.Command) -> None:
    assert read(words) == command


WAYS = (
    Technique.STRING,
    Technique.OWN_HAND,
    Technique.PLATE,
    Technique.FOLDING,
    Technique.TAPE_BY_TOUCH,
)


@pytest.mark.parametrize("way", WAYS, ids=str)
def test_each_way_is_told_in_one_breath(way: Technique) -> None:
    state = on_sides()
    assert len(reply(state, c.Explain(way), (), state).split()) <= 50


def test_fingers_told_too_early_are_answered() -> None:
    crown = replace(until(lambda now: now.piece.finished == 6, begun(**PLAIN)), want=None)
    word = c.ByHand(Kind.EDGE, Amount(3.0), fit=Fit.SHORT_BY)
    assert "two or three straight rounds" in reply(crown, word, (), crown)
