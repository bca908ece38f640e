"""What is waited for: after the attention words, and amid talk after what may go on."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from voice.attention import Attention, Called, When
from voice.delivery import Delivery
from voice.endpoint import Segment
from voice.hearing import Action, Heard, Hearing
from voice.phrases import Group, grammar_of, read
from voice.recognisers.word_graph import word_graph
from voice.speaker import Renderer
from voice.turn_state import Part
from voice.unfinished import AFTER_CALL_S, AFTER_WORD_S, AMID_TALK_S, more_within_s


def test_nothing_is_waited_for_twice_nor_after_a_part_nor_in_quiet_after_a_phrase() -> None:
    for words, called, action, unfinished, amid_talk, waited, part in product(
        ("next", "count seventy"), Called, Action, (True, False), (True, False), (True, False), Part
    ):
        what = Heard(words, read(words), action, 1.0, (), "ear", 0.0, (), called, unfinished)
        sound = np.zeros(16_000, np.int16)
        segment = Segment(1.0, 2.0, 2.0, sound, amid_talk=amid_talk, waited=waited)
        more_s = more_within_s(what, segment, part)
        unclear = action is Action.ASK or (action is Action.SILENT and called is Called.YES)
        if waited or not part.complete:
            assert more_s == 0
        elif called is Called.ONLY:
            assert more_s == AFTER_CALL_S
        elif not amid_talk or not (unclear or unfinished):
            assert more_s == 0
        elif unclear or words == "count seventy":
            assert more_s == AMID_TALK_S
        else:
            assert more_s == AFTER_WORD_S


@pytest.mark.parametrize(
    ("words", "more"),
    [("count seventy", True), ("sounds", True), ("narrower by one", True), ("undo", True),
     ("it ripples", False), ("where am i", False), ("no such words", False)],
)  # fmt: skip
def test_the_grammar_tells_what_may_go_on(words: str, more: bool) -> None:
    assert word_graph(grammar_of(frozenset(Group))).goes_on(words) is more


@pytest.mark.parametrize("when", When)
def test_real_engines_tell_what_may_go_on(hearing: Hearing, when: When) -> None:
    attention = Attention(when=when)
    lead = f"{attention.words}, " if attention.needed else ""
    with Renderer(Delivery()) as renderer:
        for words, more in (("count seventy", True), ("where am i", False)):
            what = hearing.decide(renderer.render(lead + words), attention=attention)
            assert (what.text, what.unfinished) == (words, more)
