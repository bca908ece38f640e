"""Is that normal: told from where the piece is, and when it would not be any more."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.techniques import Technique
from tests.hats import at, begun, exactly, until
from voice.sentences.normal import ANSWERS, OFF_MARK, TURNED
from voice.sentences.reply import reply

LONGEST_WORDS = 50
PLACES = (
    begun(),
    until(lambda now: now.piece.finished == 4, begun()),
    at(Stage.SIDES, begun()),
    until(lambda now: now.piece.side_rounds == TURNED + 1, begun(depth_mm=250.0)),
    until(lambda now: now.piece.brim_rounds == 2, begun()),
    at(Stage.FINISHING, begun()),
    until(lambda now: now.piece.finished == 6, begun(shape="close cap")),
    until(lambda now: now.piece.finished == 6, begun(shape="bucket hat")),
    until(lambda now: now.piece.finished == 5, begun(shape="ball")),
    until(lambda now: now.piece.finished == 5, begun(shape="mat", joined=True)),
)


def told(technique: Technique, state: State) -> str:
    return reply(state, c.Explain(technique), (), state)


@pytest.mark.parametrize("technique", ANSWERS, ids=str)
def test_each_is_answered_everywhere_in_one_breath(technique: Technique) -> None:
    for state in PLACES:
        said = told(technique, state)
        assert len(said.split()) <= LONGEST_WORDS, said
        assert not re.search(r"[\d:]\d|[{}]", said)


@pytest.mark.parametrize("technique", sorted(set(ANSWERS) - {Technique.OFF_MARK}), ids=str)
def test_most_say_when_it_is_not_normal_any_more(technique: Technique) -> None:
    said = [told(technique, state) for state in PLACES]
    assert any("ot normal" in one or "normal only" in one for one in said)


def with_width(state: State, width_mm: float) -> State:
    height = state.piece.gauge.height_mm
    return replace(state, piece=replace(state.piece, gauge=exactly(width_mm, height)))


def test_a_crown_is_told_by_the_stitches_that_it_has() -> None:
    """Flat within 7 %, common practice (one worker's test): 6.28 height over width increases."""
    crown = until(lambda now: now.piece.finished == 8, begun(yarn=4, hook_mm=5.0, head_mm=560.0))
    flat = crown.piece.gauge.height_mm * 6.2832 / 6
    assert "should lie flat" in told(Technique.NORMAL, with_width(crown, flat))
    assert "more stitches than lie flat" in told(Technique.NORMAL, with_width(crown, 1.12 * flat))
    full = told(Technique.NORMAL, with_width(crown, 1.4 * flat))
    assert "Say it ripples, and I mend it" in full
    assert "fewer stitches than lie flat" in told(Technique.NORMAL, with_width(crown, 0.88 * flat))


def test_sides_turn_down_after_some_rounds() -> None:
    early, late = PLACES[2], PLACES[3]
    assert told(Technique.NOT_TURNING, early).startswith("Yes")
    assert "by now" in told(Technique.NOT_TURNING, late)
    crown = told(Technique.NOT_TURNING, PLACES[1])
    assert "lies flat until" in crown


def test_corners_are_as_many_as_increases() -> None:
    eight = until(lambda now: now.piece.finished == 5, begun(start=8))
    assert "eight corners" in told(Technique.CORNERS, eight)
    stacked = until(lambda now: now.piece.finished == 5, begun(stacked=True))
    assert told(Technique.CORNERS, stacked).startswith("Yes: your increases are stacked")


def test_in_the_brim_repeats_may_end_off_the_mark() -> None:
    """Five stitches: common practice, no source."""
    assert OFF_MARK == 5
    brim = told(Technique.OFF_MARK, PLACES[4])
    assert "within five stitches" in brim
    assert "no count is needed" in brim
    fits = until(
        lambda now: now.offered is not None and now.to_count == now.offered.number, begun()
    )
    assert "This round must fit" in told(Technique.OFF_MARK, fits)
