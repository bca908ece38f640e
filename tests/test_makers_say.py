"""Plain sayings of makers at work and in the interview, and what each does or asks about.

Common usage, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.shape.fits import Fit
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.reply import Reply
from voice.words.spoken_numbers import say_integer

HAT = ("fifty six centimetres", "four", "five")
BEGUN = (*HAT, "begin")


def after(*lines: str) -> Caller:
    """A caller to whom these lines were typed."""
    caller = Caller(Unkept("hat"))
    caller.open()
    for line in lines:
        caller.hear(line)
    return caller


def worked(rounds: int, *before: str) -> Caller:
    """A caller of a hat with so many rounds."""
    return after(*before, *BEGUN, *["next"] * rounds)


def cm(value: float) -> Amount:
    """A length as it was said."""
    return Amount(value, 1.0, Unit.CM)


DONE: tuple[tuple[int, str, c.Command], ...] = (
    (3, "okay, that round's finished", c.Next()),
    (3, "got that one done", c.Next()),
    (3, "all done with that", c.Next()),
    (3, "I've already done that one", c.Next()),
    (3, "I finished one round", c.Next()),
    (7, "two rounds done", c.Ask(c.Asked.WHERE)),
    (2, "I've done four rounds", c.Ask(c.Asked.WHERE)),
    (7, "I've got five stitches left in this round", c.CountedIn(43)),
    (7, "I'm halfway round", c.CountedIn(24)),
    (4, "how many more increase rounds", c.Ask(c.Asked.PART_ROUNDS)),
    (4, "where do the increases go", c.Ask(c.Asked.AGAIN)),
    (4, "how many stitches do I have now", c.Ask(c.Asked.WHERE)),
    (2, "what is single crochet", c.Explain(Technique.STITCH)),
    (2, "how do I do a single crochet", c.Explain(Technique.STITCH)),
    (23, "it's not too small, it's fine", c.Ask(c.Asked.AGAIN)),
    (4, "I've changed to a thicker yarn", c.Explain(Technique.YARN_CLASS)),
    (4, "hello, I'm back after a few days, where did I stop", c.Ask(c.Asked.WHERE)),
    (4, "should I rip back two rounds?", c.Explain(Technique.MISTAKE)),
    (4, "can we go back to the start of this round", c.Ask(c.Asked.AGAIN)),
)
ASKED: tuple[tuple[int, str, c.Command], ...] = (
    (7, "I ripped back to round five", c.RippedBack(3)),
    (7, "I've frogged it back to round five", c.RippedBack(3)),
    (3, "I've only done two rounds", c.RippedBack(1)),
    (7, "make the sides twenty two centimetres", c.Change("depth_mm", cm(22.0))),
    (0, "make it deeper, twenty one", c.Change("depth_mm", Amount(21.0))),
    (0, "make it deeper by two", c.Adjust("depth_mm", Amount(2.0))),
    (0, "I want it twenty two deep", c.Change("depth_mm", Amount(22.0))),
    (0, "I want to add a brim of four centimetres instead", c.Change("brim_mm", cm(4.0))),
    (4, "I'm going to give this one to my mum instead", c.HeadOf(None, Sex.FEMALE)),
    (8, "his head is fifty nine", c.Change("head_mm", Amount(59.0))),
    (23, "it barely covers the top of my ears", c.TriedOn(Fit.ON_EARS, None)),
    (23, "not too tight but a bit loose", c.TriedOn(Fit.LOOSE, None)),
)


@pytest.mark.parametrize(("rounds", "text", "command"), DONE)
def test_it_is_done_at_once(rounds: int, text: str, command: c.Command) -> None:
    reply = worked(rounds).hear(text)
    assert (reply.command, reply.asks) == (command, None)


@pytest.mark.parametrize(("rounds", "text", "command"), ASKED)
def test_it_is_asked_about(rounds: int, text: str, command: c.Command) -> None:
    reply = worked(rounds).hear(text)
    assert reply.asks == command


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("two centimetres bigger than the head", 20.0),
        ("one centimetre wider than my head", 10.0),
        ("make it two centimetres bigger than the head", 20.0),
        ("two centimetres smaller than the head", -20.0),
    ],
)
def test_the_difference_to_the_head_goes_the_way_that_is_said(
    text: str, millimetres: float
) -> None:
    assert after(*HAT, text).state.settings.ease_mm == pytest.approx(millimetres)


def test_a_child_has_the_age_and_the_head_that_are_told() -> None:
    aged = after("bucket hat for my daughter, she's eight").state.settings
    assert aged.age_years == 8
    measured = after("hat for my daughter", "fifty two").state.settings
    assert measured.head == pytest.approx(520)


def test_uk_terms_and_the_stitch_are_both_taken() -> None:
    settings = after("56", "I'm using UK terms and double crochet").state.settings
    assert (settings.terms.value, settings.stitch.value) == ("uk", "single")


def test_so_few_millimetres_are_a_hook() -> None:
    caller = after("it's for my daughter, she's four", "dk", "four millimetres")
    assert caller.state.settings.hook == pytest.approx(4)


def test_the_usual_brim_comes_again() -> None:
    usual = worked(0).state.settings.brim
    caller = after("no brim", *BEGUN)
    assert caller.hear("I want a brim after all").asks is not None
    caller.hear("yes")
    assert caller.state.settings.brim == pytest.approx(usual)


MEANT = ("oops I mean {}", "sorry I meant {}", "I meant {}", "make that {}", "no, it's {}")


@given(st.sampled_from((*MEANT, "not eight, {}")), st.integers(9, 11))
def test_the_last_reading_is_corrected(how: str, right: int) -> None:
    typed, plain = worked(6), worked(6)
    for caller, said in ((typed, how.format(say_integer(right))), (plain, f"no {right}")):
        caller.hear("across eight")
        caller.hear(said)
    assert typed.state == plain.state
    assert typed.state.piece.gauge != worked(6).state.piece.gauge


def test_what_is_taken_back_is_named() -> None:
    caller = worked(6)
    for said in ("across nine and a half", "across ninety five"):
        caller.hear(said)
    assert caller.hear("no").say.startswith("Nine and a half across: taken back.")


def said_again(caller: Caller, *lines: str) -> Reply:
    """The reply to the last of some lines."""
    *before, last = lines
    for line in before:
        caller.hear(line)
    return caller.hear(last)


def test_what_was_offered_as_near_can_be_asked_about_again() -> None:
    """A question in place of an answer: it is answered, and the offer stands."""
    reply = said_again(worked(0), "I have ninety metres left", "where am i")
    assert reply.asks is not None
    assert reply.say.endswith("Yes or no.")


def test_no_to_a_number_that_is_asked_for_leaves_it() -> None:
    reply = said_again(worked(2), "I've skipped a stitch somewhere", "no")
    assert reply.say.startswith("All right, I leave it.")


def test_the_same_said_again_is_a_yes() -> None:
    reply = said_again(worked(3), "it's looking flat to me", "it's looking flat to me")
    assert reply.command == c.Lies(c.Look.FLAT)


def test_again_and_slower_is_both() -> None:
    caller = worked(4)
    rate = caller.state.speech.rate_wpm
    reply = caller.hear("can you say that again a bit slower")
    assert caller.state.speech.rate_wpm < rate
    assert "Round five" in reply.say


def test_what_is_told_on_coming_back_is_asked_about() -> None:
    caller = worked(4)
    reply = said_again(caller, "pause", "I'm back, and I ripped back one round")
    assert reply.command == c.Resume()
    assert reply.asks == c.RippedBack(1)
    assert caller.hear("yes").state.piece.finished == 3


@pytest.mark.parametrize("more", ["", "sorry, the dog wanted out. ", "that was my mum. "])
def test_other_talk_on_coming_back_is_nothing(more: str) -> None:
    reply = said_again(worked(4), "pause", f"{more}I'm back")
    assert (reply.command, reply.asks) == (c.Resume(), None)


def test_pain_is_answered_once_and_the_round_is_done() -> None:
    reply = worked(9).hear("round ten done, my wrist hurts")
    assert reply.state.piece.finished == 10
    assert reply.say.count("rest your hands") == 1


def test_three_things_are_taken_in_turn() -> None:
    caller = worked(5)
    reply = caller.hear("that's round six done, it's ten across and it lies flat")
    apart = worked(6)
    for line in ("ten across", "it lies flat"):
        apart.hear(line)
    assert reply.asks is None
    assert caller.state == apart.state


def test_what_comes_after_a_question_is_asked_about_after_its_answer() -> None:
    caller = worked(4)
    asked = caller.hear("make it two centimetres wider and one centimetre deeper")
    assert asked.asks == c.Adjust("brim_mm", cm(2.0))
    assert caller.hear("no").say.startswith("Twenty point seven centimetres deep.")


NOT_DONE = ("done no wait not done", "done and it's not done", "I'm not done yet, just a second")


@pytest.mark.parametrize("text", [*NOT_DONE, "next, no wait, go back", "undo, no, don't undo"])
def test_what_is_taken_back_in_the_same_breath_is_not_done(text: str) -> None:
    caller = worked(10)
    before = caller.state.piece
    assert caller.hear(text).asks is None
    assert caller.state.piece == before


def test_a_no_with_another_thing_does_that_thing() -> None:
    reply = said_again(worked(10), "it ripples a lot", "no sorry it cups")
    assert reply.command == c.Lies(c.Look.CUPS)


def test_undo_lets_go_of_what_is_only_asked_about() -> None:
    caller = worked(10)
    before = caller.state
    said_again(caller, "his head is sixty", "undo")
    assert caller.state == before


def test_a_smaller_head_at_the_end_of_the_crown_is_made_up_for() -> None:
    caller = worked(13)
    said_again(caller, "his head is fifty", "yes")
    offered = caller.state.offered
    assert offered is not None
    assert offered.after < caller.state.piece.stitches


@pytest.mark.parametrize("before", [(), HAT])
@pytest.mark.parametrize("text", ["begin, no don't begin", "begin, no wait"])
def test_to_begin_is_taken_back_in_the_same_breath(before: tuple[str, ...], text: str) -> None:
    caller = after(*before)
    caller.hear(text)
    assert caller.state.question is not None


def test_the_first_words_may_tell_all_that_is_asked() -> None:
    text = "fifty six centimetres, class four, and a five millimetre hook"
    assert after(text).state.settings == after(*HAT).state.settings


@pytest.mark.parametrize("who", ["other half", "better half", "partner"])
def test_a_partner_is_no_baby(who: str) -> None:
    """A "half" is nobody's age here: the head is asked for, or is a grown one."""
    for text in (f"it's for my {who}", f"it's for my {who}, quite a big noggin"):
        assert after(text).state.settings.head > 550
