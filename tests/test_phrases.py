"""The table of phrases: every form means its own row, and every command can be said.

No outside source: what is checked is that grammar, parser and table agree with each other.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.reading_kinds import TAPE
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Stitch, Terms, stitch_called, stitch_name
from tests.sound_helpers import noise
from voice.recognisers.chosen import open_recogniser
from voice.words import grammar, phrases, spoken_numbers, typed_text
from voice.words.free.meanings import MEANINGS
from voice.words.free.said import Said
from voice.words.grammar import Word
from voice.words.phrases import PHRASES, TOPICS, Group, grammar_of

FILLINGS: dict[str, tuple[str, ...]] = {
    "length": (
        "six",
        "six and a half inches",
        "sixteen centimetres",
        "half an inch",
        "7.5 cm",
        "six inches and three quarters",
        "three eighths of an inch",
        "forty point five",
        "one hundred and five millimetres",
        "one",
    ),
    "integer": ("one", "five", "twenty one", "a hundred and eight", "72"),
    "few": ("three", "twelve"),
    "number": ("three", "two and a half"),
    "weight": ("forty", "one hundred and five grams", "2 oz"),
    "grams": ("two hundred grams", "7.5 g", "six ounces"),
    "ball_length": ("ninety metres", "100 m", "one hundred and nine yards"),
    "topic": tuple(TOPICS),
    "note_words": ("new ball here", "joined second ball"),
}
READ: dict[str, Callable[[str], object]] = {
    **dict.fromkeys(FILLINGS, spoken_numbers.read_amount),
    "integer": spoken_numbers.read_integer,
    "few": spoken_numbers.read_integer,
    "topic": TOPICS.get,
    "note_words": str,
}
EARLIER = {"one set": c.Sets(1, more=True)}
"""Words with an earlier row of their own: "one set" is one more, as "one more set" is."""


def _fixed_words(form: str) -> Iterator[tuple[str, ...]]:
    """The sentences of a form with its slots left as <name>."""
    node = grammar.parse(form)
    return grammar.sentences(node, {name: Word(f"<{name}>") for name in grammar.rules_in(node)})


def _said(sentence: tuple[str, ...]) -> Iterator[tuple[str, dict[str, str]]]:
    """The sentence with every filling of its slots, and the fillings."""
    names = [word[1:-1] for word in sentence if word.startswith("<")]
    assert len(names) == len(set(names))
    for values in itertools.product(*(FILLINGS[name] for name in names)):
        filled = dict(zip(names, values, strict=True))
        yield " ".join(filled.get(word.strip("<>"), word) for word in sentence), filled


@cache
def _table() -> tuple[tuple[str, c.Command], ...]:
    """Words, and the command that their own row builds from them."""
    return tuple(
        (said, row.build(slots or {"said": typed_text.normalise(said)}))
        for row in PHRASES
        for form in row.forms
        for sentence in _fixed_words(form)
        for said, filled in _said(sentence)
        for slots in [
            {name: READ[name](typed_text.normalise(value)) for name, value in filled.items()}
        ]
    )


SAYINGS = st.sampled_from([said for said, own in _table() if not isinstance(own, c.Note)])
"""All but notes, whose words may be any and stay as they are."""
NOT_SAID = st.sampled_from(["zebra", "qqq", "umbrella", "hmm"])


@given(SAYINGS, st.data())
def test_case_marks_and_spaces_do_not_matter(said: str, data: st.DataObject) -> None:
    space = data.draw(st.sampled_from([" ", "  ", "\t", "\n"]))
    end = data.draw(st.sampled_from(["", ".", "!", "?", " ", "..."]))
    assert phrases.read(said.upper().replace(" ", space) + end) == phrases.read(said)


@given(SAYINGS, NOT_SAID, st.booleans())
def test_a_phrase_with_a_word_too_many_is_none(said: str, word: str, before: bool) -> None:
    assert phrases.read(f"{word} {said}" if before else f"{said} {word}") is None


@given(st.text(max_size=60))
def test_any_text_is_a_command_or_none(text: str) -> None:
    assert isinstance(phrases.read(text), (*get_args(c.Command), type(None)))


@given(st.lists(st.sampled_from(["zebra", "qqq", "round", "inches", "and"]), max_size=8))
def test_words_that_are_no_phrase_are_none(words: list[str]) -> None:
    known = words in (["inches"], ["next", "round"])
    assert (phrases.read(" ".join(words)) is not None) is known


@given(st.sets(st.sampled_from(Group)))
def test_a_grammar_holds_its_groups_and_always(groups: set[Group]) -> None:
    made = phrases.grammar_of(frozenset(groups))
    rows = [row for row in PHRASES if row.group in groups | {Group.ALWAYS}]
    assert list(made.phrases) == [grammar.parse(form) for row in rows for form in row.forms]


def test_every_form_filled_means_the_command_of_its_row() -> None:
    heard = {said: (phrases.read(said), command) for said, command in _table()}
    assert {said: first for said, (first, own) in heard.items() if first != own} == EARLIER


def test_no_two_rows_build_different_commands_from_the_same_fixed_words() -> None:
    rows: dict[tuple[str, ...], int] = {}
    for number, row in enumerate(PHRASES):
        for form in row.forms:
            for sentence in _fixed_words(form):
                assert rows.setdefault(sentence, number) == number, sentence


def test_every_command_can_be_said() -> None:
    heard = [command for said, _ in _table() if (command := phrases.read(said))]
    said = Said("", "", (), State())
    freely = [meaning.build(said) for meaning in MEANINGS.values()]
    assert {type(command) for command in heard} == set(get_args(c.Command)) - {c.Explain}
    assert c.Explain in map(type, freely)  # in free wording alone, as the next
    free = {c.Asked.TOLD, c.Asked.PART_ROUNDS}
    assert {c.Ask(what) for what in free} <= set(freely)
    asked = {command.what for command in heard if isinstance(command, c.Ask)}
    assert asked == set(c.Asked) - free
    assert {command.look for command in heard if isinstance(command, c.Lies)} == set(c.Look)
    kinds = {command.kind for command in heard if isinstance(command, c.Measured)}
    assert kinds == {None, *TAPE}
    assert {command.fit for command in heard if isinstance(command, c.TriedOn)} == set(c.Fit)


def test_commands_carry_the_kinds_their_fields_declare() -> None:
    for said, command in _table():
        amount = getattr(command, "amount", None)
        assert amount is None or isinstance(amount, Amount), said
        for name in ("count", "rounds", "stitches"):
            assert isinstance(getattr(command, name, None), int | None), said


@pytest.mark.parametrize("terms", Terms)
@pytest.mark.parametrize("stitch", Stitch)
def test_every_stitch_can_be_said_in_both_terms(stitch: Stitch, terms: Terms) -> None:
    full = stitch_name(stitch, terms)
    for name in (full, full.removesuffix(" crochet")):
        command = phrases.read(name)
        assert isinstance(command, c.Choose)
        said = str(command.value).removesuffix(" crochet")
        assert (command.key, stitch_called(said, terms)) == ("stitch", stitch)


def test_help_says_something_of_every_row_that_is_not_only_set_up() -> None:
    for row in PHRASES:
        assert row.forms  # help names the first
        assert row.help or row.group in {Group.SETUP, Group.RING}
        assert row.help == row.help.strip().rstrip(".")
        assert row.topic in {"", *TOPICS.values()}
    assert {row.topic for row in PHRASES} - {""} == set(TOPICS.values())


def test_a_recognisers_words_are_plain() -> None:
    words = phrases.grammar_of(frozenset(Group)).words()
    assert all(re.fullmatch(r"[a-z]+('[a-z]+)?", word) for word in words)
    assert set(FILLINGS) <= phrases.RULES.keys()


def test_what_is_always_allowed_is_in_the_empty_grammar() -> None:
    heard = set(phrases.grammar_of(frozenset()).phrases)
    assert {grammar.parse(word) for word in ("again", "undo", "pause", "resume", "help")} <= heard
    assert grammar.parse("next") not in heard


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        ".",
        "zebra",
        "nextround",
        "measured",
        "head",
        "count",
        "help with zebras",
        "stitches in six inches",
        "six stitches in",
        "measured zebra inches",
        "count six and a half",
        "six months of",
        "\x00",
        "\x1b[2J",
        "\u202enext\u0000 zebra",
        "a" * 10_000,
        "a " * 5_000,
        "six " * 2_500,
        "head " + "a " * 4_990,
        "9" * 10_000,
        "x stitches in " * 700 + "deep",
        "1," * 5_000,
        "point " * 1_600,
        "\x07" * 10_000,
    ],
    ids=lambda text: repr(text[:14]),
)
def test_what_is_no_phrase_is_none(text: str) -> None:
    assert phrases.read(text) is None


@pytest.mark.parametrize(
    ("text", "command"),
    [
        ("What's left?", c.Ask(c.Asked.HOW_MANY)),
        ("the brim is 6.5cm wide", c.Measured(Amount(6.5, 0.1, Unit.CM), c.Kind.BRIM)),
        ('12 stitches in 4"', c.Measured(Amount(4, 1, Unit.INCH), c.Kind.ALONG, 12)),
        ("measured sixteen across", c.Measured(Amount(16), c.Kind.ACROSS)),
        ("one inch smaller", c.Change("ease_mm", Amount(-1, 1, Unit.INCH))),
        ("class five", c.Change("yarn", Amount(5))),
        ("slope thirty degrees", c.Change("slope_deg", Amount(30))),
        ("twenty two and a half", c.Answer(Amount(22.5, 0.5))),
        ("20 degrees", c.Answer(Amount(20))),
        ("no, I said 16 cm", c.No(Amount(16, 1, Unit.CM))),
        ("help with the tape", c.Help("measuring")),
        ("a baby of six months", c.HeadOf(0.5)),
    ],
)
def test_some_things_makers_say(text: str, command: c.Command) -> None:
    assert phrases.read(text) == command


def test_every_engine_that_comes_along_knows_how_every_word_sounds() -> None:
    open_recogniser().hear(noise(0.5, 10.0), grammar_of(frozenset(Group)))  # or BadGrammar
