"""A denied fault or step is not done, and too little is not taken for enough."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest

from pattern.session import commands as c
from pattern.session.commands import Fit
from pattern.trade.lengths import Unit
from tests.wordings.places import FOLDER, caller_at, cases
from voice.words.free.clear import clear
from voice.words.free.denied import denies
from voice.words.free.matched import Match
from voice.words.free.matching import match
from voice.words.free.meanings import MEANINGS
from voice.words.free.spellings import said_plainly

DENIED = (
    "it isn't too tight",
    "I don't think it's too loose",
    "it doesn't slide down",
    "it's not cupping",
    "the edge isn't rippling any more",
    "I did not rip back two rounds",
    "don't rip anything",
    "I haven't started the brim yet",
    "don't start the brim",
    "I do not want to begin the sides yet",
    "I'm not done with this one",
    "the round isn't finished",
    "I don't want to finish now",
    "I haven't tried it on yet",
    "not yet",
    "it doesn't cover my ears yet",
    "it's not flat",
    "I'm not sure it's wide enough",
    "what if it slides down",
    "I don't want another one",
)
LACKING = {
    "I tried it on, it feels too shallow": Fit.SHORT,
    "I tried it on and it's not deep enough": Fit.SHORT,
    "it's not quite long enough on me": Fit.SHORT,
    "I don't think it's deep enough": Fit.SHORT,
    "it feels a bit short": Fit.SHORT,
    "it's not big enough": Fit.TIGHT,
    "not really tight enough": Fit.LOOSE,
}
NOT_DENIED = (
    "isn't it too tight",
    "it does not lie flat, it ripples",
    "it's not tight enough",
    "it's too tight",
    "rip back two rounds",
    "I want to start the brim",
    "it won't go over my ears",
)


@pytest.mark.parametrize(("said", "place"), [*product(DENIED, ("R", "S", "M"))])
def test_what_is_denied_changes_nothing_even_after_a_yes(said: str, place: str) -> None:
    caller = caller_at(place)
    before = caller.state.piece
    for words in (said, "yes"):
        caller.hear(words)
        assert caller.state.piece == before


@pytest.mark.parametrize("said", NOT_DENIED)
def test_a_question_a_lack_or_a_wish_denies_nothing(said: str) -> None:
    assert not denies(said_plainly(said))


@pytest.mark.parametrize("said", LACKING)
def test_of_what_there_is_too_little_is_asked_about_as_that(said: str) -> None:
    found = clear(said, caller_at("S").state)
    assert isinstance(found, Match)
    assert (found.command, found.asks) == (c.TriedOn(LACKING[said], None), True)


@pytest.mark.parametrize("said", ["the brim isn't wide enough", "the brim doesn't hide my eyes"])
def test_a_brim_that_is_not_as_it_should_be_does_not_end(said: str) -> None:
    caller = caller_at("M")
    before = caller.state.piece
    for words in (said, "yes"):
        assert caller.hear(words).state.piece == before


@pytest.mark.parametrize("said", ["don't begin yet", "I don't want a beret", "what's a spiral"])
def test_in_the_interview_what_is_denied_or_asked_about_is_not_chosen(said: str) -> None:
    caller = caller_at("I-begin")
    before = caller.state
    after = caller.hear(said).state
    assert (after.stage, after.settings) == (before.stage, before.settings)


@pytest.mark.parametrize(
    ("said", "brim_mm"),
    [("brim no more than five centimetres", 50.0), ("a wide brim but not more than eight", 80.0)],
)
def test_a_most_is_no_more(said: str, brim_mm: float) -> None:
    found = clear(said, caller_at("S").state)
    assert isinstance(found, Match)
    assert isinstance(found.command, c.Change)
    assert found.command.amount.mm(Unit.CM) == brim_mm


@pytest.mark.parametrize("file", ["looked_at.txt", "kept_apart.txt"])
def test_the_one_thing_that_is_near_is_offered_only_where_its_noun_is_no_other_meaning(
    file: str,
) -> None:
    """ "Hear how it fits" tells not whether a yes would make it tight or loose."""
    nouns = Counter(meaning.noun for meaning in MEANINGS.values())
    found = [match(case.said, caller_at(case.place).state) for case in cases(FOLDER / file)]
    assert all(nouns[one.near[0]] == 1 for one in found if one.nearest is not None)
