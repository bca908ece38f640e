"""Numbers in words: what is said is heard as the same, and as num2words says it.

Sources: num2words (English), the standard fractions module; the typed forms are common practice,
no source.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words  # type: ignore[import-untyped]

from pattern.trade.lengths import Amount, Unit
from voice.words import grammar, spoken_numbers
from voice.words.grammar import Choice, Node, Rule, Sequence, Word
from voice.words.number_rules import RULES
from voice.words.spoken_numbers import read_amount, read_integer, read_number
from voice.words.typed_text import normalise

BOTTOMS = (2, 3, 4, 8, 16)
UNITS = st.sampled_from(sorted(spoken_numbers.UNIT_WORDS))
PARTS = sorted({Fraction(top, bottom) for bottom in BOTTOMS for top in range(1, bottom)})


def _named(number: int) -> str:
    """The words of num2words without its marks."""
    return str(num2words(number)).replace(",", "").replace("-", " ")


def _sentences(rule: str) -> Iterator[str]:
    return map(" ".join, grammar.sentences(RULES[rule], RULES))


def _spoken(node: Node) -> st.SearchStrategy[str]:
    match node:
        case Word(text):
            return st.just(text)
        case Rule(name):
            return st.deferred(lambda: _spoken(RULES[name]))
        case Sequence(parts):
            words = st.tuples(*map(_spoken, parts))
            return words.map(lambda said: " ".join(word for word in said if word))
        case Choice(options):
            return st.one_of(*map(_spoken, options))


@given(st.fractions(0, 1000))
def test_any_number_said_is_read_to_a_hundredth(number: Fraction) -> None:
    said = spoken_numbers.say_fraction(number)
    heard = read_number(said)
    assert heard is not None
    assert abs(Fraction(heard.value) - number) <= Fraction(1, 200) + Fraction(1, 10**9)
    assert said == normalise(said)


@given(st.integers(0, 999), st.sampled_from(PARTS), UNITS)
def test_a_named_fraction_said_is_read_exactly(whole: int, part: Fraction, unit: str) -> None:
    said = spoken_numbers.say_fraction(whole + part)
    step = 1 / part.denominator
    value = float(whole + part)
    assert read_amount(said) == Amount(value, step)
    assert read_amount(f"{said} {unit}") == Amount(value, step, spoken_numbers.UNIT_WORDS[unit])
    if whole:
        split = f"{_named(whole)} inches and {spoken_numbers.say_fraction(part)}"
        assert read_amount(split) == Amount(value, step, Unit.INCH)


@given(st.integers(0, 999), st.text("0123456789", min_size=1, max_size=3), UNITS)
def test_decimals_in_words_and_digits_mean_the_same(whole: int, digits: str, unit: str) -> None:
    # num2words names each digit; the value is that of the literal (Python's float).
    words = f"{_named(whole)} point " + " ".join(_named(int(digit)) for digit in digits)
    amount = Amount(float(f"{whole}.{digits}"), 10.0 ** -len(digits))
    assert (
        read_number(words) == read_number(words.replace("zero", "oh") if whole else words) == amount
    )
    assert read_number(f"{whole}.{digits}") == amount
    typed = read_amount(normalise(f"{whole}.{digits}{unit}"))
    assert typed == Amount(amount.value, amount.step, spoken_numbers.UNIT_WORDS[unit])


@given(_spoken(RULES["length"]))
def test_what_a_recogniser_may_hear_as_a_length_is_understood(said: str) -> None:
    amount = read_amount(said)
    assert amount is not None
    assert amount.value >= 0
    units = {spoken_numbers.UNIT_WORDS.get(word) for word in said.split()} - {None}
    assert {amount.unit} - {None} == units


@given(_spoken(RULES["weight"]))
def test_what_a_recogniser_may_hear_as_a_weight_is_understood(said: str) -> None:
    amount = read_amount(said)
    assert amount is not None
    assert amount.unit in {None, Unit.GRAM, Unit.OUNCE}


@given(st.text(max_size=40))
def test_normalising_leaves_plain_words_with_digits_apart(text: str) -> None:
    plain = normalise(text)
    assert re.fullmatch(r"[a-z0-9./+-]*( [a-z0-9./+-]+)*", plain)
    assert not re.search(r"\d[a-z]|[a-z]\d", plain)


@given(st.text("0123456789½¼,.-/'\" acinm", max_size=16))
def test_any_typed_text_is_an_amount_or_none(text: str) -> None:
    amount = read_amount(normalise(text))
    assert amount is None or (amount.value >= 0 and amount.step > 0)


def test_every_integer_is_said_as_num2words_says_it_and_read_back() -> None:
    for number in range(10_000):
        words = _named(number)
        assert spoken_numbers.say_integer(number) == words
        assert read_integer(words) == read_integer(str(number)) == number
        assert read_integer(words.replace(" and ", " ")) == number
        assert normalise(str(num2words(number))) == words.replace(",", "")
        assert normalise(f"{number:,}") == str(number)


@given(st.integers(10_000, 999_999))
def test_larger_integers_too(number: int) -> None:
    assert read_integer(spoken_numbers.say_integer(number)) == number
    assert spoken_numbers.say_integer(number) == _named(number)


@pytest.mark.parametrize(("top", "bottom"), [(t, b) for b in BOTTOMS for t in range(1, b)])
def test_every_fraction_is_named_and_typed(top: int, bottom: int) -> None:
    # num2words' ordinal is the name of the part, but for halves and quarters.
    name = {2: "half", 4: "quarter"}.get(bottom) or str(num2words(bottom, to="ordinal"))
    many = {2: "halves"}.get(bottom, f"{name}s") if top > 1 else name
    value = float(Fraction(top, bottom))
    for said in (f"{_named(top)} {many}", f"{top}/{bottom}"):
        assert (read_number(said) or Amount(-1)).value == value
        assert (read_amount(f"{said} of an inch") or Amount(-1)).value == value
    assert spoken_numbers.fractions()[f"{_named(top)} {many}"] == Fraction(top, bottom)
    assert (read_number(f"6 {top}/{bottom}") or Amount(-1)).value == 6 + value


def test_the_integers_of_the_grammar_are_those_of_num2words() -> None:
    without_and = {_named(number).replace(" and ", " "): number for number in range(1000)}
    heard = {}
    for said in _sentences("integer"):
        number = without_and[re.sub(r"^a ", "one ", said).replace(" and ", " ")]
        assert read_integer(said) == number
        heard[number] = said
    assert sorted(heard) == list(range(1000))


def test_the_fractions_of_the_grammar_are_all_that_are_said() -> None:
    fractions = set(_sentences("fraction"))
    assert fractions <= spoken_numbers.fractions().keys()
    assert {spoken_numbers.say_fraction(part) for part in PARTS} <= fractions


def test_numbers_of_the_grammar_are_whole_plus_part() -> None:
    """One in 97 of some 340,000 sentences, and every one without an integer before it."""
    short = [*_sentences("fraction"), *_sentences("decimal"), *_sentences("integer")]
    assert all(read_number(said) for said in short)
    for said in itertools.islice(_sentences("number"), 0, None, 97):
        heard = read_number(said)
        assert heard is not None
        head, point, tail = said.rpartition("point ")
        if not point:
            head, _, tail = said.rpartition(" and ")
        part = read_number(f"{point}{tail}")
        if (whole := read_integer(head.strip())) is not None and part and part.value < 1:
            assert heard.value == pytest.approx(whole + part.value, abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "value", "step", "unit"),
    [
        ("½", 0.5, 0.5, None),
        ("6½", 6.5, 0.5, None),
        ('6 ⅜"', 6.375, 0.125, Unit.INCH),
        ("6-1/2", 6.5, 0.5, None),
        ("6-½", 6.5, 0.5, None),
        ("½-inch", 0.5, 0.5, Unit.INCH),
        ("6-inch", 6, 1, Unit.INCH),
        ("16cm", 16, 1, Unit.CM),
        ('6.5"', 6.5, 0.1, Unit.INCH),
        ("6.50 in.", 6.5, 0.01, Unit.INCH),
        ("1,204", 1204, 1, None),
        ("1,204m", 1204, 1, Unit.METRE),
        ("16,5 cm", None, 0, None),
        ("7″", 7, 1, Unit.INCH),
        (".5 in", 0.5, 0.1, Unit.INCH),
        ("Six-and-a-half INCHES!", 6.5, 0.5, Unit.INCH),
        ("3½ oz", 3.5, 0.5, Unit.OUNCE),
        ("100g", 100, 1, Unit.GRAM),
        ("⅔", 2 / 3, 1 / 3, None),
        ("half an inch", 0.5, 0.5, Unit.INCH),
        ("five eighths of an inch", 0.625, 0.125, Unit.INCH),
        ("six inches and a half", 6.5, 0.5, Unit.INCH),
        ("twenty two", 22, 1, None),
        ("a hundred and five and a half", 105.5, 0.5, None),
        ("", None, 0, None),
        ("inch", None, 0, None),
        ("five six", None, 0, None),
        ("3/2", None, 0, None),
        ("1/5", None, 0, None),
        ("0/2", None, 0, None),
        ("six point", None, 0, None),
        ("six point one two three four", None, 0, None),
        ("six and", None, 0, None),
        ("-5", None, 0, None),
        ("1/0", None, 0, None),
        ("1.2.3", None, 0, None),
    ],
)
def test_typed_and_spoken_amounts(
    typed: str, value: float | None, step: float, unit: Unit | None
) -> None:
    heard = read_amount(normalise(typed))
    assert heard == (None if value is None else Amount(value, step, unit))
