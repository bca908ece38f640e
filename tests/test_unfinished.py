"""What is waited for: after the attention words, and amid talk after what may go on."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from tests.sound_helpers import Says
from voice.hearing.attention import Attention, Called, When
from voice.hearing.continuation import (
    AFTER_CALL_S,
    AFTER_NUMBER_S,
    AFTER_WORD_S,
    AMID_TALK_S,
    more_within_s,
    with_more,
)
from voice.hearing.evidence import Action, Context, Evidence, Reason, Verdict
from voice.hearing.listening import Hearing, Whole
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sound.endpoint import Segment
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.phrases import read


def test_nothing_is_waited_for_twice_nor_after_a_part_nor_in_quiet_but_after_a_number() -> None:
    for words, called, action, unfinished, amid_talk, waited, part in product(
        ("next", "count seventy"), Called, Action, (True, False), (True, False), (True, False), Part
    ):
        command = read(words)
        what = Verdict(words, command, action, Reason.CLEAR, called=called, unfinished=unfinished)
        evidence = Evidence(Opinion((), "ear"), part, amid_talk=amid_talk, waited=waited)
        more_s = more_within_s(what, evidence)
        unclear = action is Action.ASK or (action is Action.SILENT and called is Called.YES)
        if waited or not part.complete:
            assert more_s == 0
        elif called is Called.ONLY:
            assert more_s == AFTER_CALL_S
        elif not amid_talk and unfinished and words == "count seventy":
            assert more_s == AFTER_NUMBER_S
        elif not amid_talk or not (unclear or unfinished):
            assert more_s == 0
        elif unclear or words == "count seventy":
            assert more_s == AMID_TALK_S
        else:
            assert more_s == AFTER_WORD_S


def _made_out(words: str, action: Action = Action.ACT, score: float = 0.8) -> Verdict:
    return Verdict(words, read(words), action, Reason.CLEAR, score)


@pytest.mark.parametrize(
    ("now", "taken"),
    [
        (_made_out("count seventy two", score=0.6), True),
        (_made_out("count seventy two", Action.ASK, 0.4), True),
        (_made_out("count seven", score=0.9), True),
        (_made_out("count seven", score=0.7), False),
        (_made_out("count seven", Action.ASK, 0.9), False),
        (_made_out("count seventy", score=0.7), False),
        (_made_out("", Action.SILENT, 0.0), True),
    ],
)
def test_what_sounds_on_is_more_of_a_phrase_only_where_it_goes_on_from_it(
    now: Verdict, taken: bool
) -> None:
    before = _made_out("count seventy")
    assert with_more(before, now) == (now if taken else before)
    unclear = replace(before, action=Action.ASK)
    assert with_more(unclear, now) == now, "nothing was clear before"


def _opinion(words: str, score: float) -> Opinion:
    return Opinion((Hypothesis(words, score),), "ear")


@pytest.mark.parametrize("waited", [True, False])
def test_what_is_begun_is_waited_for_once_and_remembered_for_what_sounds_on(waited: bool) -> None:
    whole, sound = Whole(), np.zeros(16_000, np.int16)
    first = Segment(1.0, 2.0, 2.0, sound)
    same, later = (Segment(at_s, at_s + 2, at_s + 2, sound, waited=waited) for at_s in (1.0, 1.5))
    begun = Evidence(_opinion("count seventy", 0.97), unfinished=True)
    fainter = Evidence(_opinion("count seven", 0.95))
    for segment, text in ((same, "count seventy"), (later, "count seven")):
        assert whole.heard(first, begun, Context()).more_s == AFTER_NUMBER_S
        what = whole.heard(segment, fainter, Context())
        assert (what.text, what.action) == (text, Action.ACT)
        assert what.more_s == (0 if waited or segment is later else AFTER_NUMBER_S)


@pytest.mark.parametrize(
    ("words", "more"),
    [
        ("count seventy", True),
        ("sounds", True),
        ("narrower by one", True),
        ("next", True),
        ("undo", False),
        ("three sets", False),
        ("it ripples", False),
        ("where am i", False),
    ],
)
@pytest.mark.parametrize("when", When)
def test_what_would_mean_the_same_with_more_words_is_whole(
    words: str, more: bool, when: When
) -> None:
    attention = Attention(when=when)
    said = f"{attention.words} {words}" if attention.needed else words
    hearing = Hearing(Says(Opinion((Hypothesis(said, 0.9),), "ear")))
    what = hearing.decide(np.ones(1, np.int16), attention=attention)
    assert (what.text, what.unfinished) == (words, more)


@pytest.mark.parametrize("when", When)
def test_real_engines_tell_what_may_go_on(hearing: Hearing, when: When) -> None:
    attention = Attention(when=when)
    lead = f"{attention.words}, " if attention.needed else ""
    with Renderer(Delivery()) as renderer:
        for words, more in (("count seventy", True), ("where am i", False)):
            what = hearing.decide(renderer.render(lead + words), attention=attention)
            assert (what.text, what.unfinished) == (words, more)
