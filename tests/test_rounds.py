"""Rounds: places that are easy to hear and even enough, recipes, and counts through a session."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.repeats import Recipe, recipe
from pattern.shape.rounds import Round, Stage, easy_gaps, spaced_round
from tests.openings import opening

SHIFTS = st.sampled_from((0.0, 0.25, 0.5, 0.75))


@st.composite
def spaced(draw: st.DrawFn) -> Round:
    """A round with increases, with decreases or plain, shifted or not."""
    before = draw(st.integers(1, 200))
    change = draw(st.integers(-(before // 2), before))
    return spaced_round(7, Stage.CROWN, before, change, draw(SHIFTS))


@st.composite
def older(draw: st.DrawFn) -> Round:
    """A round as a journal of any age may hold it: its places lie anywhere."""
    used, sign = draw(st.sampled_from(((1, 1), (2, -1))))
    gaps = draw(st.lists(st.integers(used, 6), min_size=1, max_size=24))
    lead = draw(st.integers(0, min(gaps) - used))
    places = [lead]
    for gap in gaps[:-1]:
        places.append(places[-1] + gap)
    before = sum(gaps) + draw(st.integers(0, 30))
    return Round(7, Stage.CROWN, before, before + sign * len(gaps), tuple(places))


@st.composite
def cut(draw: st.DrawFn) -> Round:
    """Any such round, perhaps cut after some sets."""
    round_ = draw(spaced() | older())
    return round_.cut_after(draw(st.integers(0, round_.sets)))


def worked(said: Recipe, decreasing: bool) -> tuple[int, int]:
    """Stitches used up and stitches made by a recipe, hand over hand as it is said."""
    used = made = 0
    for group in said.groups:
        for repeat in list(group.repeats) * group.times:
            for _ in range(repeat.times):
                assert repeat.plain >= said.lead
                used += repeat.plain + (2 if decreasing else 1)
                made += repeat.plain + (1 if decreasing else 2)
    return used + said.tail, made + said.tail


@given(st.integers(1, 300).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, n))))
def test_repeats_are_alike_and_no_more_than_one_of_them_is_left_over(
    case: tuple[int, int],
) -> None:
    """Lengths differ from an even share by less than one stitch; two kinds only where the stitches
    left over would be more than a repeat.
    """
    total, count = case
    gaps = easy_gaps(total, count)
    assert len(gaps) == count
    assert all(abs(gap - total / count) < 1 for gap in gaps)
    assert gaps == sorted(gaps, reverse=True), "at most two runs"
    left = total - sum(gaps)
    assert 0 <= left <= gaps[-1]
    assert len(set(gaps)) == 1 or (left == 0 and total % count > total // count)


@given(st.integers(0, 50), st.integers(-5, 60))
def test_no_gaps_without_room(total: int, count: int) -> None:
    if 0 < count <= total:
        assert len(easy_gaps(total, count)) == count
    else:
        with pytest.raises(ValueError, match="repeats in"):
            easy_gaps(total, count)


@given(spaced())
def test_places_are_in_the_round_and_apart(round_: Round) -> None:
    """Every increase has a stitch of its own, every decrease two: a fact of the trade."""
    used = 2 if round_.decreasing else 1
    assert all(0 <= place <= round_.before - used for place in round_.places)
    gaps = [after - before for before, after in pairwise(round_.places)]
    assert all(gap >= used for gap in gaps)
    assert not gaps or max(gaps) - min(gaps) <= 1


@given(spaced())
def test_counts(round_: Round) -> None:
    """An increase adds one stitch and a decrease takes one: a fact of the trade."""
    sign = -1 if round_.decreasing else 1
    assert round_.after == round_.before + sign * round_.sets


def places_of(said: Recipe, decreasing: bool) -> tuple[int, ...]:
    """The places that a recipe means."""
    used, at, places = (2 if decreasing else 1), 0, []
    for group in said.groups:
        for repeat in group.repeats * group.times:
            for _ in range(repeat.times):
                places.append(at + said.lead)
                at += used + repeat.plain
    return tuple(places)


@given(spaced())
def test_a_round_is_one_repeat_or_two_and_none_within_another(round_: Round) -> None:
    """Two only without a shift, and where what is left would be more than a repeat."""
    said = recipe(round_)
    assert all(group.times == 1 and len(group.repeats) == 1 for group in said.groups)
    assert len(said.groups) <= 2
    assert len(said.groups) < 2 or (said.lead == 0 and said.tail == 0)


@given(cut())
def test_recipe_gives_the_places_back(round_: Round) -> None:
    assert places_of(recipe(round_), round_.decreasing) == round_.places


@given(cut())
def test_recipe_uses_the_round_up(round_: Round) -> None:
    """The recipe worked as it is said, stitch by stitch, comes to the counts of the round."""
    assert worked(recipe(round_), round_.decreasing) == (round_.before, round_.after)


@given(cut())
def test_sets_use_up_the_round_in_order(round_: Round) -> None:
    """Each repeat uses up its stitches; the last one ends the round."""
    used = [round_.worked_after(sets) for sets in range(round_.sets + 1)]
    assert used == sorted(used)
    assert used[0] == 0
    if round_.sets:
        assert used[-1] == round_.before
        lead = recipe(round_).lead
        assert tuple(at + lead for at in used[:-1]) == round_.places


@given(spaced(), st.data())
def test_cutting_keeps_the_first_sets(round_: Round, data: st.DataObject) -> None:
    sets = data.draw(st.integers(0, round_.sets))
    short = round_.cut_after(sets)
    assert short.places == round_.places[:sets]
    assert abs(short.after - short.before) == sets
    assert short.before == round_.before


@given(
    st.integers(2, 200).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, n // 2))),
    st.sampled_from((0.25, 0.5, 0.75)),
)
def test_shifted_increases_do_not_stack(case: tuple[int, int], shift: float) -> None:
    """Common practice, no source: the start is shifted where a repeat has a plain stitch."""
    before, count = case
    plain = spaced_round(1, Stage.CROWN, before, count)
    shifted = spaced_round(1, Stage.CROWN, before, count, shift)
    one_kind = len(set(easy_gaps(before, count))) == 1
    assert not one_kind or not set(plain.places) & set(shifted.places)


@given(st.integers(1, 100), st.integers(1, 60))
def test_more_changes_than_the_round_holds(before: int, extra: int) -> None:
    with pytest.raises(ValueError, match="repeats in"):
        spaced_round(1, Stage.CROWN, before, before + extra)
    with pytest.raises(ValueError, match=r"decreases among|repeats in"):
        spaced_round(1, Stage.CROWN, before, -(before // 2) - extra)


@pytest.mark.parametrize(("stitch", "start"), [("single", 8), ("single", 6), ("double", 12)])
def test_flat_counts_through_a_session(stitch: str, start: int) -> None:
    """So many more each round: 8, 16 .. 80 in ten rounds of 8. Common practice, no source."""
    answers = {"head_mm": 720, "yarn": 4, "hook_mm": 4.0, "stitch": stitch, "start": start}
    state = fold(State(), opening(State(), answers))
    target = round(720 / state.piece.gauge.width_mm)
    rounds = min(10, target // start)
    for _ in range(rounds):
        state = fold(state, decide(state, c.Next()))
    counts = [made.round.after for made in state.rounds_made()][::-1]
    assert counts == list(range(start, start * rounds + 1, start))
    assert rounds == (10 if stitch == "single" else 9)
