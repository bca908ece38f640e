"""Every sentence: there is one for everything that can happen, and the ear can follow it."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pattern.forecast.pace import Pace
from pattern.plan.readings import Want, reading_of
from pattern.session import commands as c
from pattern.session.commands import Asked, Kind, Look
from pattern.session.decisions import decide, first_turn, taken_up
from pattern.session.events import CountTaken, ReadingTaken
from pattern.session.folding import fold
from pattern.session.refusals import Reason, Refused
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.catalogue import SHAPES, Shape
from pattern.shape.interview import FIXED_BY_RING, QUESTIONS
from pattern.shape.limits import LIMITS, with_answer
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.trade.cautions import CAUTIONS
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import TAPE_UNITS, Amount, Unit
from tests.properties import examples
from voice.sentences import examples as examples_said
from voice.sentences import (
    finishing,
    hearing,
    help,
    opening,
    pages,
    questions,
    readings,
    refusals,
    reply,
)
from voice.words.phrases import PHRASES, TOPICS, read
from voice.words.phrases.row import Phrase

LONGEST_WORDS = 115
"""A reply in full wording: under a minute at 160 words a minute; the cautions may take this long,
as they are not cut."""

amounts = st.builds(
    Amount,
    st.sampled_from([0.0, 0.5, 1.0, 2.0, 3.5, 6.5, 8.0, 16.0, 22.0, 40.0, 56.0]),
    st.sampled_from([1.0, 0.5, 0.125]),
    st.sampled_from([None, Unit.INCH, Unit.CM, Unit.GRAM]),
)
for kind, strategy in (
    (
        c.Measured,
        st.builds(
            c.Measured, amounts, st.sampled_from([None, *Kind][:-1]), st.sampled_from([None, 10])
        ),
    ),
    (c.Answer, st.builds(c.Answer, amounts)),
    (c.No, st.builds(c.No, st.none() | amounts)),
    (c.Sets, st.builds(c.Sets, st.integers(0, 12), st.booleans())),
    (c.Counted, st.builds(c.Counted, st.integers(0, 150))),
    (
        c.Weighed,
        st.builds(
            c.Weighed,
            st.builds(
                Amount,
                st.sampled_from([0.0, 1.0, 12.0, 20.0, 35.0, 60.0, 90.0, 150.0, 400.0]),
                unit=st.sampled_from([None, Unit.GRAM, Unit.OUNCE, Unit.CM]),
            ),
        ),
    ),
    (c.Rests, st.builds(c.Rests, st.integers(-1, 200))),
    (
        c.Note,
        st.builds(
            c.Note,
            st.sampled_from(
                [
                    "",
                    "joined second ball here",
                    "a" * 201,
                    "3 sts short, 5.5 mm <here>",
                    "it isn't even",
                ]
            ),
        ),
    ),
    (c.LostAt, st.builds(c.LostAt, st.integers(-1, 150), st.booleans())),
    (c.HaveBalls, st.builds(c.HaveBalls, amounts)),
    (c.RippedBack, st.builds(c.RippedBack, st.integers(0, 4))),
    (c.Help, st.builds(c.Help, st.sampled_from(["", *TOPICS.values()]))),
    (
        c.Choose,
        st.sampled_from(
            [
                c.Choose("terms", "uk"),
                c.Choose("joined", True),
                c.Choose("stitch", "double"),
                c.Choose("unit", "centimeter"),
            ]
        ),
    ),
    (c.Change, st.builds(c.Change, st.sampled_from([*LIMITS]), amounts)),
    (
        c.Adjust,
        st.builds(c.Adjust, st.sampled_from(["depth_mm", "brim_mm"]), amounts, st.booleans()),
    ),
    (
        c.HeadOf,
        st.builds(
            c.HeadOf, st.sampled_from([None, 2.0, 7.0, 300.0]), st.sampled_from([None, *Sex])
        ),
    ),
):
    st.register_type_strategy(kind, strategy)

commands = st.one_of(*(st.from_type(kind) for kind in get_args(c.Command)))
STASH = c.Change("stash_g", Amount(90.0))
steps = st.lists(st.just(c.Next()) | st.just(c.Skip()) | st.just(STASH) | commands, max_size=60)


AT_THE_RING: tuple[c.Command, ...] = (
    c.Change("head_mm", Amount(22.0, unit=Unit.INCH)),
    c.Choose("yarn", 4),
    c.Change("hook_mm", Amount(4.5)),
)


def audible(said: str) -> str:
    """The words, when they are fit for the ear: no digits, signs, initials; whole sentences."""
    assert said, "nothing was said"
    assert not re.search(r"[0-9_/()<>%+*]", said), said
    assert not re.search(r"\b(sc|dc|hdc|st|sts|mm|cm|in\.|rnd|e\.g)\b", said), said
    assert not re.search(r"\b[A-Z]{2,}\b", said.replace("US", "").replace("UK", "")), said
    assert said.endswith((".", "?")), said
    assert not re.search(r"  |[.] [.]|[.][.]", said), said
    assert all(sentence[0].isupper() for sentence in re.split(r"(?<=[.?]) ", said)), said
    assert len(said.split()) <= LONGEST_WORDS, said
    return said


@settings(max_examples=examples(300))
@given(steps, st.booleans())
def test_whatever_is_said_the_reply_can_be_heard(said: list[c.Command], at_the_ring: bool) -> None:
    answers = AT_THE_RING if at_the_ring else ()
    state = fold(State(), first_turn(answers))
    audible(opening.opening(state, resumed=False))
    for command in said:
        try:
            turn = decide(state, command)
        except Refused as refused:
            audible(refusals.refusal(refused, state.settings))
            continue
        after = fold(state, turn)
        audible(reply.reply(state, command, turn, after))
        state = after
    audible(opening.opening(state, resumed=True))
    for days in (3.5, 40.0, 5000.0):
        taken = taken_up(state, days)
        audible(opening.opening(fold(state, taken), resumed=True, events=taken))
    for what in Asked:
        audible(reply.told(state, what))
        audible(reply.told(state, what, Pace(14.0, 0.2, 5)))


@given(
    st.sampled_from([c.Measured(Amount(5.5, unit=Unit.INCH), Kind.ACROSS), c.Counted(60)]), commands
)
@example(c.Counted(60), c.StringOff(Amount(3e155), too_long=False))
def test_what_was_in_doubt_is_never_let_go_without_a_word(
    doubted: c.Command, then: c.Command
) -> None:
    state = fold(State(), first_turn(AT_THE_RING))
    for command in (*[c.Next()] * 6, doubted):
        state = fold(state, decide(state, command))
    doubt = state.doubt
    assert doubt is not None
    try:
        turn = decide(state, then)
    except Refused:
        return
    after = fold(state, turn)
    said = reply.reply(state, then, turn, after)
    believed = any(isinstance(event, ReadingTaken | CountTaken) for event in turn)
    if after.doubt is None and not believed:
        assert re.match(r"(\w+( \w+)* is )?not kept\.", said, re.IGNORECASE), said


def _through_a_hat() -> list[State]:
    state = fold(
        State(), first_turn([c.HeadOf(), c.Choose("yarn", 4), c.Change("hook_mm", Amount(4.5))])
    )
    states = [state]
    while state.stage is not Stage.DONE:
        state = fold(state, decide(state, c.Next()))
        states.append(state)
    return states


@pytest.mark.parametrize("reason", Reason)
def test_every_reason_has_its_own_sentence(reason: Reason) -> None:
    detail: dict[str, str | float | int] = {
        "key": "start",
        "most": 8,
        "least": 3,
        "worked": 1,
        "unit": "gram",
        "expected_mm": 100.0,
        "value": 22.0,
        "what": "finger",
        "grams": 40.0,
    }
    for stage in Stage:
        refused = Refused(reason, stage, c.Next(), detail)
        audible(refusals.refusal(refused, Settings()))


@pytest.mark.parametrize("key", LIMITS)
def test_every_limit_is_told(key: str) -> None:
    refused = Refused(Reason.OUT_OF_LIMITS, Stage.SETUP, c.Next(), {"key": key})
    audible(refusals.refusal(refused, Settings()))


@pytest.mark.parametrize("key", QUESTIONS)
def test_every_question_of_the_interview_names_its_default(key: str) -> None:
    for wanted in (Settings(), with_answer(Settings(), "unit", Unit.CM.value)):
        said = audible(questions.question(key, wanted, brief=False))
        assert "Skip means" in said
        assert len(said) > len(audible(questions.question(key, wanted, brief=True)))


@pytest.mark.parametrize("topic", sorted(set(TOPICS.values())))
def test_every_topic_of_help_is_told(topic: str) -> None:
    assert "Say " in " ".join(map(audible, pages.pages(help.topic(topic))))


LENGTH_OF = {
    "around": (300, 720),
    "head": (300, 720),
    "depth": (100, 300),
    "deep": (100, 300),
    "across": (100, 260),
    "brim": (10, 100),
    "deeper": (5, 30),
    "smaller": (5, 30),
}
"""Lengths in mm that make sense in phrases with these words; our choice."""


@pytest.mark.parametrize("unit", [Unit.INCH, Unit.CM])
@pytest.mark.parametrize("row", [row for row in PHRASES if row.topic and row.help])
def test_examples_are_phrases_with_numbers_that_make_sense(row: Phrase, unit: Unit) -> None:
    said = examples_said.example(row.forms[0], unit)
    command = read(said)
    assert command is not None, said
    amount = getattr(command, "amount", None)
    for word, (least, most) in LENGTH_OF.items() if not isinstance(command, c.ByHand) else ():
        if word in said.split() and isinstance(amount, Amount) and amount.unit is None:
            assert least <= abs(amount.mm(unit)) <= most, said


@pytest.mark.parametrize(
    ("manner", "told"),
    [(c.Manner.LOUDER, "turn up your loudspeaker"), (c.Manner.QUIETER, "turn down")],
)
def test_as_loud_as_it_goes_says_what_else_helps(manner: c.Manner, told: str) -> None:
    refused = Refused(Reason.NO_FURTHER, Stage.SETUP, c.Speak(manner))
    assert told in audible(refusals.refusal(refused, Settings()))


@pytest.mark.parametrize("key", sorted({*LIMITS, "unit"}))
@pytest.mark.parametrize("unit", list(Unit))
def test_no_unit_is_refused_and_asked_for_in_one_sentence(key: str, unit: Unit) -> None:
    detail = {"key": key, "unit": unit.value}
    said = refusals.refusal(Refused(Reason.WRONG_UNIT, Stage.SETUP, c.Next(), detail), Settings())
    refused, _, give_me = said.partition("; give me ")
    assert give_me.endswith(".")
    own_unit = key in LIMITS and not LIMITS[key].tape and key != "hook_mm"
    if own_unit and unit in TAPE_UNITS:
        assert refused.removeprefix("That can't be in ") not in give_me


def test_help_on_changing_names_what_the_first_round_fixes_and_nothing_else() -> None:
    told = help.topic("changing").partition(" stay.")[0]
    assert {key for key, name in questions.NAMES.items() if name in told} == FIXED_BY_RING


def test_every_step_of_finishing_and_every_caution_is_told() -> None:
    states = _through_a_hat()
    steps = {
        state.step: audible(finishing.step(state))
        for state in states
        if state.stage is Stage.FINISHING
    }
    assert len(set(steps.values())) == len(FINISHING_STEPS)
    assert finishing.CAUTION_SENTENCES.keys() == {caution.key for caution in CAUTIONS}


def test_cautions_are_for_the_age_they_concern() -> None:
    """Ages: EN 14682 (cords, under 7), US 16 CFR 1501 (small parts, under 3)."""
    words = finishing.CAUTION_SENTENCES
    for age, keys in (
        (6.9, {"cords"}),
        (7.0, set()),
        (2.9, {"cords", "small parts"}),
        (1.0, {"cords", "small parts", "sleep"}),
    ):
        said = finishing.child(Settings(age_years=age))
        assert {key for key in words if words[key] in said} == keys
    assert finishing.child(Settings(head_mm=460.0)), "a small head of unknown age may be a child's"
    assert not finishing.child(Settings(head_mm=580.0))


WIDE, LOW = 7.3, 7.2
"""Stitch width and round height in mm of hands whose crown is worked full: eight increases of 7.3
are more than two pi rounds of 7.2."""


def test_a_crown_that_stops_short_is_explained_by_the_tape() -> None:
    """A head of 22 inches is 7 across: girth over pi. Common practice, no source."""
    state = fold(State(), first_turn([*AT_THE_RING, c.Change("start", Amount(8.0))]))
    said: list[str] = []
    more: list[str] = []

    def say(command: c.Command) -> None:
        nonlocal state
        turn = decide(state, command)
        after = fold(state, turn)
        said.append(reply.reply(state, command, turn, after))
        more.extend(reply.rest(state, command, turn, after))
        state = after

    while state.piece.stage is not Stage.SIDES:
        if state.piece.finished >= 6 and state.piece.finished % 2 == 0:
            around, across = state.piece.stitches * WIDE, 2 * (4 + LOW * state.piece.finished)
            say(c.Measured(Amount(around, 1.0, Unit.MM), Kind.AROUND))
            say(c.Measured(Amount(across, 1.0, Unit.MM), Kind.ACROSS))
            say(c.Choose("unit", Unit.INCH.value))
        say(c.Next())
    assert any("the crown is wide enough" in words for words in said)
    assert "and that is right: it opens to seven." in " ".join(more)


@pytest.mark.parametrize("look", Look)
def test_every_look_is_answered(look: Look) -> None:
    state = next(s for s in _through_a_hat() if s.piece.finished == 5)
    turn = decide(state, c.Lies(look))
    audible(reply.reply(state, c.Lies(look), turn, fold(state, turn)))


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.name)
@pytest.mark.parametrize("brief", [False, True])
def test_every_shape_is_told_from_its_ring_to_its_end(shape: Shape, brief: bool) -> None:
    """By ear alone: what ends and what begins is said, and where am I names the part."""
    size = c.HeadOf() if shape.for_head else c.Change("across_mm", Amount(12.0, unit=Unit.CM))
    turn = first_turn(
        [c.Choose("shape", shape.name), size, c.Choose("yarn", 5), c.Change("hook_mm", Amount(7.0))]
    )
    state = fold(State(), turn)
    audible(opening.opening(state, resumed=False))
    state = fold(state, decide(state, c.Wording(brief)))
    named = set()
    while state.stage is not Stage.DONE:
        command = c.Skip() if state.want else c.Next()
        events = decide(state, command)
        after = fold(state, events)
        said = reply.reply(state, command, events, after)
        audible(said)
        moved = state.offered and after.offered and after.offered.part != state.offered.part
        if moved and after.offered and not brief:
            assert f"the {shape.parts[after.offered.part].called}" in said.lower()
        if after.offered:
            where = reply.told(after, Asked.WHERE)
            named |= {part.called for part in shape.parts if f"the {part.called}." in where}
        state = after
    assert named == {part.called for part in shape.parts}
    if not shape.for_head:
        assert "hat" not in finishing.done(state).split()


@pytest.mark.parametrize(
    ("start", "words"),
    [
        (6.0, "from corner to corner"),
        (8.0, "from corner to corner"),
        (7.0, "from a corner to the middle of the side across from it"),
    ],
)
def test_a_crown_with_corners_is_measured_to_what_lies_across(start: float, words: str) -> None:
    """Plane geometry: of an odd number of corners, none lies across from another."""
    corners: list[c.Command] = [c.Choose("stacked", True), c.Change("start", Amount(start))]
    state = fold(State(), first_turn([*AT_THE_RING, *corners]))
    asked = readings.asked(Want(Kind.CORNERS), state.piece, brief=False)
    assert words in audible(asked)
    reading = reading_of(state.piece, Kind.CORNERS, 100.0, 1.0, 0.0)
    assert ("side" in readings.place(reading, state.settings)) is ("side" in words)


@pytest.mark.parametrize(
    ("heard", "asked"),
    [
        (("sixteen", "sixty"), "Sixteen: one six, or sixty: six zero?"),
        (("count sixty six", "count fifty"), "Count sixty six, or count fifty: five zero?"),
        (("u s terms",), "US terms?"),
        (("uk", "us"), "UK, or US?"),
        (("pause",), "Pause?"),
    ],
)
def test_what_is_asked_about_sounds_like_nothing_else(heard: tuple[str, ...], asked: str) -> None:
    assert hearing.which(heard) == asked
