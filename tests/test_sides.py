"""The band at the head: what is made up for in it, and when it gets one more round."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from pattern import commands as c
from pattern.gauge import LOOSENED
from pattern.piece import Piece, left_in, loosens, target
from pattern.rounds import Stage
from pattern.settings import Settings
from pattern.sides import (
    BAND_MISFITS_MM,
    CORRECT_AT_MOST,
    FIT_STEPS,
    PAST_MM,
    TOO_DEEP,
    correction,
    sides_over,
)
from tests.hats import begun, exactly, said, until

WIDTHS, OVER = st.floats(5, 10), st.integers(-8, 8)
ROUNDS = 3


def deep(width: float, left: float, band: tuple[int, ...]) -> Piece:
    """Sides of a hat of 55 cm, so many rounds short of their depth, measured at their edge."""
    height = 20.0 / ROUNDS
    settings = Settings(head_mm=550.0, depth_mm=200.0)
    finished = 26
    gauge = exactly(width, height, 200.0 - (finished + left) * height)
    return Piece(settings, gauge, Stage.SIDES, finished, band[-1], (14, 12), (band[0],),
                 sides_known=True, band=band)  # fmt: skip


@given(WIDTHS, OVER)
def test_what_is_left_of_the_band_makes_up_for_its_beginning(width: float, over: int) -> None:
    """Two rounds of three are worked and off alike: the third goes past the girth the other way, by
    PAST_MM at the most, and to half a stitch.
    """
    fits = 550.0 / width
    stitches = round(fits) + over
    piece = deep(width, 1.0, (stitches,) * 3)
    most = stitches // CORRECT_AT_MOST
    half = FIT_STEPS * width + 1e-6
    girth, capped = (stitches + correction(piece)) * width, abs(correction(piece)) == most
    other_way = (girth - 550.0) * (-1 if stitches > fits else 1)
    assert -half <= other_way <= PAST_MM + half or (capped and other_way < 0)
    if abs(stitches * width - 550.0) <= most * width:
        assert -half <= other_way <= PAST_MM + half


@given(WIDTHS, OVER, st.floats(-2, 0.4))
def test_a_band_that_is_off_gets_one_more_round(width: float, over: int, left: float) -> None:
    """Where its edge fits already, so that a round more betters it, and it is not far too deep."""
    fits = round(550.0 / width)
    piece = deep(width, left, (fits + over, fits + over, fits))
    mean_off = (2 * (fits + over) + fits) / 3 * width - 550.0
    edge_off = abs(fits * width - 550.0)
    more = abs(mean_off) > max(BAND_MISFITS_MM, edge_off) and left_in(piece, 1).mean > -TOO_DEEP
    assert sides_over(piece, 1) is not more
    assert sides_over(replace(piece, band=(fits,) * 3), 1)


@given(st.integers(1, 3))
def test_looser_sides_are_taken_back_with_their_round(rounds: int) -> None:
    """A dome that short sides follow ends narrower; ripping them out leaves the dome as it was."""
    state = until(lambda now: now.piece.side_rounds == 1, begun(shape="close cap", depth_mm=160.0))
    dome = state.made.before if state.made is not None else state.piece
    assert loosens(dome, 0)
    plain = round(dome.stretches[0].end_girth_mm / dome.gauge.width_mm)
    assert abs(target(dome, 0) * (1 + LOOSENED) - plain) <= 1
    assert state.piece.gauge.width_mm > dome.gauge.width_mm
    ripped = said(state, c.RippedBack(rounds))
    for ours, before in zip(ripped.piece.gauge.mean, dome.gauge.mean, strict=True):
        assert abs(ours - before) < 1e-9
