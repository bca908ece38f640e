"""Answers and questions in a maker's own words, each by rule. Words: common usage, no source."""

from __future__ import annotations

import pytest

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.names import yarn_in
from pattern.trade.techniques import Technique
from pattern.trade.yarns_and_hooks import YARNS
from tests.wordings.places import caller_at, said
from voice.caller.reply import Reply, Verdict
from voice.words.free.heads_told import grown_head_in
from voice.words.free.lying_asked import asks_how_it_lies
from voice.words.free.spoken import match_spoken
from voice.words.free.yarn_compared import yarn_compared


def reply_to(place: str, words: str) -> tuple[State, Reply]:
    before, (reply,) = said(place, words)
    return before, reply


@pytest.mark.parametrize("name", ["lace", "sock", "sport", "dk", "aran", "chunky", "super chunky"])
def test_thicker_and_thinner_are_the_classes_beside(name: str) -> None:
    # Source of the classes: Craft Yarn Council, Standard Yarn Weight System, through the names.
    number = yarn_in(name)
    assert number is not None
    assert yarn_compared(f"a bit thicker than {name}") == min(number + 1, len(YARNS) - 1)
    assert yarn_compared(f"not as thick as {name}") == max(number - 1, 0)
    assert yarn_compared(f"it is thinner than {name}") == max(number - 1, 0)


def test_between_two_names_there_is_one_class_or_a_question() -> None:
    assert yarn_compared("thicker than dk but thinner than chunky") == yarn_in("aran")
    assert yarn_compared("somewhere between sock and double knitting") == yarn_in("sport")
    before, reply = reply_to("I-yarn", "between dk and aran")
    assert reply.command == c.Explain(Technique.YARN_CLASS)
    assert reply.state.settings == before.settings


def test_a_bit_thinner_than_aran_is_no_aran() -> None:
    _, reply = reply_to("I-yarn", "it's a bit thinner than aran")
    assert reply.state.settings.yarn == yarn_in("dk")


@pytest.mark.parametrize(
    ("words", "size"),
    [
        ("big head mine", "large"),
        ("my head is on the small side", "small"),
        ("i have a really big head", "extra large"),
        ("average head me", "medium"),
        ("bigger than most", "large"),
    ],
)
def test_one_s_own_head_by_an_adjective_is_the_size_of_that_name(words: str, size: str) -> None:
    told, named = reply_to("I-head", words)[1], reply_to("I-head", size)[1]
    assert told.state.settings.head_mm == named.state.settings.head_mm
    assert told.state.question == named.state.question != "head_mm"


@pytest.mark.parametrize(
    "words", ["how big is my head", "my hat is too big", "i do not have a big head", "a big brim"]
)
def test_other_words_tell_no_head(words: str) -> None:
    assert grown_head_in(words) is None


@pytest.mark.parametrize(
    "words",
    ["does it look flat enough to you", "is it too wavy", "how flat does it have to be"],
)
def test_a_question_how_it_lies_tells_no_look(words: str) -> None:
    before, reply = reply_to("R", words)
    assert reply.command == c.Explain(Technique.NORMAL)
    assert reply.state == before


@pytest.mark.parametrize(
    "words", ["it lies flat", "it is still flat", "why is it a bowl", "should it curl yet"]
)
def test_what_tells_or_asks_for_a_reason_is_no_such_question(words: str) -> None:
    assert not asks_how_it_lies(words)


@pytest.mark.parametrize("words", ["how do I work two together", "what is three together"])
def test_a_question_with_a_number_is_explained(words: str) -> None:
    before, reply = reply_to("R", words)
    assert reply.command == c.Explain(Technique.DECREASE)
    assert reply.state == before


@pytest.mark.parametrize("place", ["R", "M", "S", "F", "P", "I-yarn"])
@pytest.mark.parametrize("words", ["bless you", "oh bless her heart", "good girl", "hush now you"])
def test_words_to_others_change_nothing(place: str, words: str) -> None:
    before, reply = reply_to(place, words)
    assert reply.state == before
    assert reply.command is None
    assert reply.verdict is not Verdict.DONE
    assert match_spoken(words, before) == ()


def test_the_yarn_that_was_used_grows_with_the_work() -> None:
    told = [reply_to(place, "how much yarn have i used")[1] for place in ("R", "S", "F")]
    assert {each.command for each in told} == {c.Ask(c.Asked.YARN_USED)}
    assert len({each.say for each in told}) == len(told)
    assert told[-1].say.count("in all") == 1
    for words in ("how much wool did it take", "how many balls went into it", "how heavy is it"):
        assert reply_to("F", words)[1].say == told[-1].say
    assert caller_at("F").state.piece.finished > caller_at("R").state.piece.finished
