"""What is unusual is told, and what is told of a part is true of it."""

from __future__ import annotations

import re

import pytest

from pattern.plan.next_round import rounds_left
from pattern.plan.readings import Reading
from pattern.session import commands as c
from pattern.session.commands import Kind, Look
from pattern.session.decisions import decide
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.catalogue import SHAPES, Shape
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from pattern.trade.yarns_and_hooks import YARNS
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_planned
from tests.hats import at, begun, said, until
from voice.caller.understanding import understood
from voice.sentences import finishing, hook, pace, places, readings, reply, teaching, yarn


def test_a_hook_far_from_its_class_is_told_with_the_usual_one() -> None:
    """Craft Yarn Council, Standard Yarn Weight System: jumbo yarn takes hooks of 15 mm and more."""
    jumbo = begun(yarn=7, hook_mm=3.0)
    assert "a fifteen millimetre hook" in hook.unusual(jumbo.settings)
    assert "fifteen" in hook.which(jumbo)
    for number, one in enumerate(YARNS):
        middle = (one.hook_least_mm + one.hook_most_mm) / 2
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
    """Six for single and twelve for double crochet are usual: common practice, no source."""
    state = said(State(), c.Choose("stitch", stitch))
    command = c.Change("start", Amount(float(start)))
    told = reply.reply(state, command, decide(state, command), said(state, command))
    assert ("are usual" in told) == bool(lies)
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


def test_a_brim_given_up_within_its_first_round_ends_with_that_round() -> None:
    """Where the head is at hand, too, which was then asked about a part that is not there."""
    within = said(at(Stage.BRIM), c.HeadThere(there=True), c.Sets(2), c.Choose("brim_mm", 0))
    assert said(within, c.Next()).stage is Stage.FINISHING


def test_of_a_piece_that_is_done_no_round_is_left() -> None:
    mat = at(Stage.FINISHING, begun(shape="mat"))
    around = Reading(Kind.AROUND, 500.0, 1.0, mat.piece.finished, mat.piece.stitches)
    assert "more round" not in readings.taken(around, mat)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.name)
def test_something_of_every_shape_can_be_changed(shape: Shape) -> None:
    """In words that are understood there, in the interview as at work."""
    begins = said(State(), c.Choose("shape", shape.name))
    for state in (begins, said(begun(shape=shape.name, head_mm=None), c.Next())):
        examples = re.findall("'(.*?)'", reply.told(state, c.Asked.CHANGES))
        assert len(examples) > 1
        for words in examples:
            found = understood(words, state)
            assert found.commands or found.pending, words


def test_yarn_is_never_none_while_rounds_are_left() -> None:
    """Grams and metres agree in number with what they count."""
    last = until(lambda now: rounds_left(now.piece, now.offered) == 1, begun(shape="mat"))
    said_of = yarn.needed(last)
    assert "zero" not in said_of
    assert not re.search(r"(?<!and )(?<!ty )\bone (grams|metres)", said_of.lower())


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


def test_nothing_is_told_in_noughts() -> None:
    within = said(at(Stage.CROWN), c.Next(), c.Next(), c.Next())
    assert within.offered is not None
    whole = said(within, c.Sets(within.offered.sets))
    assert "to go" not in places.stitches(whole)
    assert "into the first set" in reply.reply(within, c.CountedIn(1), (), within)
    bare = said(within, c.Change("stash_g", Amount(1.0, unit=Unit.GRAM)), c.Next(), c.Next())
    assert "you have none left" in yarn.enough(bare)


@pytest.mark.parametrize("answers", [{"head_mm": 420.0}, {"head_mm": 450.0, "age_years": 1.0}])
def test_the_last_cautions_are_held_in_the_ear(answers: dict[str, float]) -> None:
    """All are there, in less than half a minute at 160 words a minute."""
    last = until(lambda now: now.step == len(FINISHING_STEPS) - 1, begun(**answers))
    told = finishing.step(last)
    for word in ("cords", "under seven", "small parts", "under three", "sleep", "shade", "doctor"):
        assert word in told
    assert "where you live" in told
    assert len(told.split()) < 80
