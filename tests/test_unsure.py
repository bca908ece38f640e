"""Stitches by which the rest may differ: against the plan of rounds that are that much lower."""

from __future__ import annotations

from dataclasses import replace

import pytest

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.forecast.stitch_spread import stitches_unsure
from pattern.gauge.estimate import Gauge
from pattern.session.state import State
from tests.hats import begun, until


def with_height(state: State, relative: float, sd: float = 0.0) -> State:
    """The state with rounds `relative` times as high, known to within `sd`, relative."""
    width, height, ring = state.piece.gauge.mean
    rows = ((0.0,) * 3, (0.0, (sd * height) ** 2, 0.0), (0.0,) * 3)
    gauge = Gauge((width, relative * height, ring), rows)
    return replace(state, piece=replace(state.piece, gauge=gauge))


def stitches(state: State) -> int:
    return sum(round_.after for round_ in rounds_ahead(state))


def test_what_is_known_leaves_nothing_unsure() -> None:
    state = with_height(begun(), 1.0)
    assert stitches_unsure(state.piece, rounds_ahead(state)) == 0


@pytest.mark.parametrize("rounds", [1, 8, 12])
def test_it_is_what_lower_rounds_would_add(rounds: int) -> None:
    """A fine yarn, so that whole rounds hide little: half of the change from 10 % lower to 10 %
    higher rounds.
    """
    fine = begun(yarn=2, hook_mm=3.5, head_mm=560.0, brim_mm=60.0)
    state = until(lambda now: now.piece.finished == rounds, fine)
    unsure = with_height(state, 1.0, 0.1)
    spread = stitches_unsure(unsure.piece, rounds_ahead(unsure))
    change = (stitches(with_height(state, 0.9)) - stitches(with_height(state, 1.1))) / 2
    assert spread == pytest.approx(change, rel=0.25)
