"""Every piece ends, whatever is asked for: plans, and calls by hands of another gauge."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pattern.errors import NeverEnds
from pattern.forecast import rest_of_piece
from pattern.forecast.rest_of_piece import (
    piece_planned,
    planned_end,
    rounds_ahead,
    rounds_made,
)
from pattern.plan.misfits import misfits
from pattern.plan.next_round import most_rounds
from pattern.plan.part_ends import target
from pattern.plan.sides import FITS_MM
from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.next_offer import WORKING
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.narrowest import CLOSES_AT
from pattern.shape.rounds import Round, Stage
from pattern.trade.lengths import Amount, Unit
from tests.any_call import Call, at_most, begun, worked
from tests.any_plan import any_answers
from tests.closing_shapes import BERET, POUCH, TUBE
from tests.properties import examples
from voice.sentences.refusals import refusal

MANY = 400
"""Pieces of more rounds than this are left to the bench, as they take long."""
RANDOM = st.randoms(use_true_random=False) | st.integers(0, 2**32).map(Random)


def any_piece(rng: Random) -> State:
    state = begun(any_answers(rng))
    assume(at_most(state) <= MANY)
    return state


def by_next(state: State, most: int) -> list[Round]:
    """The rounds of a call in which nothing is measured."""
    before = state.piece.finished
    for _ in range(3 * most + 3):
        if state.stage not in WORKING:
            return list(rounds_made(state))[before:]
        aside = state.doubt is not None or state.want is not None
        state = fold(state, decide(state, c.Skip() if aside else c.Next()))
    raise AssertionError(f"no end after {state.piece.finished} rounds")


@given(RANDOM)
def test_every_plan_ends_where_a_call_does(rng: Random) -> None:
    """Also no part goes on after its length and its changes are done; each round can be worked."""
    state = any_piece(rng)
    most = most_rounds(state.piece)
    ahead_ = rounds_ahead(state)
    assert len(ahead_) <= most
    assert list(ahead_) == by_next(state, most)
    end = planned_end(state)
    assert ahead_ == rounds_made(end)
    assert piece_planned(state) == end.piece
    for before, after in pairwise(ahead_):
        assert after.before == before.after
        assert after.after >= min(before.after, CLOSES_AT, state.settings.increases)


@given(RANDOM)
def test_every_call_ends(rng: Random) -> None:
    """Hands whose stitch is up to a third wider or higher, or less, and readings given when asked
    for and when not: after the last of them no more rounds follow than the lengths need.
    """
    call = worked(Call(rng, any_piece(rng)))
    assert call.state.stage is Stage.FINISHING


@settings(max_examples=examples(40))
@given(RANDOM)
def test_what_is_no_misfit_is_as_narrow_as_asked(rng: Random) -> None:
    """A part that ends at a girth has it, within half a stitch or 1 cm, or is told of."""
    state = any_piece(rng)
    told = {found.part: found for found in misfits(state.piece)}
    end = planned_end(state).piece
    rounds = rounds_ahead(state)
    for part, stretch in enumerate(end.stretches):
        if stretch.stage is not Stage.TAPER:
            continue
        edge = [one.after for one in rounds if one.part == part][-1]
        width = end.gauge.width_mm
        if part in told:
            assert edge == told[part].stitches <= CLOSES_AT
        else:
            assert abs(edge - target(end, part)) * width <= max(FITS_MM, width) + width / 2


@pytest.mark.parametrize(
    ("answers", "stitches"),
    [
        (BERET, 22),
        ({"shape": POUCH, "yarn": 4, "hook_mm": 5.0}, 6),
        ({"shape": TUBE, "yarn": 4, "hook_mm": 5.0}, 6),
        (
            {
                "shape": "brimmed hat",
                "head_mm": 280.0,
                "yarn": 6,
                "hook_mm": 12.0,
                "start": 24,
                "brim_mm": 0.0,
            },
            22,
        ),
        ({"shape": "close cap", "head_mm": 280.0, "yarn": 7, "hook_mm": 25.0, "start": 24}, None),
    ],
    ids=["beret", "pouch", "tube", "hat", "cap"],
)
def test_those_that_never_ended(answers: dict[str, object], stitches: int | None) -> None:
    """Where a ring has more stitches than the head takes, the sides take them out again."""
    state = begun(answers)
    rounds = rounds_ahead(state)
    assert len(rounds) <= 40
    assert stitches is None or rounds[-1].after == stitches


@pytest.mark.parametrize("worked_rounds", [1, 2, 5, 6])
@pytest.mark.parametrize("wanted", ["2 mm", "34 mm"])
def test_sides_are_never_narrowed_to_nothing(worked_rounds: int, wanted: str) -> None:
    """A tape around a tube that is wanted thinner than its stitches: none of them is taken out, and
    no round is worked anew in vain.
    """
    state = begun({"shape": TUBE.replace("2 mm", wanted), "yarn": 4, "hook_mm": 5.0})
    while state.piece.rounds_in(3) < worked_rounds:
        aside = state.doubt is not None or state.want is not None
        state = fold(state, decide(state, c.Skip() if aside else c.Next()))
    around = c.Measured(Amount(44.0, 1.0, Unit.MM), c.Kind.AROUND)
    state = fold(state, decide(state, around))
    state = fold(state, decide(state, c.Yes())) if state.doubt else state
    assert state.piece.rounds_in(3) == worked_rounds
    assert {one.after for one in by_next(state, 50)} <= {6}


def test_a_plan_past_its_bound_is_a_mistake_that_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The bound is what stops a plan, should a part of a shape to come never end."""
    monkeypatch.setattr(rest_of_piece, "most_rounds", lambda _piece: 3)
    state = begun({"head_mm": 560.0})
    rest_of_piece._worked_on.cache_clear()
    for plan in (rounds_ahead, planned_end):
        with pytest.raises(NeverEnds, match="no end by round 4"):
            plan(state)


def test_no_piece_is_longer_than_is_planned() -> None:
    """Nine parts of six girths of two metres across would be over three hundred metres of cloth."""
    long = POUCH + 9 * '[[part]]\nkind = "side"\nlength = 6\n'
    small = begun({"shape": long.replace("12 cm", "4 cm")})
    with pytest.raises(Refused) as refused:
        decide(small, c.Change("across_mm", Amount(200.0, unit=Unit.CM)))
    assert refused.value.reason is Reason.TOO_LONG
    assert refusal(refused.value, small.settings).startswith("That is more than ten metres of")
