"""Rounds of whole pieces: easy to hear, and their increases not above one another."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import groupby, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.plan.crown import EASIER, SLACKEST_FULL, TIGHTEST_FULL, crown_change, crown_target
from pattern.plan.piece import Piece, fullness
from pattern.shape.catalogue import SHAPES
from pattern.shape.easy import easiest
from pattern.shape.rounds import Round, Stage
from pattern.shape.settings import Settings
from tests.bench.makers import Maker
from tests.bench.wording import EASY_SHARE, LONGEST, Called, body, called_to, rounds_of
from tests.hats import exactly

MAKERS = 3


def test_nearly_all_rounds_are_easy_to_hear() -> None:
    """The figures that `tests.bench wording` is to reach, with a few makers of each shape."""
    rounds = called_to(1, MAKERS)
    assert {one.stage for one in rounds} >= {Stage.CROWN, Stage.DOME, Stage.BRIM, Stage.BALL}
    assert sum(one.easy for one in rounds) / len(rounds) >= EASY_SHARE
    assert max(one.words for one in rounds) <= LONGEST


@pytest.mark.parametrize(
    ("said", "easy"),
    [
        ("Round two: two in each stitch. Twelve stitches.", True),
        ("Round five: two plain, two in the next, one plain, six times. Thirty stitches.", True),
        ("Round five: two in the next, twice; then two in the next, three plain. Nine.", False),
        ("Round five: two in the next, one plain, twice; then the same with two. Nine.", False),
        ("Round five: two in the next, one plain, twice; all that twice. Nine stitches.", False),
        ("Round five: two in the next" + ", one in the next" * 4 + ". Nine stitches.", False),
    ],
)
def test_the_bench_tells_easy_rounds_from_others(said: str, easy: bool) -> None:
    assert Called(Stage.CROWN, body(said)).easy is easy


def increases(seed: str) -> Iterator[tuple[Stage, Round, Round]]:
    """Each round of increases and the next one, of long enough repeats, in the same stage."""
    for shape in SHAPES:
        rounds = [round_ for _, round_ in rounds_of(Maker(random.Random(seed)), shape)]
        for stage, some in groupby(rounds, key=lambda round_: round_.stage):
            made = [one for one in some if one.places and not one.decreasing]
            for one, after in pairwise(made):
                if min(one.before / one.sets, after.before / after.sets) >= 4 and after.sets > 2:
                    yield stage, one, after


def test_increases_of_successive_rounds_do_not_stack() -> None:
    """Into the two stitches of an increase goes the next one by chance alone, where the rounds have
    other counts. Common practice, no source.
    """
    stacked: dict[Stage, list[float]] = {}
    for seed in range(MAKERS):
        for stage, one, after in increases(f"stack {seed}"):
            new = {place + at + more for at, place in enumerate(one.places) for more in (0, 1)}
            stacked.setdefault(stage, []).append(len(new & set(after.places)) / after.sets)
    assert stacked.keys() >= {Stage.CROWN, Stage.BRIM}
    for stage, shares in stacked.items():
        assert sum(shares) / len(shares) <= 0.35, stage


@given(st.integers(2, 300), st.floats(1, 40), st.floats(0, 6), st.booleans())
def test_the_easiest_change_divides_the_round_where_one_near_does(
    stitches: int, wanted: float, slack: float, decreasing: bool
) -> None:
    change = easiest(stitches, -wanted if decreasing else wanted, slack)
    size, most = abs(change), stitches // 2 if decreasing else stitches
    assert (change < 0) is decreasing
    near = [c for c in range(1, most + 1) if abs(c - wanted) <= slack]
    assert size in near or not near
    assert stitches % max(size, 1) == 0 or not any(stitches % c == 0 for c in near)


def _helped(piece: Piece) -> bool:
    """Whether the crown lies so badly that it has more increases than usual, or none."""
    after = fullness(piece, piece.stitches + piece.settings.increases, piece.finished + 1)
    return not TIGHTEST_FULL < after.mean < SLACKEST_FULL


@settings(deadline=None)
@given(st.integers(5, 12), st.integers(20, 120), st.integers(6, 9))
def test_a_crown_round_that_has_not_to_fit_divides_where_it_can(
    rounds: int, stitches: int, start: int
) -> None:
    """One repeat and nothing left over, within a stitch or two of the usual increases."""
    piece = Piece(
        Settings(head_mm=900, start=start),
        exactly(6.5, 6.5 * stitches / (6.283 * rounds)),
        Stage.CROWN,
        rounds,
        stitches,
        (rounds,),
    )
    change, left = crown_change(piece), crown_target(piece) - stitches
    assert 0 <= change <= left
    near = [c for c in range(start - EASIER, start + EASIER + 1) if 0 < c < left]
    if 0 < change < left and start < left and not _helped(piece):
        assert change in near
        assert stitches % change == 0 or not any(stitches % c == 0 for c in near)
