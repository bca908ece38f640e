"""Weighing the yarn along the way: what it teaches, whether the yarn lasts, and how it is told."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.yarn_left import SAFE, edge_rounds, enough, latest_brim, left
from pattern.forecast.yarn_savings import Saving
from pattern.gauge.estimate import Gauge
from pattern.gauge.yarn_use import learned, usual_use
from pattern.journal.lines import Turn, read_lines, write_line
from pattern.journal.records import Codec
from pattern.plan.brim import brim_total
from pattern.session import commands as c
from pattern.session.decide_yarn import on_hand, stitches_done, times_learned, use_of
from pattern.session.decisions import decide
from pattern.session.events import Begun, QuestionAnswered, RoundFinished, RoundOffered, SetupDone
from pattern.session.folding import fold
from pattern.session.history import CODEC, state_after
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.edition import Edition
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made, as_planned
from tests.hats import AT, kept, why_refused
from tests.openings import opening
from tests.pieces import NEXT, begun, told
from tests.properties import examples
from tests.wordings.places import said
from voice.sentences import yarn
from voice.sentences.refusals import refusal
from voice.words.phrases import read


def weighed(grams: float) -> c.Weighed:
    return c.Weighed(Amount(grams))


def stash(grams: float) -> c.Change:
    return c.Change("stash_g", Amount(grams))


def rounds(count: int) -> list[c.Command]:
    return [NEXT] * count


def test_two_weighings_teach_what_one_step_of_learning_does() -> None:
    state = told(begun(), stash(200.0), *rounds(12), weighed(180.0))
    usual = usual_use(state.settings, state.piece.gauge)
    assert state.weighed[-1].stitches == stitches_done(state)
    assert use_of(state) == learned(usual, 20.0, stitches_done(state))
    assert times_learned(state) == 1


@settings(max_examples=examples(30))
@given(st.floats(0.6, 1.8), st.integers(8, 20))
def test_a_makers_own_use_is_found_from_the_scales(factor: float, done: int) -> None:
    """Scales to 1 g: after so many rounds the use is known within 15 %, or three of its spreads."""
    state = told(begun(), stash(300.0), *rounds(done))
    true = factor * use_of(state).grams
    state = told(state, weighed(round(300 - true * stitches_done(state))))
    use = use_of(state)
    assert abs(use.grams / true - 1) < max(0.15, 3 * use.grams_spread)


def test_the_yarn_at_hand_goes_down_stitch_by_stitch() -> None:
    state = told(begun(), stash(100.0), *rounds(6))
    use = use_of(state)
    have = on_hand(state)
    assert have is not None
    assert have.mean == pytest.approx(100 - use.grams * stitches_done(state))
    part = on_hand(told(state, c.Sets(3)))
    assert part is not None
    assert part.mean < have.mean
    assert on_hand(begun()) is None


def test_balls_weigh_what_their_band_says() -> None:
    state = told(begun(), c.Change("ball_g", Amount(50.0)), c.HaveBalls(Amount(2.5, 0.5)))
    assert state.settings.stash_g == 125.0
    assert state.weighed[-1].grams == 125.0
    ounces = told(begun(), c.Change("stash_g", Amount(4.0, unit=Unit.OUNCE)))
    assert ounces.settings.stash_g == pytest.approx(113.4, abs=0.02)  # 28.35 g an ounce
    pounds = told(begun(), c.Change("stash_g", Amount(0.5, 0.5, Unit.POUND)))
    assert pounds.settings.stash_g == pytest.approx(226.796, abs=0.001)  # 453.59237 g, 1959
    yards = told(begun(), c.Change("ball_m", Amount(100.0, unit=Unit.YARD)))
    assert yards.settings.ball_m == pytest.approx(91.44)  # exact by definition, 1959


def test_more_yarn_is_said_anew_and_teaches_nothing() -> None:
    state = told(begun(), stash(50.0), *rounds(10))
    assert why_refused(state, weighed(90.0)) is Reason.MORE_YARN
    more = told(state, stash(90.0))
    assert times_learned(more) == 0
    have = on_hand(more)
    assert have is not None
    assert have.mean == pytest.approx(90.0)


def test_a_weight_is_mended_and_taken_back() -> None:
    state = told(begun(), stash(200.0), *rounds(12), weighed(180.0))
    mended = told(state, c.No(Amount(185.0)))
    assert [one.grams for one in mended.weighed] == [200.0, 185.0]
    assert [one.grams for one in told(state, c.Undo()).weighed] == [200.0]
    other = told(state, c.Change("yarn", Amount(5.0)))
    assert other.weighed == ()


def test_the_latest_brim_is_the_last_that_lasts() -> None:
    """Against the plan itself: a brim begun there lasts, and one begun a round later does not.

    With a stitch that is known; the number of rounds is sure then.
    """
    unsure = told(begun(brim_mm=60.0), *rounds(22))
    assert unsure.stage is Stage.SIDES
    exactly = Gauge(unsure.piece.gauge.mean, ((0.0,) * 3,) * 3)
    state = replace(unsure, piece=replace(unsure.piece, gauge=exactly))
    use = use_of(state)
    need = left(state, use).grams
    grams = 0.9 * (need.mean + SAFE * need.sd)
    latest = latest_brim(state, use, grams)
    assert latest is not None
    for later, lasts in ((0, True), (1, False)):
        there = state
        while there.piece.finished < latest + later:
            there = told(there, c.Skip(), NEXT)
        used = use.grams * (stitches_done(there) - stitches_done(state))
        reserve = SAFE * use.grams_spread * used
        begun_there = told(there, c.StartBrim())
        assert begun_there.stage is Stage.BRIM
        assert enough(begun_there, use, grams=grams - used - reserve).enough is lasts
    sooner = latest_brim(unsure, use, grams)
    assert sooner is None or sooner <= latest, "what is unsure is no reason to wait"
    assert latest_brim(state, use, 10 * grams) is None
    assert latest_brim(state, use, 0.01 * grams) is None


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("a ball weighs fifty grams", c.Change("ball_g", Amount(50.0, unit=Unit.GRAM))),
        ("The ball has one hundred metres.", c.Change("ball_m", Amount(100.0, unit=Unit.METRE))),
        ("93 yards per ball", c.Change("ball_m", Amount(93.0, unit=Unit.YARD))),
        ("I have two hundred grams", c.Change("stash_g", Amount(200.0, unit=Unit.GRAM))),
        ("three balls", c.HaveBalls(Amount(3.0))),
        ("i have two and a half balls of yarn", c.HaveBalls(Amount(2.5, 0.5))),
        ("forty grams left", c.Weighed(Amount(40.0, unit=Unit.GRAM))),
        ("weighed forty", c.Weighed(Amount(40.0))),
        ("I have sixty four", c.Counted(64)),
        ("have I enough?", c.Ask(c.Asked.ENOUGH)),
        ("how much yarn", c.Ask(c.Asked.YARN)),
        ("I have six inches", None),
        ("a ball has six grams", None),
    ],
)
def test_what_makers_say_of_yarn(said: str, command: c.Command | None) -> None:
    assert read(said) == command


def test_the_answer_is_yes_no_and_what_would_fit() -> None:
    plenty = yarn.enough(told(begun(brim_mm=60.0), stash(400.0)))
    assert plenty.startswith("Yes: ")
    short = yarn.enough(told(begun(brim_mm=60.0), stash(86.0), *rounds(9), weighed(78.0)))
    assert short.startswith("Perhaps not: you need")
    order = [short.index(way) for way in ("a brim of", "deep", "another colour")]
    assert order == sorted(order)
    assert "at the latest" in short
    hopeless = yarn.enough(told(begun(brim_mm=60.0), stash(20.0)))
    assert "get more yarn" in hopeless
    assert "I have two hundred grams" in yarn.enough(begun())


def test_a_wrong_unit_is_told_the_right_one() -> None:
    for key, right in (("ball_g", "grams"), ("ball_m", "metres"), ("hook_mm", "millimetres")):
        command = c.Change(key, Amount(4.0, unit=Unit.OUNCE if key != "ball_g" else Unit.INCH))
        with pytest.raises(Refused) as caught:
            decide(begun(), command)
        assert right in refusal(caught.value, begun().settings)


LEARNED = Edition(readings=True)


def test_the_write_up_uses_what_was_learned() -> None:
    state = told(begun(ball_g=50.0, ball_m=85.0), stash(200.0), *rounds(12))
    usual = as_text(as_made(state, "Test", LEARNED), 200)
    assert "none was weighed" in usual
    assert "50 g, 85 m (93 yd)" in usual
    learned_text = as_text(as_made(told(state, weighed(170.0)), "Test", LEARNED), 200)
    assert "by weighing it 1 time on the way" in learned_text
    assert usual.partition("Grams: ")[2] != learned_text.partition("Grams: ")[2]
    planned = as_text(as_planned(told(state, weighed(170.0)), "Test", LEARNED), 200)
    assert "by weighing it 1 time" in planned


def test_a_journal_of_before_still_reads_and_goes_on() -> None:
    """Lines of record version 1, as they were written before there were weighings."""
    old: Codec[object] = Codec(
        (Begun, QuestionAnswered, RoundFinished, RoundOffered, SetupDone), parts=(Round,)
    )
    first = opening(State(), {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0})
    second = decide(fold(State(), first), NEXT)
    lines = [
        write_line(old, n, Turn[object](events, AT)) for n, events in enumerate((first, second), 1)
    ]
    assert all(json.loads(line)["v"] == 1 for line in lines)
    state = state_after(read_lines(kept("Hat"), b"".join(lines), CODEC).turns)
    assert state == told(begun(), NEXT)
    third = write_line(CODEC, 3, Turn(decide(state, stash(80.0)), AT))
    again = state_after(read_lines(kept("Hat"), b"".join([*lines, third]), CODEC).turns)
    assert on_hand(again) == on_hand(told(state, stash(80.0)))


@pytest.mark.parametrize("share", [0.97, 0.85, 0.8])
def test_the_edge_in_another_colour_is_as_short_as_the_yarn_allows(share: float) -> None:
    """A brim of one more round of this yarn would not last, and the brim is as wide as before."""
    state = told(begun(brim_mm=60.0), *rounds(12))
    use = use_of(state)
    need = left(state, use).grams
    grams = share * (need.mean + SAFE * need.sd)
    (edge,) = [
        fit
        for fit in enough(state, use, grams=grams).fits
        if fit.saving is Saving.OTHER_COLOUR_EDGE
    ]
    other = edge_rounds(state, edge)
    assert 0 < other <= brim_total(state.piece)
    own = edge.value_mm + state.piece.gauge.height_mm
    more = told(state, c.Choose("brim_mm", own))
    assert not enough(more, use, grams=grams).enough


def test_yarn_is_told_in_grams_metres_and_whole_balls_with_their_spread() -> None:
    said = yarn.needed(begun(ball_g=50.0, ball_m=85.0))
    assert said.count("at most") == 2
    assert "balls to be safe." in said


def test_a_bare_weight_is_that_of_the_yarn_left() -> None:
    """Nothing else is weighed; a bare length is still asked about."""
    state = told(begun(), stash(200.0), *rounds(12))
    bare = told(state, c.Answer(Amount(180.0, unit=Unit.GRAM)))
    assert bare.weighed == told(state, weighed(180.0)).weighed
    plain = told(begun(), NEXT)
    assert why_refused(plain, c.Answer(Amount(6.0, unit=Unit.INCH))) is Reason.NOTHING_ASKED


@pytest.mark.parametrize("words", ["half a pound", "eight ounces", "227 grams"])
def test_yarn_told_freely_is_read_back_in_grams(words: str) -> None:
    before, (reply,) = said("R", f"I reckon I've got {words} of wool")
    assert reply.say == "The weight of the yarn, in grams, two hundred and twenty seven? Yes or no."
    assert reply.state == before


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("a ball weighs 62.5 grams", "Sixty two and a half grams in a ball."),
        ("a ball weighs 2 ounces", "Fifty seven grams in a ball."),
        ("a ball has 100 yards", "Ninety one metres in a ball."),
    ],
)
def test_what_was_told_is_read_back_as_told_and_what_was_converted_whole(
    words: str, told: str
) -> None:
    assert said("R", words)[1][0].say.startswith(told)
