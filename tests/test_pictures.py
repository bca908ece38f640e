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
from pattern.shape.geometry import ball, radius_at
from pattern.shape.profile import parts_of
from pattern.shape.rounds import Round, Stage, spaced_round
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.axes import ticks
from pattern.writeup.chart_repeats import Placed, repeats, steps
from pattern.writeup.charts import brim_pieces, gauge_over_rounds, gauges, readings_say
from pattern.writeup.cloth import STEPS, rings, seen
from pattern.writeup.crown_chart import crown
from pattern.writeup.document import Figure, blocks_of
from pattern.writeup.drawing import LARGE, REGULAR, SVG, Canvas, Letters, Picture, number
from pattern.writeup.edition import Edition
from pattern.writeup.finished_piece import finished_piece
from pattern.writeup.named_measures import named_measures
from pattern.writeup.writeup import as_made
from tests.hats import outline
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples

PRINTS = st.sampled_from([REGULAR, LARGE])


def pictures(state: State, letters: Letters) -> list[Picture]:
    """Every picture that a write-up can have."""
    writeup = as_made(state, "Test", Edition(letters, readings=True))
    blocks = [block for section in writeup.sections for block in blocks_of(section)]
    found = [block for block in blocks if isinstance(block, Figure)]
    return [one for each in found for one in (each.picture, each.narrow) if one is not None]


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
@given(stories(), PRINTS)
def test_every_picture_is_whole_and_says_what_it_shows(story: Story, letters: Letters) -> None:
    """SVG 2, section 5.5 and the SVG accessibility mappings: role, title and desc as children.

    Letters of a sans-serif have half an em in the mean.
    """
    for picture in pictures(story.state, letters):
        root = ET.fromstring(picture.svg)
        assert root.tag == f"{{{SVG}}}svg"
        assert root.get("role") == "img"
        assert [child.tag for child in root][:2] == [f"{{{SVG}}}title", f"{{{SVG}}}desc"]
        assert [child.text for child in root][:2] == [picture.title, picture.description]
        assert not re.search(r"\b(nan|inf)\b", picture.svg + picture.description, re.I)
        assert re.search(r"\d", picture.description)
        _, _, wide, high = map(float, root.get("viewBox", "").split())
        assert all(-10 <= value <= max(wide, high) + 10 for value in numbers(root))
        scale = picture.width_px / wide
        for one in root.iter(f"{{{SVG}}}text"):
            size = float(one.get("font-size", "0"))
            assert size * scale >= 13 - 1e-6
            begins = float(one.get("x", "0")) if one.get("text-anchor") == "start" else 0
            assert begins + 0.5 * size * len(one.text or "") <= wide + 10


@settings(max_examples=examples(40))
@given(stories(), PRINTS)
def test_the_chart_has_every_increase_of_the_rounds_that_it_shows(
    story: Story, letters: Letters
) -> None:
    """A stem of a V is a line of its own: one path in the accent has them all."""
    end = planned_end(story.state)
    first = [made.round for made in end.rounds_made() if made.round.part == 0][::-1]
    widest = max(one.after for one in first)
    rounds = [
        one for one in first if any(later.after == widest for later in first[one.number - 1 :])
    ]
    shown, picture = repeats(rounds), crown(end, first, letters)
    for one, part in zip(rounds, shown.rounds, strict=False):
        assert list(part) * shown.parts == steps(one)
        assert sum(step.made for step in part) * shown.parts == one.after
    many = len(shown.rounds)
    total = sum(one.sets for one in rounds[:many] if not one.decreasing)
    assert f" of {many} round" in picture.description
    assert f"with {total} increase" in picture.description
    changes = sum(step is not Placed.PLAIN for part in shown.rounds for step in part)
    paths = ET.fromstring(picture.svg).iter(f"{{{SVG}}}path")
    (drawn,) = [one for one in paths if one.get("stroke-width") == "1.7"]
    stems = 2 if end.settings.stitch.value == "single" else 0
    assert not stems or drawn.get("d", "").count("M") == stems * changes


def test_a_crown_of_equal_repeats_is_drawn_as_one_of_them() -> None:
    """Thirty rounds of six increases: a sixth of them, with a V in each but the first."""
    six = [spaced_round(n, Stage.CROWN, 6 * (n - 1), 6, 0.5 * (n % 2)) for n in range(2, 31)]
    shown = repeats([Round(1, Stage.RING, 0, 6), *six])
    assert (shown.parts, len(shown.rounds)) == (6, 30)
    assert [part.count(Placed.INCREASE) for part in shown.rounds] == [0, *[1] * 29]
    uneven = repeats([Round(1, Stage.RING, 0, 6), spaced_round(2, Stage.CROWN, 6, 5)])
    assert uneven.parts == 1


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
    """Worked by hand: 55 cm around 82 stitches is 6.71 mm a stitch; 13 cm across 9 rounds is
    (130 / 2 - ring) / 9 a round.
    """
    state = measured_hat()
    known = gauges(state)
    (around,) = readings_say(state, known, 0)
    assert around.after_round == 18
    assert around.value.mean == pytest.approx(550 / 82)
    (across,) = readings_say(state, known, 1)
    assert across.value.mean == pytest.approx((65 - known[9].ring_mm) / 9)
    words = gauge_over_rounds(state, 0).description
    assert "After round 18, around the edge: by itself 6.71 mm, give or take 0.03 mm." in words
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
def test_the_cloth_is_as_long_as_its_parts_and_falls_as_far(
    girth: float, depth: float, brim: float, slope: float
) -> None:
    """Rounded folds leave the length as it is, and never rise above the profile's lowest point."""
    parts = outline(girth, depth, brim, slope)
    cloth = rings(parts)
    whole = sum(part.length_mm for part in parts)
    assert cloth[-1].along_mm == pytest.approx(whole)
    walked = sum(
        math.hypot(b.radius_mm - a.radius_mm, b.height_mm - a.height_mm) for a, b in pairwise(cloth)
    )
    assert walked == pytest.approx(whole)
    assert all(a.height_mm >= b.height_mm - 1e-9 for a, b in pairwise(cloth))
    assert cloth[-1].radius_mm == pytest.approx(radius_at(parts, whole), abs=0.16 * whole)


@settings(max_examples=examples(40))
@given(st.floats(100, 300), st.floats(5, 80))
def test_hidden_edges_of_a_ball_are_those_of_geometry(radius: float, elevation: float) -> None:
    """Seen at an elevation e, a sphere's ring at latitude b is seen up to sin t =
    tan b tan e, and from latitude 90 - e up whole. Source: spherical geometry, worked by hand.
    """
    tilt, step = math.tan(math.radians(elevation)), math.pi / STEPS
    for one in seen(rings([ball(radius)]), elevation)[1:-1]:
        latitude = math.asin(max(-1.0, min(1.0, 1 + one.ring.height_mm / radius)))
        own, above = (math.tan(min(b, 1.57)) * tilt for b in (latitude, latitude + step))
        assert min(max(own, -1.0), 1.0) - 0.01 <= one.sine <= max(min(above, 1.0), -1.0) + 0.01


def test_a_disc_hides_the_band_below_it_and_no_brim_hides_the_crown() -> None:
    """A beret's band is seen at its front, its underside hardly; of a mat every round is seen."""
    beret = seen(rings(parts_of(begun(shape="beret").settings)), 17.0)
    assert -1 < beret[-1].sine < 0.1
    assert min(one.sine for one in beret) < -0.9
    mat = seen(rings(parts_of(begun(shape="mat").settings)), 90.0)
    assert all(one.sine == 1 for one in mat)


def test_the_drawing_names_the_measures_at_their_numbers() -> None:
    end = planned_end(measured_hat())
    picture = finished_piece(end, 30, REGULAR)
    named = named_measures(end)
    assert [one.name for one in named] == ["Circumference", "Depth", "Brim"]
    texts = [one.text for one in ET.fromstring(picture.svg).iter(f"{{{SVG}}}text")]
    for one in named:
        assert one.name in texts
        assert one.value in texts
        assert f"{one.name.lower()} {one.value}" in picture.description
    assert "30 of 37 rounds made so far" in picture.description
    inches = told(begun(unit="inch"), *[NEXT] * 5)
    words = finished_piece(planned_end(inches), 5, LARGE).description
    assert re.search(r"circumference \d+( \d/\d)? in;", words)


@pytest.mark.parametrize(
    ("shape", "names"),
    [
        ("beret", ["Circumference of the band", "Width across the top"]),
        ("bowl", ["Width across", "Height"]),
        ("mat", ["Width across"]),
        ("ball", ["Width across"]),
        ("close cap", ["Circumference", "Depth"]),
    ],
)
def test_each_shape_has_the_measures_that_make_it(shape: str, names: list[str]) -> None:
    assert [one.name for one in named_measures(planned_end(begun(shape=shape)))] == names


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
    ended = told(begun(), NEXT, c.FinishNow(), c.Yes())
    assert len(pictures(ended, LARGE)) == 4
    titles = [one.title for one in pictures(begun(brim_mm=0.0), LARGE)]
    assert titles == ["The finished hat", "Chart of the crown"]
    assert len(pictures(measured_hat(), LARGE)) == 5


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
