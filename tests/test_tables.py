"""Tables and settings: heads against growth references, names, sizes and limits."""

from __future__ import annotations

import math
from dataclasses import Field, fields

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rcpchgrowth import measurement_from_sds  # type: ignore[import-untyped]

from pattern.shape.limits import LIMITS, with_answer
from pattern.shape.profile import parts_of
from pattern.shape.settings import DEFAULT_HEAD_MM, Answered, Settings
from pattern.trade.cautions import CAUTIONS, brim_for_shade_mm
from pattern.trade.head_medians import HEAD_MEDIAN_CM, Sex, hat_size_us, head_median_mm
from pattern.trade.stitches import STITCHES, Stitch, Terms, stitch_called, stitch_name
from pattern.trade.yarns_and_hooks import HOOKS_MM, YARNS
from pattern.writeup.measure_text import mixed

INCH = 25.4
NUMBERS = st.floats(allow_nan=True, allow_infinity=True)


def reference_cm(reference: str, sex: Sex, age: float) -> float:
    """Median head girth of a growth reference, by rcpchgrowth."""
    return float(
        measurement_from_sds(
            reference=reference,
            requested_sds=0,
            measurement_method="ofc",
            sex=sex.value,
            age=age,
        )
    )


@given(st.sampled_from(Sex), st.integers(0, 260).map(lambda weeks: weeks / 52))
def test_young_heads_between_the_rows(sex: Sex, age: float) -> None:
    """Within a millimetre of the WHO 2006 median at any week.

    Source: WHO Child Growth Standards 2006, by rcpchgrowth.
    """
    assert head_median_mm(age, sex) / 10 == pytest.approx(reference_cm("who", sex, age), abs=0.1)


@given(st.sampled_from(Sex), st.floats(6, 16))
def test_older_heads_between_the_rows(sex: Sex, age: float) -> None:
    """Source: UK-WHO (UK90 from 4 years), by rcpchgrowth."""
    assert head_median_mm(age, sex) / 10 == pytest.approx(reference_cm("uk-who", sex, age), abs=0.1)


@given(st.sampled_from(Sex), st.floats(0, 90), st.floats(0, 90))
def test_heads_grow(sex: Sex, age: float, other: float) -> None:
    """The median never falls with age to adulthood: WHO 2006 and UK90."""
    young, old = sorted((age, other))
    assert head_median_mm(young, sex) <= head_median_mm(old, sex)


@given(st.sampled_from(Sex), st.floats(5, 6, exclude_max=True))
def test_nothing_is_interpolated_across_the_references(sex: Sex, age: float) -> None:
    """WHO 2006 and UK90 differ by 2.0 and 1.8 cm at 4 years, where UK-WHO splices them.

    Source: rcpchgrowth, either side of 4 years.
    """
    jump = reference_cm("uk-who", sex, 4.0) - reference_cm("uk-who", sex, 3.99)
    assert jump == pytest.approx({Sex.MALE: 2.0, Sex.FEMALE: 1.8}[sex], abs=0.1)
    assert head_median_mm(age, sex) == head_median_mm(5, sex)
    assert head_median_mm(6, sex) - head_median_mm(age, sex) > 15


@given(st.sampled_from(sorted(LIMITS)), NUMBERS)
def test_limits(key: str, value: float) -> None:
    """A number is taken inside its limits, and otherwise refused by its key."""
    limits = LIMITS[key]
    inside = math.isfinite(value) and limits.least <= value <= limits.most
    if inside and (not limits.whole or value.is_integer()):
        assert getattr(with_answer(Settings(), key, value), key) == value
    else:
        with pytest.raises(ValueError, match=f"^{key}$"):
            with_answer(Settings(), key, value)


@given(st.data(), st.sampled_from(sorted(LIMITS)))
def test_an_answer_inside_changes_itself_alone(data: st.DataObject, key: str) -> None:
    limits = LIMITS[key]
    numbers = (
        st.integers(int(limits.least), int(limits.most))
        if limits.whole
        else st.floats(limits.least, limits.most)
    )
    value = data.draw(numbers)
    after = with_answer(Settings(), key, float(value))
    assert getattr(after, key) == value
    assert isinstance(getattr(after, key), int if limits.whole else float)
    was = getattr(Settings(), key)
    assert with_answer(after, key, was) == Settings()


@given(st.sampled_from(Stitch), st.sampled_from(Terms))
def test_names_lead_back(stitch: Stitch, terms: Terms) -> None:
    name = stitch_name(stitch, terms)
    assert stitch_called(name.removesuffix(" crochet"), terms) is stitch


@given(st.sampled_from(range(len(YARNS))))
def test_default_hook_is_sold_and_smaller_than_the_class(yarn: int) -> None:
    """A hat is worked on one hook size down or more: common practice, no source."""
    hook = Settings(yarn=yarn).hook
    assert hook in HOOKS_MM
    middle = (YARNS[yarn].hook_least_mm + YARNS[yarn].hook_most_mm) / 2
    assert hook < middle


@pytest.mark.parametrize("sex", Sex)
def test_rows_of_young_heads(sex: Sex) -> None:
    """Source: WHO Child Growth Standards 2006, by rcpchgrowth."""
    rows = [(age, girth) for age, girth in HEAD_MEDIAN_CM[sex] if age <= 5]
    assert len(rows) == 19
    for age, girth in rows:
        assert girth == pytest.approx(reference_cm("who", sex, age), abs=0.01)
        assert head_median_mm(age, sex) == pytest.approx(10 * girth)


@pytest.mark.parametrize("sex", Sex)
@pytest.mark.parametrize("age", [6, 8, 10, 12, 14, 16])
def test_rows_of_older_heads(sex: Sex, age: int) -> None:
    """Source: UK-WHO, by rcpchgrowth."""
    want = reference_cm("uk-who", sex, float(age))
    assert head_median_mm(age, sex) / 10 == pytest.approx(want, abs=0.1)


def test_adult_heads() -> None:
    """Source: ANSUR II, Gordon et al., NATICK/TR-15/007, 2014."""
    assert head_median_mm(18, Sex.MALE) == head_median_mm(70, Sex.MALE) == 574
    assert head_median_mm(18, Sex.FEMALE) == head_median_mm(70, Sex.FEMALE) == 561
    assert pytest.approx((574 + 561) / 2) == DEFAULT_HEAD_MM


def test_one_year_old() -> None:
    """Source: WHO Child Growth Standards 2006: 46.07 cm (boys), 44.90 cm (girls)."""
    assert head_median_mm(1, Sex.MALE) == pytest.approx(460.7)
    assert head_median_mm(1, Sex.FEMALE) == pytest.approx(449.0)


@pytest.mark.parametrize(
    ("us", "uk", "us_short", "uk_short", "chains"),
    [
        ("single crochet", "double crochet", "sc", "dc", 1),
        ("half double crochet", "half treble crochet", "hdc", "htr", 2),
        ("double crochet", "treble crochet", "dc", "tr", 3),
        ("treble crochet", "double treble crochet", "tr", "dtr", 4),
    ],
)
def test_both_dialects(us: str, uk: str, us_short: str, uk_short: str, chains: int) -> None:
    """Source: a trade council's booklet, from a copy."""
    stitch = stitch_called(us.removesuffix(" crochet"), Terms.US)
    assert stitch is not None
    assert stitch_name(stitch, Terms.UK) == uk
    facts = STITCHES[stitch]
    assert (facts.us_short, facts.uk_short, facts.turning_chains) == (us_short, uk_short, chains)


def test_names_of_the_other_dialect_mean_other_stitches() -> None:
    """Source: a trade council's booklet, from a copy."""
    assert stitch_called("double", Terms.UK) is Stitch.SINGLE
    assert stitch_called("double", Terms.US) is Stitch.DOUBLE
    assert stitch_called("single", Terms.UK) is None
    assert stitch_called("double treble", Terms.US) is None


@pytest.mark.parametrize(
    ("stitch", "least", "most"),
    [
        (Stitch.SINGLE, 6, 8),
        (Stitch.HALF_DOUBLE, 8, 8),
        (Stitch.DOUBLE, 12, 12),
        (Stitch.TREBLE, 12, 18),
    ],
)
def test_starts(stitch: Stitch, least: int, most: int) -> None:
    """Common practice, no source."""
    assert least <= Settings(stitch=stitch).increases <= most


def test_across_the_crown() -> None:
    """A girth of 22 in is 7 in across, 22/7 being nearly pi (Archimedes; from memory)."""
    settings = Settings(head_mm=22 * INCH)
    crown = parts_of(settings)[0]
    assert 2 * crown.length_mm / INCH == pytest.approx(7, abs=0.01)


@given(st.sampled_from(Sex), st.floats(0, 5), st.booleans())
def test_default_depth_of_a_child(sex: Sex, age: float, said: bool) -> None:
    """4 to 6 in, whether the age was said or the head alone tells: common practice, no source."""
    known = Settings(head_mm=head_median_mm(age, sex), age_years=age if said else None)
    assert 4 <= known.depth / INCH <= 6 + 1e-9


@given(st.sampled_from(Sex), st.floats(4, 13))
def test_default_depth_grows_with_the_child_and_does_not_leap(sex: Sex, age: float) -> None:
    """From a head at one age to the same head a month later it is at most a millimetre."""
    head_mm = head_median_mm(age, sex)
    now, later = (Settings(head_mm=head_mm, age_years=age + some).depth for some in (0.0, 1 / 12))
    assert now <= later <= now + 1


@pytest.mark.parametrize(("head_cm", "least_in", "most_in"), [(56.1, 6.5, 8), (57.4, 7, 9)])
@pytest.mark.parametrize("age", [None, 18, 60])
def test_default_depth_of_an_adult(
    head_cm: float, least_in: float, most_in: float, age: float | None
) -> None:
    """A woman, a man: common practice, no source."""
    depth = Settings(head_mm=10 * head_cm, age_years=age).depth
    assert least_in <= depth / INCH <= most_in


def test_answers_win_over_defaults() -> None:
    said = Settings(head_mm=560, ease_mm=-10, hook_mm=4.25, start=8, depth_mm=180, brim_mm=0)
    assert (said.girth_mm, said.hook, said.increases, said.depth, said.brim) == (
        550,
        4.25,
        8,
        180,
        0,
    )


@pytest.mark.parametrize(("age", "brim_mm"), [(2, 50), (8, 50), (9, 60), (11, 60), (None, 60)])
def test_brims_for_shade(age: float | None, brim_mm: float) -> None:
    """Source: Cancer Council / SunSmart, Australia and New Zealand: 0-8 y 5 cm, 9-11 y 6 cm."""
    assert brim_for_shade_mm(age) == brim_mm
    assert Settings(age_years=age).brim == brim_mm


def test_ages_of_cautions() -> None:
    """Sources: EN 14682 (cords, under 7 years), US 16 CFR 1501 (small parts, under 3 years)."""
    ages = {caution.key: caution.under_years for caution in CAUTIONS}
    assert (ages["cords"], ages["small parts"], ages["hands"]) == (7, 3, None)


def test_words_are_turned_into_their_kinds() -> None:
    changed = with_answer(with_answer(Settings(), "terms", "uk"), "stitch", "half double")
    assert (changed.terms, changed.stitch) == (Terms.UK, Stitch.HALF_DOUBLE)
    with pytest.raises(ValueError, match="chain"):
        with_answer(Settings(), "stitch", "chain")


@pytest.mark.parametrize("item", fields(Settings), ids=lambda item: item.name)
def test_none_means_not_said_again(item: Field[object]) -> None:
    words: dict[str, str | bool] = {"unit": "centimeter", "terms": "uk", "stitch": "double"}
    words |= {"joined": True, "stacked": True, "shape": "beret", "fibre": "cotton"}
    value = words[item.name] if item.name in words else LIMITS[item.name].least
    said = with_answer(Settings(), item.name, value)
    found = getattr(said, item.name)
    assert (found.name if item.name == "shape" else found) == value
    assert with_answer(said, item.name, None) == Settings()


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("unit", "gram"),
        ("unit", "yard"),
        ("unit", 4),
        ("terms", "UK"),
        ("stitch", 1.0),
        ("joined", "yes"),
        ("joined", 1),
        ("head_mm", "570"),
        ("yarn", True),
        ("girth_mm", 500.0),
        ("", 1),
    ],
)
def test_what_is_no_answer_is_refused_by_its_key(key: str, value: Answered) -> None:
    with pytest.raises(ValueError, match=f"^{key}"):
        with_answer(Settings(), key, value)


HAT_SIZES = {
    52: "6 1/2",
    54: "6 3/4",
    55: "6 7/8",
    56: "7",
    57: "7 1/8",
    58: "7 1/4",
    60: "7 1/2",
    62: "7 3/4",
    64: "8",
}
"""Head in cm and US hat size: a size chart of the trade, from a copy."""


@pytest.mark.parametrize("head_cm", HAT_SIZES)
def test_us_hat_sizes_are_those_of_the_trade(head_cm: int) -> None:
    assert mixed(hat_size_us(10.0 * head_cm)) == HAT_SIZES[head_cm]
