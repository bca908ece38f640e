"""Free wording: amounts read out of it, what it may do, and what is asked about it."""

from __future__ import annotations

import hashlib
from fractions import Fraction
from types import UnionType
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.reading_kinds import Kind, Look
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from tests.pieces import Story, begun, stories
from tests.properties import examples, some
from tests.wordings.judging import moved
from tests.wordings.places import FOLDER, Case, cases, others, said
from voice.caller.reply import Verdict
from voice.sentences import asked_first
from voice.words.free import weights
from voice.words.free.amounts import MASK, amounts, masked
from voice.words.free.builders import along
from voice.words.free.matching import changes_piece, match
from voice.words.free.said import Said
from voice.words.spoken_numbers import say_fraction, say_integer

BEFORE = st.sampled_from(["", "it says", "i think that is about", "the tape reads", "love it is"])
AFTER = st.sampled_from(["", "love", "more or less", "across the crown", "as near as i can see"])
UNITS = {"": None, "centimetres": Unit.CM, "inches": Unit.INCH, "millimetres": Unit.MM}
LOOKED_AT = tuple(cases(FOLDER / "looked_at.txt"))
PLACES = ("R", "M", "A", "S", "B", "F", "P")
"""Where no question stands that a bare yes or number would answer at once."""


@given(BEFORE, st.integers(2, 999), st.sampled_from(sorted(UNITS)), AFTER)
def test_a_whole_amount_is_read_out_of_any_sentence(
    before: str, number: int, unit: str, after: str
) -> None:
    words = " ".join(f"{before} {say_integer(number)} {unit} {after}".split())
    (found,) = amounts(words)
    assert (found.value, found.unit) == (number, UNITS[unit])


@given(BEFORE, st.integers(2, 60), st.sampled_from([2, 4, 8, 16]), st.data(), AFTER)
def test_so_is_one_with_a_fraction(
    before: str, whole: int, parts: int, data: st.DataObject, after: str
) -> None:
    number = whole + Fraction(data.draw(st.integers(1, parts - 1)), parts)
    words = " ".join(f"{before} {say_fraction(number)} inches {after}".split())
    (found,) = amounts(words)
    assert (found.value, found.unit) == (float(number), Unit.INCH)


@given(BEFORE, st.integers(2, 999), st.integers(2, 999), st.sampled_from(sorted(UNITS)), AFTER)
def test_masked_does_not_tell_how_much_it_is(
    before: str, one: int, other: int, unit: str, after: str
) -> None:
    ways = [
        masked(" ".join(f"{before} {say_integer(number)} {unit} {after}".split()))
        for number in (one, other)
    ]
    assert ways[0] == ways[1]
    assert ways[0].split().count(MASK) == 1


def test_what_is_denied_is_no_amount() -> None:
    assert amounts("it is not thirteen") == amounts("around minus four") == ()
    assert [found.value for found in amounts("not thirteen but thirty one")] == [31.0]


@given(st.integers(2, 40), st.integers(2, 30), st.booleans(), st.booleans())
def test_a_gauge_is_told_with_either_number_first(
    count: int, length: int, stitches_first: bool, unit: bool
) -> None:
    stitches = f"{say_integer(count)} stitches"
    long = f"{say_integer(length)}{' centimetres' if unit else ''}"
    text = f"{stitches} make {long}" if stitches_first else f"{long} hold {stitches}"
    found = along(Said(text, text, amounts(text), begun()))
    assert found == c.Measured(
        Amount(float(length), unit=Unit.CM if unit else None), Kind.ALONG, count
    )


@given(stories(), st.one_of(st.text(max_size=60), st.sampled_from([one.said for one in LOOKED_AT])))
@settings(max_examples=examples(60), deadline=None)
def test_any_text_can_be_matched_in_any_state(story: Story, text: str) -> None:
    found = match(text, story.state)
    assert found.command is not None or not found.asks


def changes_unasked(state: State, words: str) -> bool:
    """Whether a wording changes the piece though nothing was asked about it."""
    found = match(words, state)
    if found.command is None or found.asks or state.doubt is not None:
        return False
    try:
        turn = decide(state, found.command)
    except Refused:
        return False
    after = fold(state, turn)
    piece = (after.piece, after.offered, after.stage) != (state.piece, state.offered, state.stage)
    return piece or changes_piece(found.command, state)


@given(stories(), st.sampled_from(LOOKED_AT))
@settings(max_examples=examples(), deadline=None)
def test_free_wording_changes_no_piece_unasked(story: Story, case: Case) -> None:
    assert not changes_unasked(story.state, case.said)


@pytest.mark.parametrize("place", ["R", "A", "B", "F"])
def test_none_of_the_wordings_does_anywhere_in_a_piece(place: str) -> None:
    state, _ = said(place)
    tried = some(LOOKED_AT, "RABF".index(place))
    assert [case.said for case in tried if changes_unasked(state, case.said)] == []


@pytest.mark.parametrize("place", PLACES)
def test_nothing_said_to_others_moves_the_piece(place: str) -> None:
    sentences = others()
    assert len(sentences) == len(set(sentences)) == 500
    tried = some(sentences, PLACES.index(place))
    assert [words for words in tried if moved(place, words)] == []


ASKED = "the old tape makes it about fifty five around"


def test_yes_does_it() -> None:
    before, (asks, done) = said("S", ASKED, "yes")
    assert asks.verdict is Verdict.ASKED
    assert asks.state == before
    assert isinstance(done.command, c.Measured)
    assert done.state.piece != before.piece


@pytest.mark.parametrize("words", ["no", "nope", "never mind", "cancel that"])
def test_no_leaves_it(words: str) -> None:
    before, (_, left, yes) = said("S", ASKED, words, "yes")
    assert left.say.startswith(asked_first.LEFT)
    assert left.state == before
    assert yes.verdict is Verdict.REFUSED


@pytest.mark.parametrize(
    "words", ["no fifty six", "fifty six", "no it is fifty six", "no, I meant fifty six"]
)
def test_a_corrected_value_is_taken(words: str) -> None:
    _, (_, done) = said("S", ASKED, words)
    assert isinstance(done.command, c.Measured)
    assert (done.command.amount.value, done.command.kind) == (56.0, Kind.AROUND)
    assert done.state.taken is not None


@pytest.mark.parametrize("words", ["blah", "the cat is on the table", "........"])
def test_anything_else_repeats_the_question(words: str) -> None:
    before, (asks, again, done) = said("S", ASKED, words, "yes")
    assert again.say == asks.say
    assert again.state == before
    assert isinstance(done.command, c.Measured)


@pytest.mark.parametrize("words", ["next", "flibber wugs", "the cat is on the table"])
def test_a_doubted_reading_is_asked_about_again_itself(words: str) -> None:
    before, (reply,) = said("Q", words)
    assert before.doubt is not None
    assert reply.say.startswith("Forty two around?")
    assert reply.state == before


@pytest.mark.parametrize(
    ("words", "kept"),
    [("okay", True), ("yeah that's it", True), ("nope that isn't it", False), ("yup", True)],
)
def test_any_yes_and_no_answers_a_doubt(words: str, kept: bool) -> None:
    before, (reply,) = said("Q", words)
    assert before.doubt is not None
    assert reply.state.doubt is None
    assert (reply.state.taken is not None) is kept


CM = Amount(5.0, unit=Unit.CM)
SAMPLES: dict[type, c.Command] = {
    c.Measured: c.Measured(CM, Kind.ACROSS),
    c.Answer: c.Answer(CM),
    c.Choose: c.Choose("terms", "uk"),
    c.Change: c.Change("brim_mm", CM),
    c.Adjust: c.Adjust("brim_mm", CM),
    c.Sets: c.Sets(2),
    c.Counted: c.Counted(40),
    c.RippedBack: c.RippedBack(2),
    c.Lies: c.Lies(Look.FLAT),
    c.Weighed: c.Weighed(Amount(40.0)),
    c.HaveBalls: c.HaveBalls(Amount(3.0)),
    c.Note: c.Note("blue"),
    c.Swatch: c.Swatch(20, CM),
    c.AlsoFor: c.AlsoFor(CM),
    c.OwnWidth: c.OwnWidth(c.OwnUnit.FINGER, CM),
    c.StringOff: c.StringOff(CM, too_long=True),
    c.ByHand: c.ByHand(Kind.ACROSS, CM),
    c.TriedOn: c.TriedOn(c.Fit.LOOSE_BY, CM),
    c.TapeThere: c.TapeThere(there=False),
    c.HeadThere: c.HeadThere(there=False),
}
"""Commands that cannot be made without saying how much, or what."""


def _commands() -> list[type]:
    assert isinstance(c.Command, UnionType)
    return list(get_args(c.Command))


MANNERS = {
    c.Ask,
    c.Explain,
    c.Wording,
    c.Speak,
    c.Rests,
    c.LostAt,
    c.Signal,
    c.RemindAfter,
    c.Fabric,
    c.CountedIn,
    c.Decorate,
}
"""Commands that need words, and change no piece."""


@pytest.mark.parametrize(
    "kind", [kind for kind in _commands() if kind not in MANNERS], ids=lambda kind: kind.__name__
)
def test_every_command_that_is_asked_about_has_a_question(kind: type) -> None:
    state = begun()
    command = SAMPLES[kind] if kind in SAMPLES else kind()
    if changes_piece(command, state):
        question = asked_first.question(command, state)
        assert question.endswith("? Yes or no.")
        assert question[0].isupper()


def test_commands_that_need_words_change_no_piece() -> None:
    made: list[c.Command] = [
        c.Ask(c.Asked.WHERE),
        c.Explain(Technique.RING),
        c.Wording(True),
        c.Speak(c.Manner.FASTER),
        c.Rests(20),
        c.LostAt(12),
        c.Signal(c.Signs.BOTH),
        c.RemindAfter(60),
        c.Fabric(c.Cloth.GAPS),
        c.CountedIn(12),
        c.Decorate(c.Decoration.LACE),
    ]
    assert {type(command) for command in made} == MANNERS
    assert not [command for command in made if changes_piece(command, begun())]


def test_the_weights_are_small_and_belong_to_the_wordings() -> None:
    assert weights.FILE.stat().st_size <= 2 * 1024 * 1024
    with np.load(weights.FILE, allow_pickle=False) as kept:
        learnt_from = str(kept["wordings_sha256"])
    assert learnt_from == hashlib.sha256(weights.WORDINGS.read_bytes()).hexdigest()
