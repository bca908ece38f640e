"""Amounts and their conversion, against pint and the exact definitions.

Source: the international yard and pound agreement, 1959: 1 yd = 0.9144 m, so 1 in = 25.4 mm, and
1 lb = 0.45359237 kg, so 1 oz = 28.349523125 g, all exactly; prefixes from the SI.
"""

from __future__ import annotations

import itertools
from fractions import Fraction
from functools import cache

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.trade import lengths
from pattern.trade.lengths import BALL_UNITS, TAPE_UNITS, WEIGHT_UNITS, Amount, Unit

LENGTHS = sorted(TAPE_UNITS | BALL_UNITS)
EXACT_MM = {
    Unit.INCH: Fraction(254, 10),
    Unit.CM: Fraction(10),
    Unit.MM: Fraction(1),
    Unit.METRE: Fraction(1000),
    Unit.YARD: Fraction(9144, 10),
}
VALUES = st.floats(0, 1e6)
TAPES = st.sampled_from(sorted(TAPE_UNITS))


@cache
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@given(VALUES, st.sampled_from(LENGTHS), st.sampled_from(LENGTHS))
def test_lengths_agree_with_pint(value: float, unit: Unit, default: Unit) -> None:
    expected = registry().Quantity(value, unit.value).to("mm").magnitude
    assert Amount(value, unit=unit).mm(default) == pytest.approx(expected, rel=1e-12)
    assert Amount(value).mm(unit) == Amount(value, unit=unit).mm(default)
    assert Amount(1, value, unit).step_mm(default) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("prefix", ["", "milli", "centi", "deci", "kilo"])
@pytest.mark.parametrize("unit", ["meter", "metre", "yard", "foot", "feet", "inch", "inches"])
def test_a_written_length_is_what_the_whole_of_pint_makes_of_it(prefix: str, unit: str) -> None:
    expected = registry().Quantity(2.5, prefix + unit).to("mm").magnitude
    assert lengths.written_mm(f"2.5 {prefix}{unit}") == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("unit", ["m", "mm", "cm", "dm", "km", "yd", "ft", "in", "yards"])
def test_so_is_one_in_short(unit: str) -> None:
    expected = registry().Quantity(2.5, unit).to("mm").magnitude
    assert lengths.written_mm(f"2.5 {unit}") == pytest.approx(expected, rel=1e-12)


@given(VALUES, st.sampled_from(LENGTHS))
def test_a_length_comes_back(value: float, unit: Unit) -> None:
    assert lengths.from_mm(Amount(value).mm(unit), unit) == pytest.approx(value, rel=1e-12)


@given(VALUES)
def test_weights_and_ball_lengths_agree_with_pint(value: float) -> None:
    for unit in WEIGHT_UNITS:
        expected = registry().Quantity(value, unit.value).to("g").magnitude
        assert lengths.grams(Amount(value, unit=unit)) == pytest.approx(expected, rel=1e-12)
    for unit in BALL_UNITS:
        expected = registry().Quantity(value, unit.value).to("m").magnitude
        assert lengths.metres(Amount(value, unit=unit)) == pytest.approx(expected, rel=1e-12)
    assert (lengths.grams(Amount(value)), lengths.metres(Amount(value))) == (value, value)


@given(st.fractions(0, 2000, max_denominator=1000), TAPES, st.sampled_from([2, 4, 8, 16]))
def test_a_tape_shows_the_nearest_mark(length: Fraction, unit: Unit, denominator: int) -> None:
    step = {Unit.INCH: Fraction(1, denominator), Unit.CM: Fraction(1, 10), Unit.MM: Fraction(1)}
    shown = lengths.tape_value(float(length), unit, denominator)
    assert shown % step[unit] == 0
    assert abs(shown - length / EXACT_MM[unit]) <= step[unit] / 2 + Fraction(1, 10**9)


@given(st.integers(0, 800), st.sampled_from([2, 4, 8, 16]))
def test_a_mark_of_the_tape_is_shown_as_it_is(marks: int, denominator: int) -> None:
    mark = Fraction(marks, denominator)
    assert lengths.tape_value(float(mark * EXACT_MM[Unit.INCH]), Unit.INCH, denominator) == mark


@given(st.one_of(st.integers(-1000, 10**6), st.floats(-1e6, 1e6)), st.sampled_from([None, *Unit]))
def test_a_count_is_whole_and_has_no_unit(value: float, unit: Unit | None) -> None:
    whole = Amount(value, unit=unit).whole()
    assert (whole == value and type(whole) is int) or whole is None
    assert (whole is None) is (unit is not None or value != int(value))


def test_factors_are_the_exact_ones_to_the_last_bit() -> None:
    # International inch and yard, 1959.
    assert {unit: lengths.factor(unit, Unit.MM) for unit in LENGTHS} == {
        unit: float(mm) for unit, mm in EXACT_MM.items()
    }
    # International pound, 1959: an ounce is its sixteenth.
    ounce_g = float(Fraction(45359237, 100000) / 16)
    assert lengths.factor(Unit.OUNCE, Unit.GRAM) == pytest.approx(ounce_g, rel=1e-15)
    assert Amount(22.5, unit=Unit.INCH).mm(Unit.CM) == 571.5


def test_every_unit_has_one_use() -> None:
    uses = [TAPE_UNITS, BALL_UNITS, WEIGHT_UNITS]
    assert frozenset().union(*uses) == set(Unit)
    assert not any(one & other for one, other in itertools.combinations(uses, 2))


@pytest.mark.parametrize("length", LENGTHS)
@pytest.mark.parametrize("weight", sorted(WEIGHT_UNITS))
def test_a_weight_is_no_length(weight: Unit, length: Unit) -> None:
    with pytest.raises(pint.DimensionalityError):
        Amount(1, unit=weight).mm(length)
    with pytest.raises(pint.DimensionalityError):
        lengths.grams(Amount(1, unit=length))
