"""Own words: several answers at once, changes without a number, counts, interruptions."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.shape_names import SHAPE_NAMES
from pattern.shape.usual import usual_ease_mm
from pattern.trade.head_medians import Sex, head_median_mm
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from tests.hats import said as done
from tests.pieces import Story, begun, stories
from tests.properties import examples
from tests.wordings.places import caller_at, others, said
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.reply import Verdict
from voice.words.free.counts_off import as_called, instead_of
from voice.words.free.fit_changes import fit_change
from voice.words.free.part_balls import part_of_ball
from voice.words.free.pausing import interrupts
from voice.words.free.spellings import said_plainly
from voice.words.free.to_begin import to_begin
from voice.words.free.told_at_once import told_at_once
from voice.words.free.vague_changes import vague_change, wanted_size
from voice.words.spoken_numbers import say_integer

HEADS = {
    "for my husband": head_median_mm(30, Sex.MALE),
    "for my wife": head_median_mm(30, Sex.FEMALE),
    "for my grandson who is four": head_median_mm(4, Sex.MALE),
    "for a girl of seven": head_median_mm(7, Sex.FEMALE),
    "for a head of 56 centimetres": 560.0,
}
YARNS = {"in chunky wool": 5, "using DK cotton": 3, "with some aran yarn": 4}
HOOKS = {"with a six mil hook": 6.0, "and a 4.5 mm hook": 4.5, "on an H hook": 5.0}
NAMES = st.sampled_from(sorted(set(SHAPE_NAMES) - {"ball", "rug"}))


@given(
    st.sampled_from(["I'd like", "hello, could we make", "I fancy"]),
    NAMES,
    st.permutations([HEADS, YARNS, HOOKS]),
    st.data(),
)
@settings(max_examples=examples(60), deadline=None)
def test_all_that_one_sentence_tells_is_taken(
    begins: str, name: str, kinds: list[dict[str, float]], data: st.DataObject
) -> None:
    """Sources: as in tests/test_any_name.py."""
    told = [data.draw(st.sampled_from(sorted(kind))) for kind in kinds]
    words = f"{begins} a {name} {' '.join(told)}"
    state = State()
    for command in told_at_once(words, state):
        assert isinstance(command, c.Choose | c.Change | c.HeadOf)
        state = done(state, command)
    (yarn, hook, head) = (
        next(table[one] for one in told if one in table) for table in (YARNS, HOOKS, HEADS)
    )
    shape = state.settings.shape
    assert shape.name == SHAPE_NAMES[name]
    assert (state.settings.yarn, state.settings.hook_mm) == (yarn, hook)
    if shape.for_head:
        assert state.settings.head_mm == pytest.approx(head)


def test_each_is_read_back_and_one_question_follows() -> None:
    caller = caller_at("I-head")
    reply = caller.hear("a beanie for my daughter in aran, please")
    assert reply.say == "A close cap. Class four, medium. How old is the child?"
    assert caller.hear("seven").say.startswith("The head of a girl of seven years, about")


def test_one_answer_alone_is_left_to_the_question() -> None:
    for words in ("my husband", "some chunky wool", "I've a ball of aran here", "56 cm"):
        assert told_at_once(words, State()) == ()


VAGUE = st.builds(
    "{} {} {}".format,
    st.sampled_from(["can we make it", "I'd like it", "could it be", "please make it"]),
    st.sampled_from(["a bit", "slightly", "a touch", "just a little", "a tad"]),
    st.sampled_from(["deeper", "longer", "shorter", "wider", "narrower in the brim"]),
)


@given(stories(), VAGUE)
@settings(max_examples=examples(60), deadline=None)
def test_a_bit_is_a_change_of_its_own_sort(story: Story, words: str) -> None:
    found = vague_change(said_plainly(words), story.state)
    assert found is not None
    assert found.key == ("brim_mm" if "wider" in words or "narrower" in words else "depth_mm")
    assert found.less == ("shorter" in words or "narrower" in words)


@given(
    st.sampled_from(["close cap", "beret", "brimmed hat"]),
    st.sampled_from(["make it", "can it be", "I'd like it"]),
    st.sampled_from(["a bit looser", "slightly tighter", "as big as his head"]),
)
def test_the_fit_is_changed_in_words(shape: str, begins: str, fit: str) -> None:
    state = done(State(), c.Choose("shape", shape), c.Choose("unit", "centimeter"))
    found = fit_change(said_plainly(f"{begins} {fit}"), state)
    assert found is not None
    after = done(state, found).settings.ease_mm
    was = usual_ease_mm(state.settings)
    wanted = {"looser": was + 10, "tighter": was - 10, "head": 0.0}[fit.rsplit(maxsplit=1)[-1]]
    assert after == pytest.approx(wanted)


@pytest.mark.parametrize("place", ["R", "A", "S", "B"])
@pytest.mark.parametrize(
    "words", ["can we make it a bit longer", "I'd rather it was two inches of brim"]
)
def test_at_work_it_is_asked_first(place: str, words: str) -> None:
    before, (reply,) = said(place, words)
    assert reply.verdict is Verdict.ASKED
    assert reply.state == before


@pytest.mark.parametrize(
    "words",
    [
        "it is wider than i thought",
        "is the brim wider now",
        "the brim is two inches",
        "i want to add one centimetre to the brim",
    ],
)
def test_what_only_tells_or_asks_wants_no_change(words: str) -> None:
    assert vague_change(words, State()) is None
    assert wanted_size(words) is None


@given(st.integers(1, 9), st.sampled_from(["instead of", "and not", "but you said"]))
def test_the_count_beside_the_called_one_is_the_one_found(off: int, joins: str) -> None:
    state, _ = said("R")
    assert state.offered is not None
    called = state.offered.after
    for count in (called - off, called + off):
        words = f"i got {say_integer(count)} {joins} {say_integer(called)}"
        found = instead_of(words.replace("and not", "rather than"), state)
        assert found == (c.Counted(count) if count != state.piece.stitches else None)
    assert as_called(f"{say_integer(called)} it is", state) == c.Counted(called)
    assert as_called(f"{say_integer(called + 100)} it is", state) is None


def test_a_round_that_is_told_done_by_its_number_is_done_only_if_it_is_the_one() -> None:
    before, (reply,) = said("R", "that's round eight done")
    assert before.offered is not None
    assert before.offered.number == 8
    assert reply.state.piece.finished == 8
    _, (other,) = said("R", "that's round five done")
    assert other.state == before


@pytest.mark.parametrize(
    "words",
    [
        "hang on, somebody's at the door",
        "hold on while I get the door",
        "wait, the phone's ringing",
        "back in a tick",
        "just a minute please",
    ],
)
@pytest.mark.parametrize("place", ["I-head", "R", "A"])
def test_who_asks_to_wait_is_waited_for(place: str, words: str) -> None:
    before, (reply,) = said(place, words)
    assert reply.state.paused
    assert reply.state.piece == before.piece


def test_nothing_said_to_others_is_taken_by_these_rules() -> None:
    state, _ = said("R")
    plain = [said_plainly(words) for words in others()]
    assert [words for words in plain if interrupts(words) or to_begin(words)] == []
    assert [words for words in plain if instead_of(words, state) or as_called(words, state)] == []
    assert [words for words in plain if wanted_size(words) or fit_change(words, state)] == []
    assert [words for words in plain if vague_change(words, state)] == []
    assert [words for words in others() if told_at_once(words, State())] == []


@pytest.mark.parametrize("words", ["sounds lovely, let's go", "that's fine", "off we go", "start"])
def test_a_yes_in_any_words_begins(words: str) -> None:
    before, (reply,) = said("I-begin", words)
    assert before.question == BEGIN
    assert reply.state.offered is not None


@pytest.mark.parametrize("words", ["no", "change something", "what can I change"])
def test_what_may_change_is_told_by_examples_that_are_understood(words: str) -> None:
    before, (reply,) = said("I-begin", words)
    assert reply.state == before
    told = [each for each in reply.say.split("'")[1::2] if each != "ask me everything"]
    assert len(told) >= 4
    for each in told:
        _, (changed,) = said("I-begin", each)
        assert changed.state.settings != before.settings, each


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("when does the brim begin", c.Asked.ROUNDS),
        ("am I nearly finished with the top", c.Asked.ROUNDS),
        ("will it fit", c.Asked.SIZE_NOW),
        ("does it fit now, do you think", c.Asked.SIZE_NOW),
        ("I've got about a third of a ball left", c.Asked.ENOUGH),
    ],
)
def test_a_question_is_answered_and_nothing_is_done(words: str, asked: c.Asked) -> None:
    before, (reply,) = said("A", words)
    assert reply.command == c.Ask(asked)
    assert reply.verdict is Verdict.DONE
    assert reply.state.piece == before.piece


@given(st.sampled_from(["half", "a third", "two thirds", "a quarter", "three quarters"]))
def test_a_part_of_a_ball_is_weighed_where_a_ball_is_known(part: str) -> None:
    known = done(begun(), c.Change("ball_g", Amount(100.0, unit=Unit.GRAM)))
    weighed = part_of_ball(said_plainly(f"I have {part} of a ball left"), known)
    share = {"half": 50, "third": 100 / 3, "two thirds": 200 / 3, "quarter": 25}
    grams = share.get(part.removeprefix("a "), 75)
    assert isinstance(weighed, c.Weighed)
    assert weighed.amount.value == pytest.approx(grams)


def test_who_leaves_is_asked_nothing_more() -> None:
    _, (asked, left) = said("A", "chuck the last round out", "I want to stop for the night")
    assert asked.verdict is Verdict.ASKED
    assert left.say.endswith("Goodbye.")


def test_beginning_early_is_asked_about() -> None:
    caller = Caller(Unkept("early"))
    caller.open()
    asked = caller.hear("okay let's get going")
    assert asked.verdict is Verdict.ASKED
    assert "Round one" in caller.hear("yes").say


@pytest.mark.parametrize("words", ["no thanks", "no, thank you", "nah", "not really"])
def test_a_polite_no_is_one(words: str) -> None:
    before, (reply,) = said("Q", words)
    assert before.doubt is not None
    assert isinstance(reply.command, c.No)
    assert reply.state.doubt is None


@pytest.mark.parametrize(
    "words", ["I've swapped to a bigger hook", "I'm using a different hook now"]
)
@pytest.mark.parametrize(("told", "hook_mm"), [("six millimetres", 6.0), ("an H hook", 5.0)])
def test_another_hook_without_its_size_is_asked_for(words: str, told: str, hook_mm: float) -> None:
    """H is 5 mm by the Craft Yarn Council."""
    _, (asks, done) = said("S", words, told)
    assert asks.say.startswith("What size is the hook")
    assert done.state.settings.hook == pytest.approx(hook_mm)


@pytest.mark.parametrize(
    "words", ["somebody knocked my arm and it's come undone a bit", "it's unravelled a little"]
)
def test_what_has_come_undone_is_found_by_counting_to_the_hook(words: str) -> None:
    _, (reply,) = said("S", words)
    assert reply.say == "How many stitches are there from the marker to the hook?"


def test_a_newborn_is_asked_for_no_age() -> None:
    """Head at birth: see head_median_mm."""
    _, (reply,) = said("I-head", "it's for a newborn")
    assert reply.state.settings.head == pytest.approx(head_median_mm(0, Sex.MALE), abs=10)


@pytest.mark.parametrize("place", ["I-head", "R", "F"])
@pytest.mark.parametrize(
    ("words", "topic"),
    [
        ("how do I measure a head", Technique.HEAD),
        ("where does the tape go on the head", Technique.HEAD),
        ("is this safe for a baby", Technique.SAFE),
        ("can he sleep in it", Technique.SAFE),
    ],
)
def test_heads_and_safety_are_explained_anywhere(place: str, words: str, topic: Technique) -> None:
    before, (reply,) = said(place, words)
    assert reply.command == c.Explain(topic)
    assert reply.state.piece == before.piece


@pytest.mark.parametrize(
    "words", ["it's quite thick", "some acrylic from the drawer", "wool", "thin stuff"]
)
def test_yarn_without_its_class_is_told_how_to_find_it(words: str) -> None:
    before, (reply,) = said("I-yarn", words)
    assert reply.command == c.Explain(Technique.YARN_CLASS)
    assert reply.state.question == before.question


@pytest.mark.parametrize(
    ("words", "yarn"),
    # Common practice, no source.
    [
        ("two strands of dk held together", 4),
        ("worsted held double", 5),
        ("double knitting", 3),
        ("sock wool, two threads of it", 3),
    ],
)
def test_yarn_held_double_is_a_thicker_class(words: str, yarn: int) -> None:
    _, (reply,) = said("I-yarn", words)
    assert reply.state.settings.yarn == yarn
