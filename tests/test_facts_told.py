"""Facts that are told: one number, the trade's way, and the same aloud as on paper."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.yarn_left import at_most, left
from pattern.plan.hooks import hook_for_usual
from pattern.plan.readings import Reading
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Stitch, Terms, chain_counts, lower_than
from pattern.trade.yarns_and_hooks import HOOKS_MM
from pattern.writeup.edition import USUAL, Edition
from pattern.writeup.many_sizes import size_of
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made, as_planned
from tests.hats import at, begun, said, until
from tests.properties import examples
from voice.sentences import finishing, help, hook, lost, questions, yarn
from voice.sentences.due import now
from voice.sentences.readings import count_taken, place, taken
from voice.words.phrases.slots import TOPICS
from voice.words.spoken_numbers import say_fraction


def written(state: State, edition: Edition = USUAL) -> str:
    return as_text(as_made(state, "Test", edition), 300)


def test_a_starting_chain_counts_as_the_trade_counts_it() -> None:
    """Common practice, no source: the one chain of single crochet (UK double) never counts, the
    three of double (UK treble) do; of half double's two, US and UK patterns differ.
    """
    for terms in Terms:
        assert not chain_counts(Stitch.SINGLE, terms)
        assert chain_counts(Stitch.DOUBLE, terms)
        assert chain_counts(Stitch.TREBLE, terms)
    assert not chain_counts(Stitch.HALF_DOUBLE, Terms.US)
    assert chain_counts(Stitch.HALF_DOUBLE, Terms.UK)


@pytest.mark.parametrize(
    ("stitch", "first", "counts"),
    [
        ("single", "chain one, then six single crochet", "doesn't count as a stitch"),
        ("double", "chain three, then eleven double crochet", "counts as the first stitch"),
    ],
)
def test_joined_rounds_say_once_whether_the_chain_counts(
    stitch: str, first: str, counts: str
) -> None:
    state = begun(joined=True, stitch=stitch)
    assert first in now(state)
    assert counts in now(state)
    assert counts.replace("doesn't", "does not").replace("a stitch", "a st").replace(
        "the first stitch", "its first st"
    ) in written(state)
    second = said(state, c.Next())
    assert "counts" not in now(second)
    one_of_them = "chain three, as the first of these: two in each stitch"
    assert ("chain one, then two in each" if stitch == "single" else one_of_them) in now(second)


def test_the_marker_is_moved_up_in_round_two_of_a_spiral_and_not_again() -> None:
    second = said(begun(), c.Next())
    assert "Move the marker up" in now(second)
    assert "marker" not in now(said(second, c.Next()))
    assert "marker" not in now(said(begun(joined=True), c.Next()))


def test_a_spiral_of_taller_stitches_steps_down() -> None:
    """Common practice, no source: by each lower stitch in turn, then a slip stitch."""
    assert lower_than(Stitch.DOUBLE) == (Stitch.HALF_DOUBLE, Stitch.SINGLE)
    state = at(Stage.FINISHING, begun(stitch="double"))
    assert "one half double crochet, then one single crochet, then slip stitch" in (
        finishing.step(state)
    )
    assert "hdc in next st, sc in next st, sl st" in written(state)
    plain = at(Stage.FINISHING, begun())
    assert "single crochet" not in finishing.step(plain)


@given(st.floats(0.6, 1.6), st.sampled_from(HOOKS_MM[4:-4]))
def test_hook_advice_never_leaps(ratio: float, hook_mm: float) -> None:
    """One or two sizes, however far the stitch is from the usual one."""
    state = begun(yarn=4, hook_mm=hook_mm)
    state = said(state, c.Next(), c.Next(), c.Next())
    around = state.piece.gauge.width_mm * ratio * state.piece.stitches
    after = said(state, c.Measured(Amount(around, 1.0, Unit.MM), Kind.AROUND))
    after = said(after, c.Yes()) if after.doubt else after
    size = hook_for_usual(after.piece)
    assert abs(HOOKS_MM.index(size) - HOOKS_MM.index(hook_mm)) <= 2
    assert "keep" in hook.which(after).lower() or "suits" in hook.which(after)


def test_yarn_is_what_it_takes_and_the_most_it_may_and_balls_are_of_the_same_number() -> None:
    state = begun(head_mm=560.0, yarn=4, hook_mm=5.0, ball_g=50.0)
    need = left(state).grams
    balls = -(-at_most(need) // 50)
    words = yarn.needed(state)
    assert "give or take" not in words
    assert ", at most " in words
    assert f"Have {['', 'one', 'two', 'three', 'four', 'five'][int(balls)]} ball" in words
    row = re.search(r"about \d+ m .*; to be safe, (\d+) balls? of 50 g", written(state))
    assert row is not None
    assert int(row[1]) == balls
    enough = at_most(need) + 1
    assert yarn.enough(said(state, c.Weighed(Amount(round(enough))))).startswith(
        "Probably: you need"
    )
    assert yarn.enough(said(state, c.Weighed(Amount(1000.0)))).startswith("Yes: ")


@settings(max_examples=examples(12))
@given(st.floats(440, 620))
def test_as_many_balls_are_written_as_are_said(head_mm: float) -> None:
    """Also in the table of sizes; at 520 mm two were written and three said."""
    state = begun(head_mm=head_mm, yarn=4, hook_mm=5.0, ball_g=50.0)
    most = left(state).balls
    assert most is not None
    row = re.search(r"to be safe, (\d+) balls? of 50 g", written(state))
    assert row is not None
    assert int(row[1]) == math.ceil(at_most(most))
    assert size_of(state).need == left(state)


@given(st.integers(4, 400))
def test_quarters_are_read_back_as_quarters(quarters: int) -> None:
    """Also of a centimetre, which no tape shows: they are what was said."""
    settings = begun(unit="centimeter").settings
    reading = Reading(Kind.AROUND, quarters * 2.5, 2.5, 5.0, 30)
    words = place(reading, settings).removesuffix(" around")
    part = {0: "", 1: "a quarter", 2: "a half", 3: "three quarters"}[quarters % 4]
    assert words.endswith(part)
    assert "point" not in words


def test_all_hooks_are_written_with_their_rounds() -> None:
    """Also where rounds were ripped out since, and one that made no round is none."""
    state = until(lambda now: now.piece.finished == 6, begun(yarn=4, hook_mm=5.0))
    other = said(state, c.Change("hook_mm", Amount(4.5)), c.Change("hook_mm", Amount(4.0)))
    more = until(lambda now: now.piece.finished == 9, other)
    assert "5 mm (US H-8) for rounds 1 to 6, 4 mm (US G-6) from round 7 on" in written(more)
    ripped = said(more, c.RippedBack(5))
    assert "5 mm (US H-8) for rounds 1 to 4, 4 mm (US G-6) from round 5 on" in written(ripped)
    assert "for round" not in written(state)
    assert "4 mm" in as_text(as_planned(more, "Test"), 300)


def test_a_weighing_is_not_forgotten() -> None:
    state = until(lambda now: now.piece.finished == 6, begun(yarn=4, hook_mm=5.0))
    learned = Edition(readings=True)
    assert "none was weighed" in written(state, learned)
    weighed = said(state, c.Weighed(Amount(80.0)))
    assert "weighed once" in written(weighed, learned)


def test_a_beret_is_shaped_and_named_by_its_top() -> None:
    """Common practice, no source: over a plate as wide as the top, and not over the head."""
    state = begun(shape="beret", head_mm=560.0, yarn=4, hook_mm=5.0)
    assert "plate as wide as its top" in finishing.washing(state)
    text = written(state)
    for words in ("plate as wide as its top", "Width across the top", "Circumference of the band"):
        assert words.lower() in text.lower()
    assert "plate" not in written(begun())


def test_a_mat_ends_with_its_width_across() -> None:
    done = at(Stage.DONE, begun(shape="mat", across_mm=120.0))
    assert " across" in finishing.done(done)
    assert "around" not in finishing.done(done)
    assert " around" in finishing.done(at(Stage.DONE, begun()))


@pytest.mark.parametrize("slip", [-2, 1])
def test_a_slip_is_answered_by_one_number_and_one_deed(slip: int) -> None:
    before = until(lambda now: now.piece.finished == 5, begun())
    after = said(before, c.Counted(before.piece.stitches + slip))
    first, deed, *more = count_taken(before.piece.stitches + slip, before, after).split(". ")
    assert not more
    assert ("too many" if slip > 0 else "short") in first
    assert deed == "The next round mends it: leave it as it is."


def test_one_round_that_looks_the_same_is_one() -> None:
    """The last round of the crown and the first of the sides have the same stitches."""
    state = until(lambda now: now.piece.side_rounds == 1, begun())
    words = lost.answer(state, c.LostAt(state.piece.stitches))
    assert re.search(r"Round [a-z -]+ looks the same", words)
    more = until(lambda now: now.piece.side_rounds == 3, begun())
    assert re.search(
        r"Rounds [a-z -]+ look the same", lost.answer(more, c.LostAt(more.piece.stitches))
    )


def test_the_hat_is_said_to_be_done_once() -> None:
    last = until(lambda now: now.step == 4, at(Stage.FINISHING, begun()))
    assert "is done" not in finishing.step(last)
    assert finishing.done(said(last, c.Next())).count("is done") == 1


@given(st.sampled_from(sorted(set(TOPICS.values()))))
def test_no_help_has_a_small_i(topic: str) -> None:
    assert not re.search(r"\bi\b", help.topic(topic))
    assert not re.search(r"\bi\b", help.overview(said(begun(), c.Pause())))


def test_ended_sides_are_told_of_and_not_corrected() -> None:
    """Once the yarn is cut there is no next round."""
    state = at(Stage.FINISHING, begun(shape="close cap", head_mm=560.0, yarn=4, hook_mm=5.0))
    cut = said(state, c.Next(), c.Next())
    far = c.Measured(Amount(580.0, 1.0, Unit.MM), Kind.AROUND)
    after = said(cut, far)
    after = said(after, c.Yes()) if after.doubt is not None else after
    assert after.taken is not None
    words = taken(after.taken.reading, after)
    assert "over" in words
    assert "next round" not in words


@given(st.integers(8, 60))
def test_quarters_of_an_answer_are_read_back_as_quarters(quarters: int) -> None:
    wanted = Settings(unit=Unit.CM, brim_mm=quarters * 2.5)
    words = say_fraction(Fraction(quarters, 4))
    assert f"a brim of {words} centimetre" in questions.value("brim_mm", wanted)
