"""Trying on a beret and a bucket hat, which have no straight sides of a depth that is asked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.piece import girth_of, left_in
from pattern.plan.trying_on import SITS_ROUNDS, girth_said_mm, reaches_head, sits_now
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Fit, Kind
from pattern.session.decisions import decide
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.shape.fits import FITS
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import begun, said, until
from voice.sentences.reply import reply

PLAIN = {"head_mm": 560.0, "yarn": 5, "hook_mm": 6.0}
BRIM = {"bucket hat": 60.0, "beret": None}
GIRTHS = [fit for fit, word in FITS.items() if word.kind is Kind.FIT and word.spread_mm]


def near_end(shape: str, left: float = SITS_ROUNDS) -> State:
    """A piece whose flaring sides, or whose band, end soon; nothing is asked."""
    stage = Stage.TAPER if shape == "bucket hat" else Stage.SIDES

    def come(now: State) -> bool:
        piece = now.piece
        return piece.stage is stage and left_in(piece, piece.index).mean < left

    state = until(come, begun(shape=shape, brim_mm=BRIM[shape], **PLAIN))
    return replace(state, want=None, doubt=None)


def told(state: State, fit: Fit) -> str:
    word = c.TriedOn(fit)
    return reply(state, word, decide(state, word), said(state, word))


@pytest.mark.parametrize("shape", ["bucket hat", "beret"])
@given(fit=st.sampled_from(GIRTHS))
def test_a_word_draws_the_girth_to_what_it_says(shape: str, fit: Fit) -> None:
    state = near_end(shape)
    stitches = state.piece.stitches
    before = girth_of(state.piece, stitches).mean
    after = girth_of(said(state, c.TriedOn(fit)).piece, stitches).mean
    wanted = girth_said_mm(state.settings, FITS[fit])
    assert abs(after - wanted) <= abs(before - wanted) + 1e-6


@pytest.mark.parametrize("shape", ["bucket hat", "beret"])
def test_too_tight_makes_the_rounds_that_are_left_wider(shape: str) -> None:
    state = near_end(shape)
    by = Amount(5.0, unit=Unit.CM)

    def end(word: c.TriedOn) -> float:
        now = said(state, word)
        sides = until(lambda at: at.stage in {Stage.BRIM, Stage.FINISHING}, replace(now, want=None))
        made = [made.round for made in sides.rounds_made() if made.round.stage is not Stage.BRIM]
        return made[0].after

    tight, right = end(c.TriedOn(Fit.TIGHT_BY, by)), end(c.TriedOn(Fit.RIGHT))
    assert tight > right > end(c.TriedOn(Fit.LOOSE_BY, by))


def test_where_a_bucket_hat_ends_settles_its_depth_and_the_brim_follows() -> None:
    state = near_end("bucket hat")
    after = said(state, c.TriedOn(Fit.DEEP))
    assert "depth_mm" in after.fitted
    assert after.offered is not None
    assert after.offered.stage is Stage.BRIM
    high = said(state, c.TriedOn(Fit.HIGH))
    assert high.settings.depth > state.settings.depth


def test_the_band_of_a_beret_ends_where_it_is_deep_enough() -> None:
    state = near_end("beret", 3.0)
    assert said(state, c.TriedOn(Fit.DEEP)).stage is Stage.FINISHING
    assert decide(state, c.TriedOn(Fit.AT_BROW)) == ()
    assert told(state, Fit.AT_BROW) == (
        "A beret is pulled to sit as you like. To end its band here, say deep enough."
    )


@pytest.mark.parametrize("fit", [Fit.TIGHT, Fit.SLIDES, Fit.AT_BROW])
def test_too_early_it_says_when(fit: Fit) -> None:
    for shape, when in (("bucket hat", "last two rounds of the sides"), ("beret", "on the band")):
        piece = begun(shape=shape, brim_mm=BRIM[shape], **PLAIN)
        state = until(lambda now: now.piece.stage is Stage.TAPER, piece)
        state = replace(state, want=None)
        assert when in told(state, fit)
        assert not any(isinstance(one, e.ReadingTaken) for one in decide(state, c.TriedOn(fit)))


def test_too_late_it_says_what_to_do() -> None:
    bucket = begun(shape="bucket hat", brim_mm=60.0, **PLAIN)
    state = replace(until(lambda now: now.piece.brim_rounds == 2, bucket), want=None)
    assert told(state, Fit.SLIDES).startswith("The sides are done: a ribbon or elastic inside")
    young = replace(
        state, piece=replace(state.piece, settings=replace(state.settings, age_years=4.0))
    )
    assert "elastic" not in told(young, Fit.SLIDES)
    assert told(young, Fit.SLIDES).startswith("The sides are done: a ribbon sewn flat inside")
    assert told(state, Fit.TIGHT).startswith("The sides are done: wet, it gives")
    assert "rip back" in told(state, Fit.BELOW)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.name)
def test_one_part_of_all_that_is_worn_reaches_the_head(shape: object) -> None:
    """A brim does not; of a beret it is the band and not the wider underside."""
    name = getattr(shape, "name", "")
    piece = begun(shape=name, **({"head_mm": 560.0} if name else {})).piece
    reaching = [part for part, _ in enumerate(piece.stretches) if reaches_head(piece, part)]
    assert len(reaching) == (1 if piece.settings.shape.for_head else 0)
    assert not sits_now(piece)


def test_without_a_tape_a_bucket_hat_is_tried_on() -> None:
    state = said(begun(shape="bucket hat", brim_mm=60.0, **PLAIN), c.TapeThere(there=False))
    kinds = set()
    while state.stage is not Stage.DONE:
        if state.want is not None:
            kinds.add(state.want.kind)
        open_ = state.want is not None or state.doubt is not None
        state = said(state, c.Skip() if open_ else c.Next())
    assert Kind.FIT in kinds
