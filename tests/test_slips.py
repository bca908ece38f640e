"""A count within a round, against the stitches laid out one by one."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pattern.plan.slips import found, made_after, stitches_in_set
from pattern.session import commands as c
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage, spaced_round
from tests.hats import why_refused
from tests.pieces import NEXT, begun, told
from voice.sentences import doubts
from voice.sentences.slips import answer
from voice.words.phrases import read

ROUNDS = st.builds(
    lambda before, change, shifted: spaced_round(5, Stage.CROWN, before, change, shifted),
    st.integers(24, 120),
    st.integers(-8, 12).filter(bool),
    st.booleans(),
)


def laid_out(round_: Round) -> list[int]:
    """Stitches made when each set ends, by working the round stitch by stitch.

    A set ends where the plain stitches before the next increase, or decrease, of it begin.
    """
    lead, ends, made, at = round_.places[0], [0], 0, 0
    starts = {place - lead for place in round_.places[1:]}
    while at < round_.before:
        if at in starts:
            ends.append(made)
        change = at in round_.places
        at += 2 if change and round_.decreasing else 1
        made += 2 if change and not round_.decreasing else 1
    return [*ends, made]


@given(ROUNDS)
def test_sets_have_the_stitches_that_are_made_in_them(round_: Round) -> None:
    ends = laid_out(round_)
    assert [made_after(round_, done) for done in range(round_.sets + 1)] == ends
    sizes = {b - a for a, b in pairwise(ends[:-1])}
    assert stitches_in_set(round_) == (sizes.pop() if len(sizes) == 1 else None)


@given(ROUNDS, st.data())
def test_what_is_right_is_found_right_and_a_slip_is_its_difference(
    round_: Round, data: st.DataObject
) -> None:
    sets = data.draw(st.integers(1, round_.sets))
    off = data.draw(st.integers(-3, 3))
    ends = laid_out(round_)
    assume(ends[sets] + off > 0)
    slip = found(round_, ends[sets] + off, sets)
    assert (slip.expected, slip.over) == (ends[sets], off)
    if slip.likelier is not None:
        assert ends[slip.likelier] == ends[sets] + off
    if slip.check is not None:
        assert 0 < slip.check < sets


@given(ROUNDS, st.data())
def test_a_count_alone_finds_the_place(round_: Round, data: st.DataObject) -> None:
    ends = laid_out(round_)
    count = data.draw(st.integers(1, ends[-1]))
    place = found(round_, count, None)
    assert ends[place.sets] + place.over == count
    assert place.sets == round_.sets or count < ends[place.sets + 1]


def crown(rounds: int = 7) -> State:
    return told(begun(), *[NEXT] * rounds)


@pytest.mark.parametrize(
    ("count", "sets", "said"),
    [
        (24, 3, "Twenty four after three sets: that is right."),
        (16, 3, "Two sets have just that many"),
        (
            23,
            3,
            "One short: it should be twenty four. Look at the last set first: each set has eight",
        ),
        (23, 3, "make one more increase in this round."),
        (25, 3, "make one fewer increase in this round."),
        (29, 5, "two sets have sixteen"),
        (29, 5, "rip the five sets back to the marker"),
        (19, None, "That is two sets and three stitches."),
    ],
)
def test_the_answer_says_where_and_what_to_do(count: int, sets: int | None, said: str) -> None:
    """Round eight of a crown of six has six sets of eight stitches."""
    assert said in answer(crown(), c.CountedIn(count, sets))


def test_a_doubted_count_says_where_it_lies() -> None:
    state = told(crown(), c.Counted(36))
    assert state.doubt is not None
    assert "Round six had that many" in doubts.asked(state.doubt, state)
    some = told(crown(9), c.Counted(50))
    assert some.doubt is not None
    assert "that many increases were left out" in doubts.asked(some.doubt, some)


@pytest.mark.parametrize(
    ("state", "command", "reason"),
    [
        (State(), c.CountedIn(8, 1), Reason.STILL_SETUP),
        (begun(), c.CountedIn(3), Reason.TOO_EARLY),
        (crown(), c.CountedIn(8, 7), Reason.TOO_MANY_SETS),
        (crown(), c.CountedIn(0, 1), Reason.COUNT_IMPOSSIBLE),
        (crown(), c.CountedIn(97), Reason.COUNT_IMPOSSIBLE),
    ],
)
def test_what_cannot_be_is_refused(state: State, command: c.CountedIn, reason: Reason) -> None:
    assert why_refused(state, command) is reason


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("count thirty in this round after three sets", c.CountedIn(30, 3)),
        ("count 30 after one set", c.CountedIn(30, 1)),
        ("count thirty in this round", c.CountedIn(30)),
        ("count thirty", c.Counted(30)),
    ],
)
def test_what_makers_say_of_a_count(said: str, command: c.Command) -> None:
    assert read(said) == command
