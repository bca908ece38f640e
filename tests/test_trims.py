"""Bands, edgings and the brim for shade: lengths from the girths, cautions for children."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import planned_end
from pattern.forecast.trims import BAND_OVERLAP_MM, band, edging
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.pieces import NEXT, begun, told
from tests.properties import examples
from voice.sentences import trims
from voice.sentences.amounts import with_unit
from voice.words.phrases import read


@settings(max_examples=examples(20))
@given(st.floats(0.85, 1.2), st.sampled_from([0.0, 60.0]))
def test_lengths_are_those_of_the_stitches_that_are_there(factor: float, brim: float) -> None:
    """Stitches times the maker's own width, at the foot of the sides and at the edge."""
    state = told(begun(brim_mm=brim), *[NEXT] * 9)
    girth = round(factor * state.piece.stitches * state.piece.gauge.width_mm)
    state = told(state, c.Measured(Amount(girth, 1.0, Unit.MM), Kind.AROUND), c.Yes())
    made = [made.round for made in planned_end(state).rounds_made()]
    foot = next(round_ for round_ in made if round_.stage is Stage.SIDES)
    width = state.piece.gauge.width_mm
    assert band(state).mean == pytest.approx(foot.after * width, rel=0.001)
    assert edging(state).mean == pytest.approx(made[0].after * width, rel=0.001)
    assert (edging(state).mean > 1.2 * band(state).mean) is bool(brim)


def test_a_band_is_cut_for_the_washed_hat() -> None:
    state = told(
        begun(),
        c.Swatch(30, Amount(210.0, 1.0, Unit.MM)),
        c.Swatch(30, Amount(189.0, 1.0, Unit.MM), washed=True),
    )
    assert abs(band(state).mean - 560) < 5
    assert "After washing" in as_text(as_made(state, "Test"), 200)


def test_it_is_told_with_its_overlap_and_where_to_tack() -> None:
    state = begun(unit="centimeter")
    said = trims.for_band(state)
    whole = with_unit(band(state).mean + BAND_OVERLAP_MM, state.settings, 8)
    assert said.lower().startswith(f"{whole}:")
    assert "two to overlap" in said
    assert "at the back and at each quarter" in said
    text = as_text(as_made(state, "Test"), 200)
    assert "Band, around the lower edge of the sides" in text
    assert "Edging, around the last round" in text


@pytest.mark.parametrize(("age", "cautioned"), [(2.0, True), (6.9, True), (7.0, False)])
def test_loose_ends_are_ruled_out_for_children(age: float, cautioned: bool) -> None:
    """EN 14682: no cords at head and neck under 7 years; hats are outside its scope, the rule is
    followed all the same.
    """
    state = begun(age_years=age)
    for said in (trims.for_band(state), trims.for_edging(state)):
        assert ("no ties" in said.lower()) is cautioned


@pytest.mark.parametrize(
    ("age", "brim", "enough"),
    [
        (None, 60.0, True),
        (None, 50.0, False),
        (8.0, 50.0, True),
        (9.0, 50.0, False),
        (2.0, 40.0, False),
    ],
)
def test_the_brim_against_the_width_for_shade(age: float | None, brim: float, enough: bool) -> None:
    """Cancer councils of Australia and New Zealand: 6 cm, to 8 years 5 cm; no factor is claimed."""
    said = trims.shade(begun(age_years=age, brim_mm=brim))
    assert said.startswith("Yes" if enough else "No")
    assert said.endswith("no tested protection.")
    assert ("broad brim" in said) is (age is None or age >= 12)


def test_of_unknown_age_a_small_head_is_taken_for_a_childs() -> None:
    assert "for a child under seven" in trims.for_band(begun(head_mm=460.0)).lower()
    assert "no ties" not in trims.for_band(begun(head_mm=560.0)).lower()


def test_what_has_no_brim_no_band_or_no_edge_says_so() -> None:
    assert "no shade" in trims.shade(begun(brim_mm=0.0))
    mat, ball = begun(shape="mat", across_mm=200.0), begun(shape="ball", across_mm=100.0)
    assert trims.for_band(mat) == trims.NO_BAND
    assert "to overlap" in trims.for_edging(mat)
    assert "no edge" in trims.for_edging(ball)
    assert "Trims" not in as_text(as_made(ball, "Test"), 200)


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("how long a band", c.Asked.BAND),
        ("How long is an edging?", c.Asked.EDGING),
        ("is the brim wide enough", c.Asked.SHADE),
    ],
)
def test_what_makers_ask(said: str, what: c.Asked) -> None:
    assert read(said) == c.Ask(what)
