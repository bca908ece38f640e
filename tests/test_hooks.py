"""Another hook: which way and how far, and what happens when it is taken in the middle."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.gauge.prior import HOOK_POWER
from pattern.plan.hooks import hook_for_usual, next_size, off_usual, stitches_needed, wider_by
from pattern.plan.piece import depth_at
from pattern.session import commands as c
from pattern.session.commands import Cloth, Kind
from pattern.session.decisions import decide
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from pattern.trade.yarns_and_hooks import HOOKS_MM
from tests.pieces import NEXT, begun, told
from voice.sentences import hook
from voice.sentences.reply import reply
from voice.words.phrases import read


def with_hook(size: float) -> c.Change:
    return c.Change("hook_mm", Amount(size))


def around(state: State, factor: float) -> c.Measured:
    girth = factor * state.piece.stitches * state.piece.gauge.width_mm
    return c.Measured(Amount(round(girth), 1.0, Unit.MM), Kind.AROUND)


@given(st.floats(1.5, 25.0), st.booleans())
def test_the_next_size_is_the_nearest_of_those_sold(size: float, larger: bool) -> None:
    found = next_size(size, larger=larger)
    beyond = [one for one in HOOKS_MM if (one > size if larger else one < size)]
    assert found == (min(beyond, key=lambda one: abs(one - size)) if beyond else None)


def test_hooks_are_named_as_they_are_said() -> None:
    assert hook.advice(Cloth.STIFF, begun(hook_mm=6.5)).startswith("An eight millimetre hook")
    assert read("I took an eight millimetre hook") == c.Change("hook_mm", Amount(8.0, unit=Unit.MM))


def test_outside_the_hooks_of_the_class_the_law_is_the_power() -> None:
    settings = begun(hook_mm=4.0).settings  # class 4 lists 5.5 to 6.5 mm
    assert wider_by(settings, 5.0) == pytest.approx((5 / 4) ** HOOK_POWER)


@given(st.sampled_from(Cloth))
def test_gaps_want_a_smaller_hook_and_more_stitches(cloth: Cloth) -> None:
    state = begun(hook_mm=5.0)
    said = hook.advice(cloth, state)
    assert said.startswith("A four and a half" if cloth is Cloth.GAPS else "A five and a half")
    assert ("narrower" if cloth is Cloth.GAPS else "wider") in said
    size = next_size(5.0, larger=cloth is Cloth.STIFF)
    assert size is not None
    more = stitches_needed(state.piece, wider_by(state.settings, size))
    assert (more > stitches_needed(state.piece)) is (cloth is Cloth.GAPS)


def test_at_the_end_of_the_table_there_is_no_further_hook() -> None:
    assert "thicker yarn" in hook.advice(Cloth.GAPS, begun(hook_mm=HOOKS_MM[0]))
    assert "thinner yarn" in hook.advice(Cloth.STIFF, begun(hook_mm=HOOKS_MM[-1]))


@pytest.mark.parametrize("factor", [0.75, 1.3])
def test_a_stitch_far_from_the_class_is_told_and_the_hook_that_mends_it(factor: float) -> None:
    state = told(begun(), *[NEXT] * 8)
    assert off_usual(state.piece) is None
    command = around(state, factor)
    after = told(state, command, c.Yes())
    off = off_usual(after.piece)
    assert off is not None
    assert abs(off - factor) < 0.05
    size = hook_for_usual(after.piece)
    assert abs(off * wider_by(after.settings, size) - 1) < abs(off - 1)
    assert abs(HOOKS_MM.index(size) - HOOKS_MM.index(after.settings.hook)) <= 2
    said = hook.which(after)
    assert ("wider" if factor > 1 else "narrower") in said.partition(".")[0]
    assert "which hook" in hook.found_far(state, after)
    assert not hook.found_far(after, after)


def test_a_hook_taken_in_the_crown_scales_the_gauge_and_wants_a_reading() -> None:
    state = told(begun(), *[NEXT] * 8)
    state = told(state, around(state, 1.0), NEXT)
    taken = with_hook(4.0)
    after = told(state, taken)
    ratio = wider_by(state.settings, 4.0)
    before = state.piece.gauge
    assert after.piece.gauge.width_mm == pytest.approx(before.width_mm * ratio)
    sd = after.piece.gauge.of((1.0, 0.0, 0.0)).sd
    assert sd > before.of((1.0, 0.0, 0.0)).sd * ratio
    assert "after two rounds" in reply(state, taken, decide(state, taken), after)
    assert after.want is None, "the edge still shows the old hook"
    one = told(after, NEXT)
    assert one.want is None or one.want.kind is not Kind.AROUND
    two = told(one, NEXT)
    assert two.want is not None
    assert two.want.kind is Kind.AROUND
    assert two.recheck == 0
    assert told(after, c.Undo()).recheck == 0


@pytest.mark.parametrize("size", [4.0, 6.0])
def test_what_is_worked_stays_as_deep_as_it_is(size: float) -> None:
    state = told(begun(), *[NEXT] * 9)
    after = told(state, with_hook(size))
    before = depth_at(state.piece, state.piece.finished).mean
    assert depth_at(after.piece, after.piece.finished).mean == pytest.approx(before)
    two = told(after, NEXT, NEXT)
    again = told(two, around(two, 1.0))
    grown = before + 2 * again.piece.gauge.height_mm
    assert depth_at(again.piece, again.piece.finished).mean == pytest.approx(grown, rel=0.05)


def test_before_the_first_stitch_nothing_is_to_be_measured() -> None:
    assert told(begun(), with_hook(4.0)).recheck == 0


def test_sides_are_not_corrected_by_a_reading_of_the_old_hook() -> None:
    state = begun()
    while state.piece.side_rounds < 3:
        state = told(state, c.Skip(), NEXT)
    state = told(state, around(state, 1.0))
    after = told(state, with_hook(4.0))
    assert after.offered is not None
    assert after.offered.stage is Stage.SIDES
    assert not after.offered.places
    assert math.isclose(
        after.piece.gauge.width_mm / state.piece.gauge.width_mm, wider_by(state.settings, 4.0)
    )


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("I took a five millimetre hook", c.Change("hook_mm", Amount(5.0, unit=Unit.MM))),
        ("I changed to a 4.5 mm hook", c.Change("hook_mm", Amount(4.5, 0.1, Unit.MM))),
        ("I see gaps", c.Fabric(Cloth.GAPS)),
        ("It's stiff", c.Fabric(Cloth.STIFF)),
        ("which hook", c.Ask(c.Asked.HOOK)),
    ],
)
def test_what_makers_say_of_hooks(said: str, command: c.Command) -> None:
    assert read(said) == command


def test_the_usual_hook_taken_in_the_middle_is_noted_by_its_size() -> None:
    state = told(begun(hook_mm=5.0), *[NEXT] * 3, c.Choose("hook_mm", None))
    assert state.settings.hook_mm is None
    assert state.notes[-1].text == f"a {state.settings.hook:g} mm hook from here on"
