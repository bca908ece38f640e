"""Several sizes asked for in a session: told by ear, and written up.

No outside source: what a size needs is what a hat for that head alone needs.
"""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Asked
from pattern.session.folding import fold
from pattern.session.history import CODEC
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.document import Section, Steps, Table
from pattern.writeup.many_sizes import for_head, sizes_of
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.hats import begun, said, why_refused
from tests.properties import examples
from voice.caller.caller import Caller
from voice.sentences import heads, reply, sizes

HEADS = st.lists(
    st.integers(150, 350).map(lambda half: 2 * half), min_size=1, max_size=5, unique=True
)
"""Millimetres; heads nearer to each other are one size."""


def also(head_mm: float) -> c.AlsoFor:
    return c.AlsoFor(Amount(head_mm, 1.0, Unit.MM))


def in_sizes(state: State) -> Section:
    """The section of the write-up that has the sizes."""
    (section,) = [one for one in as_made(state, "Hat").sections if one.heading.startswith("In ")]
    return section


@settings(max_examples=examples(20))
@given(st.integers(300, 700), st.integers(300, 700), st.sampled_from([0.0, 60.0]))
def test_another_head_gets_the_rounds_of_a_hat_for_that_head(
    own: int, other: int, brim: float
) -> None:
    state = begun(head_mm=float(own), brim_mm=brim, depth_mm=170.0, age_years=30.0)
    alone = begun(head_mm=float(other), brim_mm=brim)
    assert rounds_ahead(for_head(state, float(other))) == rounds_ahead(alone)


@settings(max_examples=examples(20))
@given(HEADS)
def test_sizes_are_kept_told_and_written_from_the_smallest(chosen: list[int]) -> None:
    state = begun(head_mm=499.0)
    state = said(state, *(also(float(head)) for head in chosen if abs(head - 499) > 10))
    found = [size.head_mm for size in sizes_of(state)]
    assert found == sorted(found)
    assert len(found) == len(state.other_heads_mm) + 1
    if len(found) > 1:
        table = in_sizes(state).blocks[1]
        assert isinstance(table, Table)
        assert table.head == ("Size", *(str(n) for n in range(1, len(found) + 1)))


def test_only_what_differs_is_told() -> None:
    state = said(begun(head_mm=520.0, brim_mm=60.0), also(560.0), c.Choose("unit", "centimeter"))
    told = sizes.compared(state)
    first, second = told.split(". ")
    assert first.startswith("Fifty two centimetres: crown ")
    assert second.startswith("Fifty six centimetres: crown ")
    assert "brim" not in told
    assert sizes.compared(begun()) == sizes.ONE
    assert "head" not in sizes.compared(said(State(), c.Choose("shape", "bowl")))


def test_undo_takes_a_size_back_and_one_size_takes_all() -> None:
    state = said(begun(head_mm=500.0), also(540.0), also(580.0))
    assert state.other_heads_mm == (540.0, 580.0)
    assert said(state, c.Undo()).other_heads_mm == (540.0,)
    alone = said(state, c.OneSize())
    assert alone.other_heads_mm == ()
    assert not [one for one in as_made(alone, "Hat").sections if one.heading.startswith("In ")]


@pytest.mark.parametrize(
    ("state", "command", "reason"),
    [
        (begun(head_mm=540.0), also(540.5), Reason.SIZE_KNOWN),
        (said(begun(head_mm=540.0), also(500.0)), also(500.0), Reason.SIZE_KNOWN),
        (begun(), also(900.0), Reason.OUT_OF_LIMITS),
        (begun(), c.AlsoFor(Amount(54.0, 1.0, Unit.GRAM)), Reason.WRONG_UNIT),
        (
            said(begun(), *map(also, (440.0, 460.0, 480.0, 500.0, 520.0))),
            also(540.0),
            Reason.SIZES_FULL,
        ),
        (begun(), c.OneSize(), Reason.NO_SIZES),
        (said(State(), c.Choose("shape", "bowl")), also(540.0), Reason.NOT_OF_SHAPE),
    ],
)
def test_what_is_no_size_is_refused(state: State, command: c.Command, reason: Reason) -> None:
    assert why_refused(state, command) is reason


def test_a_pattern_for_other_heads_has_the_cautions_of_a_child() -> None:
    grown = begun(head_mm=560.0, age_years=30.0)
    caution = "drawstrings"
    assert caution not in as_text(as_made(grown, "Hat"))
    assert caution in as_text(as_made(said(grown, also(480.0)), "Hat"))


def test_the_write_up_has_the_rounds_of_every_size() -> None:
    state = said(begun(head_mm=500.0), also(600.0), *[c.Next()] * 4)
    steps = [
        block.steps
        for part in in_sizes(state).sections
        for block in part.blocks
        if isinstance(block, Steps)
    ]
    lines = [step.text for step in chain(*steps)]
    last = sizes_of(state)[1].rounds[-1].after
    assert lines[0].startswith("Round 1: ")
    assert str(last) in lines[-1]


def test_washing_makes_every_size_larger_to_work_to() -> None:
    state = fold(begun(head_mm=500.0), (e.WashingKnown(0.9, 0.95),))
    (wide, other) = sizes_of(said(state, also(560.0)))
    for size, head in ((wide, 500.0), (other, 560.0)):
        assert size.state.settings.girth_mm == head
        assert size.state.piece.settings.girth_mm == pytest.approx(head / 0.9)


def test_by_ear(tmp_path: Path) -> None:
    with Journal.open(tmp_path, "x", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        words = (
            "centimetres",
            "also write it for a head of fifty four",
            "begin",
            "Also write it for 50.",
            "tell me the sizes",
            "tell me more",
            "tell me more",
        )
        replies = [caller.hear(one).say for one in words]
    assert replies[1].startswith("Fifty four centimetres, too. That makes two sizes.")
    assert replies[3].startswith("Fifty centimetres: crown ")
    assert replies[3].endswith("That makes three sizes.")
    told = " ".join(replies[4:])
    assert [
        told.count(f"{size} centimetres: ")
        for size in ("Fifty", "Fifty four", "Fifty six point eight")
    ] == [1, 1, 1]
    assert all(len(page.split()) <= 45 for page in replies[4:])


def test_heads_are_told_for_a_few_ages() -> None:
    """Middle of boys and girls at birth by WHO (2006): 34.5 and 33.9 cm, as in `head_medians`."""
    state = said(State(), c.Choose("unit", "centimeter"))
    told = heads.table(state)
    assert told.startswith("Thirty four centimetres newborn, ")
    assert "grown" in told
    assert told == reply.told(state, Asked.HEADS)
