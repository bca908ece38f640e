"""Numbers in words: generated once, then looked up, so that saying and hearing cannot differ."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from pattern.trade.lengths import Amount, Unit

ONES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
TEENS = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_PARTS = {2: "half", 3: "third", 4: "quarter", 8: "eighth", 16: "sixteenth"}
_MANY = {2: "halves", 3: "thirds", 4: "quarters", 8: "eighths", 16: "sixteenths"}

UNIT_WORDS: dict[str, Unit] = {
    **dict.fromkeys(("inch", "inches", "in"), Unit.INCH),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters", "cm"), Unit.CM),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mm"), Unit.MM),
    **dict.fromkeys(("metre", "metres", "meter", "meters", "m"), Unit.METRE),
    **dict.fromkeys(("yard", "yards", "yd"), Unit.YARD),
    **dict.fromkeys(("gram", "grams", "g"), Unit.GRAM),
    **dict.fromkeys(("ounce", "ounces", "oz"), Unit.OUNCE),
    **dict.fromkeys(("pound", "pounds", "lb", "lbs"), Unit.POUND),
}
"""Spoken and typed names of units."""


def say_integer(number: int) -> str:
    """A whole number from 0 to 999,999 in words, with "and" after the hundreds."""
    if number < 10:
        return ["zero", *ONES][number]
    if number < 20:
        return TEENS[number - 10]
    if number < 100:
        tens, ones = divmod(number, 10)
        return TENS[tens - 2] + (f" {ONES[ones - 1]}" if ones else "")
    unit, name = (100, "hundred") if number < 1000 else (1000, "thousand")
    many, rest = divmod(number, unit)
    joint = " and " if rest < 100 else " "
    return f"{say_integer(many)} {name}" + (f"{joint}{say_integer(rest)}" if rest else "")


def say_fraction(number: Fraction) -> str:
    """A number of 0 or more in words: by a named fraction where it is one, else to hundredths."""
    if number.denominator not in _PARTS:
        number = Fraction(round(number * 100), 100)
    whole, rest = divmod(number, 1)
    if not rest:
        return say_integer(int(whole))
    if rest.denominator in _PARTS:
        part = _named(rest)
        return part if not whole else f"{say_integer(int(whole))} and {part}"
    digits = f"{float(rest):.2f}".rstrip("0")[2:]
    return f"{say_integer(int(whole))} point " + " ".join(say_integer(int(d)) for d in digits)


def _named(part: Fraction) -> str:
    if part.numerator == 1:
        return ("an " if part.denominator == 8 else "a ") + _PARTS[part.denominator]
    return f"{say_integer(part.numerator)} {_MANY[part.denominator]}"


@cache
def integers() -> dict[str, int]:
    """Every way to say 0 to 999."""
    ways = {say_integer(n): n for n in range(1000)}
    for words, number in list(ways.items()):
        ways[words.replace(" and ", " ")] = number
        if words.startswith("one hundred"):
            ways[words.replace("one", "a", 1)] = number
            ways[words.replace("one", "a", 1).replace(" and ", " ")] = number
    return ways


@cache
def fractions() -> dict[str, Fraction]:
    """Every way to say a named fraction below one."""
    ways: dict[str, Fraction] = {}
    for bottom, name in _PARTS.items():
        for top in range(1, bottom):
            value = Fraction(top, bottom)
            ways[f"{say_integer(top)} {_MANY[bottom] if top > 1 else name}"] = value
            if top > 1:
                ways[f"{say_integer(top)} {name}"] = value
        ways[f"a {name}"] = ways[f"an {name}"] = ways[name] = Fraction(1, bottom)
    return ways


_DIGITS = {"zero": 0, "oh": 0} | {word: n for n, word in enumerate(ONES, 1)}


def read_integer(words: str) -> int | None:
    """A whole number of 0 or more from words or digits; None when it is not one."""
    if words.isdecimal():
        return int(words) if len(words) <= 6 else None
    if (number := integers().get(words)) is not None:
        return number
    many, thousand, rest = words.partition(" thousand")
    thousands = 1 if many == "a" else integers().get(many)
    if not thousand or thousands is None:
        return None
    below = 0 if not rest else integers().get(rest.strip().removeprefix("and "))
    return None if below is None else thousands * 1000 + below


def read_number(words: str) -> Amount | None:
    """A number from words or digits, with the step of its last place; None when it is not one."""
    if (whole := read_integer(words)) is not None:
        return Amount(float(whole))
    if "." in words and (match := re.fullmatch(r"(\d{0,6})\.(\d{1,4})", words)):
        return Amount(float(words), 10.0 ** -len(match[2]))
    if (part := _read_fraction(words)) is not None:
        return Amount(float(part), float(Fraction(1, part.denominator)))
    head, point, tail = words.rpartition("point ")
    if point:
        return _read_decimal(head.strip(), tail.split())
    return _read_mixed(words)


def _read_fraction(words: str) -> Fraction | None:
    if "/" in words and (match := re.fullmatch(r"(\d{1,2})/(\d{1,2})", words)):
        top, bottom = int(match[1]), int(match[2])
        return Fraction(top, bottom) if bottom in _PARTS and 0 < top < bottom else None
    return fractions().get(words)


def _read_decimal(head: str, digits: list[str]) -> Amount | None:
    whole = read_integer(head) if head else 0
    if whole is None or not digits or len(digits) > 3 or any(d not in _DIGITS for d in digits):
        return None
    text = "".join(str(_DIGITS[digit]) for digit in digits)
    return Amount(float(f"{whole}.{text}"), 10.0 ** -len(text))


def _read_mixed(words: str) -> Amount | None:
    tokens = words.split()
    for cut in range(max(1, len(tokens) - 3), len(tokens)):
        whole = read_integer(" ".join(tokens[:cut]))
        tail = tokens[cut + 1 :] if tokens[cut] == "and" else tokens[cut:]
        part = _read_fraction(" ".join(tail))
        if whole is not None and part is not None:
            return Amount(float(whole + part), float(Fraction(1, part.denominator)))
    return None


_ONE_UNIT = {
    **{"an inch": Unit.INCH, "a centimetre": Unit.CM, "a centimeter": Unit.CM},
    **{"a pound": Unit.POUND, "an ounce": Unit.OUNCE},
}
_PART_OF_ONE = re.compile(r"(?:of )?(?:an (?=inch$|ounce$)|a (?=pound$))")


def read_amount(words: str) -> Amount | None:
    """A number with or without a unit: "six and a half inches", "six inches and a half", "half an
    inch", "forty grams"; None when it is not one.
    """
    if words in _ONE_UNIT:
        return Amount(1.0, 1.0, _ONE_UNIT[words])
    words = _PART_OF_ONE.sub("", words)
    if (plain := read_number(words)) is not None:
        return plain
    head, _, last = words.rpartition(" ")
    if last in UNIT_WORDS and (number := read_number(head)) is not None:
        return Amount(number.value, number.step, UNIT_WORDS[last])
    for unit in ("inches", "inch"):
        head, found, tail = words.partition(f" {unit} ")
        whole, part = read_integer(head), _read_fraction(tail.removeprefix("and "))
        if found and whole is not None and part is not None:
            return Amount(float(whole + part), float(Fraction(1, part.denominator)), Unit.INCH)
    return None
