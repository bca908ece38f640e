"""What is unusual is told, and what is told of a part is true of it."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.commands import Look
from pattern.session.decisions import decide
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount
from pattern.trade.techniques import Technique
from pattern.trade.yarns_and_hooks import YARNS
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_planned
from tests.hats import at, begun, said
from voice.sentences import hook, pace, places, readings, teaching
from voice.sentences.reply import reply


def test_a_hook_far_from_its_class_is_told_with_the_usual_one() -> None:
    """Craft Yarn Council, Standard Yarn Weight System: jumbo yarn takes hooks of 15 mm and more."""
    jumbo = begun(yarn=7, hook_mm=3.0)
    assert "a fifteen millimetre hook" in hook.unusual(jumbo.settings)
    assert "fifteen" in hook.which(jumbo)
    for number, yarn in enumerate(YARNS):
        middle = (yarn.hook_least_mm + yarn.hook_most_mm) / 2
        assert not hook.unusual(begun(yarn=number, hook_mm=middle).settings)
        assert not hook.unusual(begun(yarn=number, hook_mm=None).settings)


@pytest.mark.parametrize(
    ("stitch", "start", "lies"),
    [
        ("single", 6, ""),
        ("single", 8, ""),
        ("single", 24, "ripple"),
        ("single", 4, "cup"),
        ("double", 12, ""),
        ("double", 6, "cup"),
    ],
)
def test_a_ring_that_would_not_lie_flat_is_told(stitch: str, start: int, lies: str) -> None:
    """Six for single and twelve for double crochet lie flat: common practice, no source."""
    state = said(State(), c.Choose("stitch", stitch))
    command = c.Change("start", Amount(float(start)))
    told = reply(state, command, decide(state, command), said(state, command))
    assert ("lie flat" in told) == bool(lies)
    assert lies in told


def test_a_mat_cups_and_a_brim_droops_at_its_end() -> None:
    mat = at(Stage.FINISHING, begun(shape="mat"))
    assert readings.look_taken(Look.CUPS, mat).startswith("It cups: dry it flat")
    brim = at(Stage.FINISHING, begun())
    assert readings.look_taken(Look.CUPS, brim).startswith("It droops: dry it flat")


def test_a_dome_is_not_done_while_it_is_worked() -> None:
    state = said(begun(shape="close cap"), c.Next(), c.Next())
    assert "and the dome is done" in pace.crown(state, None)
    assert pace.crown(at(Stage.SIDES, state), None) == "The dome is done."


def test_a_reading_out_of_sight_is_not_said_never_to_come() -> None:
    fine = said(begun(head_mm=720.0, yarn=0, hook_mm=1.0), *[c.Next()] * 5)
    assert places.next_reading(fine) == "No reading is due in the next thirty rounds."


def test_a_ring_of_chains_is_as_long_aloud_as_on_paper() -> None:
    """A chain for the height of the stitch, and the one that it is worked into; where the chain
    counts it is one of the stitches. Common practice, no source.
    """
    for stitch, chains, worked in (("single", "two", "six"), ("double", "four", "eleven")):
        state = begun(stitch=stitch, joined=True)
        (aloud,) = teaching.explained(Technique.STARTING_CHAIN, state)
        assert f"chain {chains}, and work {worked} stitches" in aloud
        paper = as_text(as_planned(state, "Hat"), 300)
        assert f"or chain {2 if stitch == 'single' else 4} and work round 1" in paper
