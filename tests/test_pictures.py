"""Pictures of random pieces: well formed, finite, in their frame, and what their words say."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import planned_end
from pattern.gauge.estimate import DRIFT, LOOSENING
from pattern.gauge.miscount import SLIPS_UNSEEN, Miscount, came_out, worked
from pattern.gauge.prior import prior
from pattern.plan.learning import learn
from pattern.plan.piece import fullness
from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.geometry import radius_at
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.charts import brim_pieces, gauge_over_rounds, gauges, readings_say
from pattern.writeup.crown_chart import crown
from pattern.writeup.drawing import INK, PAPER, SHADE, SVG, TEXT, WIDTH, Canvas, number, ticks
from pattern.writeup.measures import measures
from pattern.writeup.pictures import pictures
from pattern.writeup.side_view import meridian, profile
from tests.hats import outline
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples

LONGEST = 38
"""Letters of 20 units that fit 400: half an em each, as sans-serif letters have in the mean."""


def cm(value: float, kind: c.Kind) -> c.Measured:
    return c.Measured(Amount(value, 0.5, Unit.CM), kind)


def measured_hat() -> State:
    return told(
        begun(),
        *[NEXT] * 9,
        cm(13.0, c.Kind.ACROSS),
        *[NEXT] * 9,
        cm(55.0, c.Kind.AROUND),
        *[NEXT] * 12,
    )


def numbers(root: ET.Element) -> list[float]:
    names = {"x", "y", "cx", "cy", "r", "d"}
    return [
        float(value)
        for element in root.iter()
        for name in names & set(element.keys())
        for value in re.findall(r"-?\d+\.?\d*", element.get(name, ""))
    ]


@settings(max_examples=examples(60))
@given(stories())
def test_every_picture_is_whole_and_says_what_it_shows(story: Story) -> None:
    """SVG 2, section 5.5 and the SVG accessibility mappings: role, title and desc as children."""
    state = story.state
    for picture in pictures(state):
        root = ET.fromstring(picture.svg)
        assert root.tag == f"{{{SVG}}}svg"
        assert root.get("role") == "img"
        assert [child.tag for child in root][:2] == [f"{{{SVG}}}title", f"{{{SVG}}}desc"]
        assert [child.text for child in root][:2] == [picture.title, picture.description]
        assert not re.search(r"\b(nan|inf)\b", picture.svg + picture.description, re.I)
        assert re.search(r"\d", picture.description)
        _, _, wide, high = map(float, root.get("viewBox", "").split())
        assert wide == WIDTH
        assert all(-10 <= value <= max(wide, high) + 10 for value in numbers(root))
        texts = list(root.iter(f"{{{SVG}}}text"))
        assert all(float(one.get("font-size", "0")) == TEXT >= 14 for one in texts)
        assert all(len(one.text or "") <= LONGEST for one in texts)
        assert set(re.findall(r"#[0-9a-f]{3,6}", picture.svg)) <= {INK, PAPER, SHADE}


@settings(max_examples=examples(40))
@given(stories())
def test_the_crown_has_a_fork_for_each_increase(story: Story) -> None:
    state = story.state
    end = planned_end(state)
    first = [made.round for made in end.rounds_made() if made.round.part == 0][::-1]
    if not first:
        return
    widest = max(one.after for one in first)
    rounds = [
        one for one in first if any(later.after == widest for later in first[one.number - 1 :])
    ]
    picture = crown(end, state.piece.finished)
    root = ET.fromstring(picture.svg)
    forks = sum(
        one.get("d", "").count("M")
        for one in root.iter(f"{{{SVG}}}path")
        if one.get("stroke-width") == "2.5"
    )
    assert forks == sum(one.sets for one in rounds if one.before)
    strokes = sum(
        one.get("d", "").count("M")
        for one in root.iter(f"{{{SVG}}}path")
        if one.get("stroke-width") == "1"
    )
    total = sum(one.after for one in rounds)
    assert strokes == (total if total <= 1500 else 0)
    for one in rounds:
        assert f"Round {one.number}: " in picture.description
        assert f"{one.after} stitches." in picture.description
    dashed = [one for one in root.iter(f"{{{SVG}}}circle") if one.get("stroke-dasharray")]
    assert len(dashed) == sum(one.number > state.piece.finished for one in rounds)


@settings(max_examples=examples(60))
@given(
    st.lists(
        st.one_of(
            st.just(NEXT),
            st.just(NEXT),
            st.builds(
                cm,
                st.integers(8, 120).map(lambda half: half / 2),
                st.sampled_from([c.Kind.ACROSS, c.Kind.AROUND, c.Kind.DEPTH]),
            ),
        ),
        max_size=60,
    )
)
def test_the_line_is_the_estimate_folded_over_rounds_and_readings(said: list[c.Command]) -> None:
    """Folded again from the prior: drift with each round, and each reading after its round."""
    state = told(begun(), *said, c.No())
    taken = list(state.readings_taken())[::-1]
    rounds = list(state.rounds_made())[::-1]
    pieces = [*(made.before for made in rounds), state.piece]
    gauge, miscount, found = prior(state.settings), Miscount(), []
    for finished, piece in enumerate(pieces):
        if finished:
            first = piece.stage is Stage.SIDES and piece.side_rounds == 1
            if rounds[finished - 1].round.places:
                gauge, miscount = came_out(gauge, miscount)
            gauge = gauge.drifted(DRIFT + (LOOSENING if first else 0.0))
            miscount = worked(miscount, piece.stitches, SLIPS_UNSEEN)
        for one in taken:
            if one.after_round == finished:
                read = learn(replace(piece, gauge=gauge, miscount=miscount), one.reading)
                gauge, miscount = read.gauge, read.miscount
        found.append(gauge)
    known = gauges(state)
    assert len(known) == len(found) == state.piece.finished + 1
    for ours, again in zip(known, found, strict=True):
        assert ours.mean == pytest.approx(again.mean)
        assert ours.of((1, 1, 1)).sd == pytest.approx(again.of((1, 1, 1)).sd)


def test_a_reading_alone_says_its_own_stitch() -> None:
    """Worked by hand: 55 cm around 85 stitches is 6.47 mm a stitch; 13 cm across 9 rounds is
    (130 / 2 - ring) / 9 a round.
    """
    state = measured_hat()
    known = gauges(state)
    (around,) = readings_say(state, known, 0)
    assert around.after_round == 18
    assert around.value.mean == pytest.approx(550 / 85)
    (across,) = readings_say(state, known, 1)
    assert across.value.mean == pytest.approx((65 - known[9].ring_mm) / 9)
    words = gauge_over_rounds(state, 0).description
    assert "After round 18, around the edge: by itself 6.47 mm, give or take 0.03 mm." in words
    words = gauge_over_rounds(state, 1).description
    assert "After round 9, across the crown: by itself 6.9" in words


def test_readings_of_rounds_taken_out_are_not_drawn() -> None:
    state = told(measured_hat(), c.RippedBack(20))
    known = gauges(state)
    assert [one.after_round for one in readings_say(state, known, 1)] == [9]
    assert readings_say(state, known, 0) == []
    assert "No reading of it has been taken." not in gauge_over_rounds(state, 1).description


@settings(max_examples=examples(40))
@given(st.floats(300, 700), st.floats(120, 450), st.floats(0, 250), st.floats(0, 85))
def test_the_outline_follows_the_profile_to_its_end(
    girth: float, depth: float, brim: float, slope: float
) -> None:
    parts = outline(girth, depth, brim, slope)
    points = list(meridian(parts))
    whole = sum(part.length_mm for part in parts)
    assert points[-1][0] == pytest.approx(radius_at(parts, whole))
    walked = sum(math.dist(a, b) for a, b in pairwise(points))
    assert walked == pytest.approx(whole)
    cut = list(meridian(parts, whole / 2))
    assert sum(math.dist(a, b) for a, b in pairwise(cut)) == pytest.approx(whole / 2)


def test_the_profile_names_the_measures() -> None:
    state = measured_hat()
    end = planned_end(state)
    found = measures(end.piece)
    words = profile(end, state.piece.finished).description
    assert found.brim is not None
    for what, value in (
        ("Circumference", found.girth),
        ("Depth along cloth", found.depth),
        ("Brim", found.brim),
    ):
        assert re.search(rf"{what}: \d", words)
        assert value.mean > 0
    assert "30 of 37 rounds made" in words
    inches = told(begun(unit="inch"), *[NEXT] * 5)
    words = profile(planned_end(inches), 5).description
    assert re.search(r"Circumference: \d+( \d/\d)? in,", words)


def test_the_fullness_is_girth_over_flat_girth() -> None:
    """N w over f 2 pi (R + i h cos s), after the geometry of a cone's frustum."""
    end = planned_end(measured_hat())
    pieces = list(brim_pieces(end))
    assert len(pieces) == end.piece.brim_rounds > 5
    width, height = end.piece.gauge.width_mm, end.piece.gauge.height_mm
    radius = end.piece.edge_stitches * width / math.tau
    for rounds, piece in enumerate(pieces, 1):
        out = rounds * height * math.cos(math.radians(piece.settings.slope))
        flat = piece.settings.fullness * math.tau * (radius + out)
        found = fullness(piece, piece.stitches, piece.brim_rounds)
        assert found.mean == pytest.approx(piece.stitches * width / flat)


def test_what_there_is_no_picture_of() -> None:
    assert len(pictures(told(begun(), NEXT, c.FinishNow(), c.Yes()))) == 4
    titles = [one.title for one in pictures(begun(brim_mm=0.0))]
    assert titles == ["The hat from the side", "The crown from above"]
    assert len(pictures(measured_hat())) == 5


def test_only_finite_places_can_be_drawn() -> None:
    with pytest.raises(ValueError, match="no place"):
        number(math.nan)
    with pytest.raises(ValueError, match="no place"):
        Canvas("", "").line([(0.0, math.inf)])


@given(st.floats(-1e3, 1e3), st.floats(1e-3, 1e4))
def test_ticks_are_few_round_and_inside(least: float, span: float) -> None:
    found = ticks(least, least + span)
    assert 1 <= len(found) <= 6
    assert all(least - 1e-6 * span <= one <= least + span * (1 + 1e-6) for one in found)
    if len(found) > 1:
        lead = f"{found[1] - found[0]:.3e}"[0]
        assert lead in "125"
