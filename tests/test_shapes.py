"""Whole pieces of every shape, against plane geometry worked out apart by scipy."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]

from pattern.errors import BadShape
from pattern.plan.part_ends import target
from pattern.plan.sides import FITS_MM
from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES, Measure, Shape, ShapePart
from pattern.shape.interview import questions
from pattern.shape.limits import with_answer
from pattern.shape.part_kinds import Asked, PartKind
from pattern.shape.rounds import Round, Stage
from pattern.shape.settings import Settings
from pattern.shape.shape_text import as_text, shape_from
from tests.hats import exactly, said
from tests.pieces import begun
from tests.properties import examples

NAMES = [shape.name for shape in SHAPES]
HEAD, DEPTH, BRIM, ACROSS, HEIGHT = 560.0, 200.0, 60.0, 150.0, 80.0
Slope = Callable[[float], float]
"""Degrees below level at an arc length from the centre, in mm."""


def slopes(name: str) -> tuple[Slope, float]:
    """The shape by its slope along the meridian, and the length of that; written down apart."""
    radius = (ACROSS / 2) if name in {"bowl", "mat", "ball"} else HEAD / math.tau
    top = 0.75 * radius
    lean = math.degrees(math.acos((radius - top) / (DEPTH - top)))
    wide = 1.5 * radius
    known: dict[str, tuple[Slope, float]] = {
        "brimmed hat": (lambda s: 0 if s < radius else 90 if s < DEPTH else 20, DEPTH + BRIM),
        "close cap": (lambda s: min(90, math.degrees(s / radius)), DEPTH),
        "bucket hat": (lambda s: 0 if s < top else lean if s < DEPTH else 50, DEPTH + BRIM),
        "beret": (
            lambda s: 0 if s < wide else 180 if s < 2 * wide - radius else 90,
            2 * wide - radius + 30,
        ),
        "bowl": (lambda s: 0 if s < radius else 90, radius + HEIGHT),
        "mat": (lambda _: 0, radius),
        "ball": (lambda s: math.degrees(s / radius), math.pi * radius),
    }
    return known[name]


def radius_of(name: str) -> Callable[[float], float]:
    """Radius at an arc length, by integrating the cosine of the slope."""
    slope, length = slopes(name)
    grid = [length * i / 400 for i in range(401)]
    sums = [0.0]
    for a, b in pairwise(grid):
        sums.append(sums[-1] + math.cos(math.radians(slope((a + b) / 2))) * (b - a))

    def radius(s: float) -> float:
        at = min(max(s / length * 400, 0.0), 399.999)
        low = int(at)
        return sums[low] + (sums[low + 1] - sums[low]) * (at - low)

    return radius


def worked(name: str, width: float, height: float, **answers: str | float | bool) -> State:
    """The piece at its end, worked by hands whose gauge is just that."""
    size = {
        "head_mm": HEAD,
        "depth_mm": DEPTH,
        "brim_mm": BRIM,
        "slope_deg": None,
        "across_mm": ACROSS,
        "height_mm": HEIGHT,
    }
    state = begun(shape=name, yarn=4, hook_mm=5.0, **{**size, **answers})
    state = replace(state, piece=replace(state.piece, gauge=exactly(width, height)))
    for _ in range(900):
        if state.stage is Stage.FINISHING:
            return state
        command = c.Skip() if state.want or state.doubt else c.Next()
        state = fold(state, decide(state, command))
    raise AssertionError(f"{name} never ended")


def rounds_of(state: State) -> list[Round]:
    return [made.round for made in state.rounds_made()][::-1]


WIDTHS, RATIOS = st.floats(4, 8), st.floats(0.95, 1.25)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(12))
@given(width=WIDTHS, ratio=RATIOS)
def test_counts_close_and_every_round_can_be_worked(name: str, width: float, ratio: float) -> None:
    """Each round is worked into the one before it, and has just its places more, or fewer."""
    state = worked(name, width, width * ratio)
    rounds = rounds_of(state)
    assert [one.number for one in rounds] == list(range(1, len(rounds) + 1))
    for before, after in pairwise(rounds):
        assert after.before == before.after
        change = -after.sets if after.decreasing else after.sets
        assert after.after == after.before + change
        used = 2 if after.decreasing else 1
        assert all(a + used <= b for a, b in pairwise(after.places))
        assert not after.places or after.places[-1] + used <= after.before


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(12))
@given(width=WIDTHS, ratio=RATIOS)
def test_the_cloth_has_the_area_of_the_shape(name: str, width: float, ratio: float) -> None:
    """Surface of revolution, the integral of 2 pi r ds (plane geometry; scipy): within the
    7 % by which whole increases a round may be off, and half a round at each side of its edge. A
    round has its stitches at its edge, and those of the round before at its beginning.
    """
    state = worked(name, width, width * ratio, start=round(math.tau * ratio))
    stitches = sum((one.before + one.after) / 2 for one in rounds_of(state))
    cloth = stitches * width * width * ratio
    radius, (_, length) = radius_of(name), slopes(name)
    area = quad(lambda s: math.tau * radius(s), 0, length, limit=200, epsrel=1e-4)[0]
    widest = max(radius(length * step / 100) for step in range(101))
    assert cloth == pytest.approx(area, rel=0.07 + 1.3 * width * ratio / widest)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(12))
@given(width=WIDTHS, ratio=RATIOS)
def test_every_round_has_the_girth_of_the_profile(name: str, width: float, ratio: float) -> None:
    """N w = 2 pi r at each round, r by integrating the slope; within a set and a half of changes
    where they come in sets, and from the fourth round on.
    """
    start = round(math.tau * ratio)
    state = worked(name, width, width * ratio, start=start)
    radius = radius_of(name)
    gauge = state.piece.gauge
    for one in rounds_of(state)[4:]:
        near = [
            math.tau * radius(gauge.ring_mm + (one.number + off) * gauge.height_mm) / width
            for off in (-1.5, -0.5, 0, 0.5, 1.5)
        ]
        slack = 1.5 * start + 0.06 * one.after
        assert min(near) - slack <= one.after <= max(near) + slack


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(12))
@given(width=WIDTHS, ratio=RATIOS)
def test_it_fits_where_it_has_to(name: str, width: float, ratio: float) -> None:
    """A head, or the edge of a bowl, within half a stitch; a mat within a round; a ball
    within two stitches, as its changes are those that are easy to say, and it closes.
    """
    state = worked(name, width, width * ratio)
    piece, rounds = state.piece, rounds_of(state)
    if name == "mat":
        across = 2 * (piece.gauge.ring_mm + piece.finished * piece.gauge.height_mm)
        assert abs(across - ACROSS) <= 1.01 * piece.gauge.height_mm
    elif name == "ball":
        assert abs(max(one.after for one in rounds) - target(piece, 0)) <= 2
        assert rounds[-1].after <= 2 * piece.settings.increases
    else:
        last = max(at for at, part in enumerate(piece.stretches) if part.stage is not Stage.BRIM)
        edge = [one.after for one in rounds if one.part == last][-1]
        girth = piece.settings.girth_mm
        assert abs(edge * width - girth) <= width / 2 + 1e-6 or abs(edge * width - girth) < FITS_MM


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("stitch", ["single", "half double", "double", "treble"])
@pytest.mark.parametrize("joined", [False, True])
def test_every_stitch_in_spiral_and_joined_rounds(name: str, stitch: str, joined: bool) -> None:
    width = 7.0
    ratio = {"single": 1.1, "half double": 1.4, "double": 1.95, "treble": 2.7}[stitch]
    state = worked(name, width, width * ratio, stitch=stitch, joined=joined)
    assert len(rounds_of(state)) >= 3
    left_out = state.want is not None  # a reading, which the first word leaves out
    assert said(state, *[c.Next()] * (5 + left_out)).stage is Stage.DONE


@given(width=WIDTHS, ratio=RATIOS)
def test_a_mat_lies_flat(width: float, ratio: float) -> None:
    """Flat within 7 % (common practice, one worker's test), at its edge and some rounds before."""
    state = worked("mat", width, width * ratio)
    for one in rounds_of(state)[-4:]:
        radius = state.piece.gauge.ring_mm + one.number * width * ratio
        assert one.after * width == pytest.approx(math.tau * radius, rel=0.07 + 8 / one.after)


@pytest.mark.parametrize("shape", SHAPES, ids=NAMES)
def test_only_what_the_shape_needs_is_asked(shape: Shape) -> None:
    asked = set(questions(Settings(shape=shape)))
    assert ("head_mm" in asked) is shape.for_head is not ("across_mm" in asked)
    lengths = {part.length for part in shape.parts}
    assert {one for one in Asked if f"{one.value}_mm" in asked} == lengths & set(Asked)


MEASURES = st.one_of(
    st.floats(1, 3000).map(lambda mm: Measure(mm=mm)),
    st.floats(0.05, 6).map(lambda girths: Measure(girths=girths)),
)
CALLED = st.from_regex(r"[a-z]{1,9}( [a-z]{1,9}){0,2}", fullmatch=True)
FIRST = st.builds(ShapePart, st.sampled_from([PartKind.DISC, PartKind.DOME]), CALLED, MEASURES)
LATER = st.one_of(
    st.builds(
        ShapePart,
        st.just(PartKind.SIDE),
        CALLED,
        st.none(),
        st.one_of(MEASURES, st.just(Asked.DEPTH)),
    ),
    st.builds(ShapePart, st.just(PartKind.TAPER), CALLED, MEASURES, MEASURES),
)
BRIMS = st.builds(
    ShapePart,
    st.just(PartKind.BRIM),
    CALLED,
    st.none(),
    st.one_of(MEASURES, st.just(Asked.BRIM)),
    st.floats(0, 85),
)


@st.composite
def own_shapes(draw: st.DrawFn) -> Shape:
    parts = [draw(FIRST), *draw(st.lists(LATER, max_size=5)), *draw(st.lists(BRIMS, max_size=1))]
    name = draw(CALLED.filter(lambda name: name not in NAMES))
    return Shape(name, tuple(parts))


@given(own_shapes())
def test_a_shape_written_down_reads_back_the_same(shape: Shape) -> None:
    assert shape_from(as_text(shape)) == shape
    assert with_answer(Settings(), "shape", as_text(shape)).shape == shape


@pytest.mark.parametrize("shape", SHAPES, ids=NAMES)
def test_those_that_come_along_can_be_written_down(shape: Shape) -> None:
    mine = replace(shape, name="my own")
    assert shape_from(as_text(mine)) == mine
    assert shape_from(shape.name) is shape


DISC = '[[part]]\nkind = "disc"\ngirth = 1\n'
BAD = [
    ("nothing", 1, ""),
    ('name = "my own"\nkind =', 2, ""),
    (DISC, 1, "name"),
    ('name = "My Own"\n' + DISC, 1, "name"),
    ('name = "beret"\n' + DISC, 1, "name"),
    ('name = "my own"\n', 1, ""),
    ('name = "my own"\ncolour = 1\n' + DISC, 2, "colour"),
    ('name = "my own"\nacross = 3\n' + DISC, 2, "across"),
    ('name = "my own"\n[[part]]\nkind = "cone"\n', 3, "kind"),
    ('name = "my own"\n[[part]]\nkind = "side"\nlength = 1\n', 3, "kind"),
    ('name = "my own"\n[[part]]\nkind = "disc"\n', 2, "girth"),
    ('name = "my own"\n[[part]]\nkind = "disc"\ngirth = "3 kg"\n', 4, "girth"),
    ('name = "my own"\n[[part]]\nkind = "disc"\ngirth = -1\n', 4, "girth"),
    ('name = "my own"\n[[part]]\nkind = "disc"\ngirth = nan\n', 4, "girth"),
    ('name = "my own"\n[[part]]\nkind = "disc"\ngirth = true\n', 4, "girth"),
    ('name = "my own"\n' + DISC + DISC, 6, "kind"),
    ('name = "my own"\n' + DISC + '[[part]]\nkind = "side"\nlength = "brim"\n', 7, "length"),
    ('name = "my own"\n' + DISC + '[[part]]\nkind = "side"\nlength = "height"\n', 7, "length"),
    (
        'name = "my own"\nacross = "9 cm"\n' + DISC + '[[part]]\nkind = "side"\nlength = "depth"\n',
        8,
        "length",
    ),
    ('name = "my own"\n' + DISC + '[[part]]\nkind = "taper"\ngirth = 0.5\n', 5, ""),
    (
        'name = "my own"\n' + DISC + '[[part]]\nkind = "taper"\ngirth = 0.5\nslope = 20\n',
        8,
        "slope",
    ),
    (
        'name = "my own"\n'
        + DISC
        + '[[part]]\nkind = "taper"\ngirth = 2\nslope = 20\nlength = 1\n',
        8,
        "slope",
    ),
    (
        'name = "my own"\n' + DISC + '[[part]]\nkind = "brim"\nlength = "brim"\nslope = 90\n',
        8,
        "slope",
    ),
    (
        'name = "my own"\n' + DISC + '[[part]]\nkind = "brim"\nlength = "brim"\nslope = 9\n'
        '[[part]]\nkind = "side"\nlength = 1\n',
        9,
        "",
    ),
    ('name = "my own"\n' + DISC * 13, 1, ""),
]


@pytest.mark.parametrize(("text", "line", "key"), BAD)
def test_a_mistake_is_told_with_its_line_and_key(text: str, line: int, key: str) -> None:
    with pytest.raises(BadShape) as told:
        shape_from(text)
    assert (told.value.line, told.value.key) == (line, key)
    assert f"line {line}" in str(told.value)


@given(st.text(max_size=200).filter(lambda text: text not in NAMES))
def test_any_other_text_is_refused(text: str) -> None:
    with pytest.raises(BadShape):
        shape_from(text)


POINTED = """
name = "pointed hat"
[[part]]
kind = "dome"
girth = 0.4
[[part]]
kind = "taper"
called = "cone"
girth = 1.1
length = "16 cm"
[[part]]
kind = "taper"
called = "turn"
girth = 1.0
slope = 100
[[part]]
kind = "brim"
length = "3 cm"
slope = 30
"""


def test_a_shape_of_ones_own_is_worked_to_its_end() -> None:
    state = worked(POINTED, 7.0, 7.7)
    rounds = rounds_of(state)
    edges = [[one.after for one in rounds if one.part == part][-1] for part in range(4)]
    assert edges[:3] == [round(HEAD * share / 7.0) for share in (0.4, 1.1, 1.0)]
    assert [one.part for one in rounds] == sorted(one.part for one in rounds)
    assert round(30 / 7.7) == sum(one.part == 3 for one in rounds)
