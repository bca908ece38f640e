"""Act, ask or stay silent: one function decides it, and tells why."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import leaves_piece
from pattern.session.state import State
from pattern.trade.lengths import Amount
from voice.hearing.attention import Attention, Called, When
from voice.hearing.evidence import Action, Context, Evidence, Reason, Verdict
from voice.hearing.expectation import CLEAR
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import attention_after, verdict
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.words.free.matched import Match
from voice.words.free.spoken import match_spoken

WORDS = ("next", "undo", "yes", "no", "where am i", "count forty", "count fourteen", "resume")
LEAD = Attention().words
WHY = {
    Action.ACT: {Reason.CLEAR, Reason.PICKED, Reason.FREE},
    Action.ASK: {
        Reason.SEVERAL,
        Reason.UNSURE,
        Reason.DOUBTED,
        Reason.NOT_CLEAR_IN_TALK,
        Reason.UNCONFIRMED,
        Reason.BARE_REST,
        Reason.FREE_CHANGE,
    },
    Action.SILENT: {
        Reason.NO_PHRASE,
        Reason.FAINT_ANSWER,
        Reason.UNLIKELY,
        Reason.NOT_CALLED,
        Reason.LEFT_OUT,
        Reason.CALL_ALONE,
        Reason.CUT_OFF,
        Reason.NEITHER,
        Reason.PAUSED,
        Reason.TALKED_OVER,
    },
}
"""The reasons of each action; every reason is one of a single action."""


def hear(**scores: float) -> Opinion:
    found = (Hypothesis(words.replace("_", " "), score) for words, score in scores.items())
    return Opinion(tuple(found), "ear")


@st.composite
def opinions(draw: st.DrawFn) -> Opinion:
    """Some phrases, some after the attention words, whose probabilities are 1 in all at most."""
    words = draw(st.lists(st.sampled_from([*WORDS, "forty", "gibberish"]), max_size=4, unique=True))
    led = draw(st.sampled_from(["", f"{LEAD} "]))
    shares = [draw(st.sampled_from([0.001, 0.02, 0.1, 0.4, 1.0])) for _ in words]
    total = sum(shares) / draw(st.sampled_from([1.0, 0.99, 0.9, 0.6]))
    found = [Hypothesis(led + w, share / total) for w, share in zip(words, shares, strict=True)]
    if led and draw(st.booleans()):
        found = [Hypothesis(LEAD, 0.9)]
    found.sort(key=lambda hypothesis: -hypothesis.score)
    confirmed = draw(st.sampled_from([None, (), ("next",)]))
    return Opinion(tuple(found), "ear", draw(st.booleans()), confirmed)


EVIDENCE = st.builds(
    Evidence,
    opinions(),
    st.sampled_from(Part),
    amid_talk=st.booleans(),
    unfinished=st.booleans(),
    without_call=st.none() | opinions(),
    waited=st.booleans(),
    texts=st.none() | opinions().map(lambda opinion: opinion.hypotheses),
)
CONTEXTS = st.builds(
    Context,
    st.sampled_from([lambda _: 1.0, lambda _: 9.0, lambda _: 0.05]),
    attention=st.none() | st.builds(Attention, when=st.sampled_from(When), on=st.booleans()),
    asked=st.sampled_from([(), (c.Counted(40), c.Counted(14)), (c.Pause(),)]),
    paused=st.booleans(),
    insists=st.booleans(),
    free=st.sampled_from([None, partial(match_spoken, state=State())]),
)


def test_every_reason_belongs_to_one_action() -> None:
    assert sorted(why for reasons in WHY.values() for why in reasons) == sorted(Reason)


@given(EVIDENCE, CONTEXTS)
def test_the_reason_fits_what_is_done_and_so_do_the_commands(
    evidence: Evidence, context: Context
) -> None:
    found = verdict(evidence, context)
    assert found == verdict(evidence, context), "nothing is remembered"
    assert found.reason in WHY[found.action]
    assert (found.command is None) is (found.action is Action.SILENT)
    assert bool(found.candidates) is (found.action is Action.ASK)
    if found.action is Action.ASK:
        assert found.command == found.candidates[0]
        assert len(found.candidates) == len(found.alternatives)
    if found.action is Action.ACT:
        meant = found.said == found.command or found.command in context.asked
        assert meant or isinstance(found.said, c.No)


@given(EVIDENCE, CONTEXTS)
def test_of_a_part_nothing_is_done_and_of_what_goes_on_nothing_yet(
    evidence: Evidence, context: Context
) -> None:
    found = verdict(evidence, context)
    assert evidence.part.complete or found.action is Action.SILENT
    assert not (found.more_s and (evidence.waited or not evidence.part.complete))
    again = verdict(replace(evidence, before=found, waited=True), context)
    assert again.more_s == 0


@given(EVIDENCE, CONTEXTS)
def test_what_is_unconfirmed_never_changes_the_piece(evidence: Evidence, context: Context) -> None:
    alone = replace(evidence, opinion=replace(evidence.opinion, confirmed=()))
    found = verdict(alone, replace(context, asked=()))
    assert found.action is not Action.ACT or (
        found.command is not None and leaves_piece(found.command)
    )


@given(EVIDENCE, CONTEXTS)
def test_talk_around_never_turns_silence_into_a_deed(evidence: Evidence, context: Context) -> None:
    quiet, amid = (
        verdict(replace(evidence, amid_talk=talk, waited=True), context) for talk in (False, True)
    )
    assert not (quiet.action is Action.SILENT and amid.action is Action.ACT)


ON = Attention(on=True)
WRITTEN = Evidence(hear(), texts=(Hypothesis("words for a change", 1.0),))
CASES: dict[Reason, tuple[Evidence, Context]] = {
    Reason.CLEAR: (Evidence(hear(next=0.97)), Context()),
    Reason.PICKED: (Evidence(hear(yes=0.97)), Context(asked=(c.Pause(),))),
    Reason.FREE: (WRITTEN, Context(free=lambda _: (Match(c.Help(), chance=1.0),))),
    Reason.FREE_CHANGE: (WRITTEN, Context(free=lambda _: (Match(c.Undo(), True, chance=1.0),))),
    Reason.SEVERAL: (Evidence(hear(count_sixteen=0.5, count_sixty=0.48)), Context()),
    Reason.UNSURE: (Evidence(hear(next=0.4)), Context(lambda _: 50.0)),
    Reason.DOUBTED: (Evidence(replace(hear(next=0.97), doubtful=True)), Context()),
    Reason.NOT_CLEAR_IN_TALK: (
        Evidence(hear(where_am_i=CLEAR - 0.01), amid_talk=True),
        Context(lambda _: 10.0),
    ),
    Reason.UNCONFIRMED: (Evidence(replace(hear(next=0.97), confirmed=())), Context()),
    Reason.BARE_REST: (
        Evidence(hear(forty=0.97), Part.REST),
        Context(reader=lambda words: c.Measured(Amount(float(len(words))), c.Kind.AROUND)),
    ),
    Reason.NO_PHRASE: (Evidence(hear()), Context()),
    Reason.FAINT_ANSWER: (Evidence(hear(yes=0.7)), Context(lambda _: 40.0)),
    Reason.UNLIKELY: (Evidence(hear(next=0.3)), Context()),
    Reason.NOT_CALLED: (Evidence(hear(next=0.97)), Context(attention=Attention(when=When.ALWAYS))),
    Reason.LEFT_OUT: (Evidence(hear(), without_call=hear(next=0.97)), Context(attention=ON)),
    Reason.CALL_ALONE: (
        Evidence(Opinion((Hypothesis(LEAD, 0.9),), "ear"), waited=True),
        Context(attention=ON),
    ),
    Reason.CUT_OFF: (Evidence(hear(next=0.97), Part.TAIL), Context()),
    Reason.NEITHER: (Evidence(hear(no=0.97)), Context(asked=(c.Pause(),))),
    Reason.PAUSED: (Evidence(hear(next=0.3)), Context(paused=True)),
    Reason.TALKED_OVER: (Evidence(hear(next=0.3)), Context(insists=True)),
}


@pytest.mark.parametrize("reason", Reason)
def test_every_reason_has_its_case(reason: Reason) -> None:
    assert verdict(*CASES[reason]).reason is reason


@given(st.sampled_from(sorted(CASES)), st.floats(0.0, 1e4))
def test_a_room_is_thought_to_talk_only_by_what_was_no_phrase(reason: str, now_s: float) -> None:
    evidence, context = CASES[Reason(reason)]
    found: Verdict = verdict(evidence, context)
    attention = context.attention or Attention()
    after, _ = attention_after(attention, found, now_s)
    noted = now_s in after.others_s
    talk = found.action is Action.SILENT and found.called is Called.NOT
    assert noted is (talk and found.reason not in {Reason.NEITHER, Reason.LEFT_OUT})
