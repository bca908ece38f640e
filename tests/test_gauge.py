"""Gauge and readings: the filter against batch least squares, priors, doubts and looks."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from pattern.gauge.estimate import MAKER_SPREAD, Gauge, Row, gradient
from pattern.gauge.prior import HOOK_POWER_SPREAD, prior
from pattern.plan.learning import learn
from pattern.plan.looks import learn_look
from pattern.plan.piece import Piece, fullness
from pattern.plan.readings import Reading, doubtful, expected, noise_mm, row_of
from pattern.session.commands import Kind, Look
from pattern.shape.geometry import across_corners
from pattern.shape.reading_kinds import TAPE
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, Stitch
from pattern.trade.yarns_and_hooks import HOOKS_MM, YARNS

Matrix = NDArray[np.float64]
Seen = tuple[Row, float, float]
"""Row, relative deviation of the reading, standard deviation of its noise."""

TAPES = sorted(TAPE)
CELLS = st.floats(-0.6, 0.6)
STEPS = st.floats(0.1, 30)
ROWS = st.one_of(
    st.integers(1, 150).map(lambda n: (float(n), 0.0, 0.0)),
    st.integers(1, 40).map(lambda n: (0.0, 2.0 * n, 2.0)),
    st.integers(1, 40).map(lambda n: (0.0, float(n), 1.0)),
)
SEEN = st.lists(st.tuples(ROWS, st.floats(-0.02, 0.02), st.floats(0.5, 10)), min_size=1, max_size=8)


@st.composite
def gauges(draw: st.DrawFn) -> Gauge:
    """A gauge with any positive covariance, far enough from 0 to stay there."""
    cells = draw(st.lists(CELLS, min_size=9, max_size=9))
    root = np.array(cells).reshape(3, 3)
    return made((6.0, 7.0, 50.0), root @ root.T + 0.01 * np.eye(3))


def made(mean: Row, spread: Matrix) -> Gauge:
    a, b, c = ((float(x), float(y), float(z)) for x, y, z in (spread + spread.T) / 2)
    return Gauge(mean, (a, b, c))


def value_of(gauge: Gauge, row: Row, off: float) -> float:
    return float(np.dot(row, gauge.mean)) * (1 + off)


def filtered(gauge: Gauge, seen: list[Seen]) -> Gauge:
    """All readings one after another; their values are about the first belief."""
    after = gauge
    for row, off, noise in seen:
        after = after.learned(row, value_of(gauge, row, off), noise)
    return after


def crown(rounds: int = 6, stitches: int = 36, settings: Settings | None = None) -> Piece:
    known = settings or Settings(hook_mm=4.5)
    return Piece(known, prior(known), Stage.CROWN, rounds, stitches)


def full(piece: Piece) -> float:
    return fullness(piece, piece.stitches, piece.finished).mean


def off_by(piece: Piece, kind: Kind, deviations: float, step_mm: float = 6.35) -> Reading:
    """A reading so many standard deviations above what is expected."""
    reading = Reading(kind, 0.0, step_mm, float(piece.finished), piece.stitches)
    for _ in range(40):  # the noise grows a little with the value itself
        hoped = expected(piece, reading)
        reading = replace(reading, value_mm=hoped.mean + deviations * hoped.sd)
    return reading


@given(gauges(), SEEN)
def test_filter_is_batch_least_squares(gauge: Gauge, seen: list[Seen]) -> None:
    """Source: numpy.linalg.lstsq on prior and readings, each divided by its deviation."""
    whitening = np.linalg.inv(np.linalg.cholesky(np.array(gauge.covariance)))
    readings = np.array([np.array(row) / noise for row, _, noise in seen])
    values = np.array([value_of(gauge, row, off) / noise for row, off, noise in seen])
    design = np.vstack([whitening, readings])
    want = np.linalg.lstsq(design, np.concatenate([whitening @ gauge.mean, values]))[0]
    spread = np.linalg.inv(design.T @ design)
    after = filtered(gauge, seen)
    assume(bool((want > 0.5).all()))
    np.testing.assert_allclose(after.mean, want, rtol=1e-6)
    np.testing.assert_allclose(after.covariance, spread, rtol=1e-5, atol=1e-8)


@given(gauges(), SEEN, st.floats(0, 0.1), st.floats(1, 50))
def test_covariance_stays_a_covariance(
    gauge: Gauge, seen: list[Seen], drift: float, factor: float
) -> None:
    """Symmetric, and no eigenvalue below 0. Source: numpy.linalg.eigvalsh."""
    for after in (filtered(gauge, seen), filtered(gauge.drifted(drift).widened(factor), seen)):
        spread = np.array(after.covariance)
        assert (spread == spread.T).all()
        values = np.linalg.eigvalsh(spread)
        assert values[0] >= -1e-12 * values[-1]


@given(gauges(), SEEN, st.randoms(use_true_random=False))
def test_order_does_not_matter(gauge: Gauge, seen: list[Seen], random: object) -> None:
    """Independent readings commute: sums of information have no order (Kalman 1960)."""
    mixed = list(seen)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    one, other = filtered(gauge, seen), filtered(gauge, mixed)
    np.testing.assert_allclose(one.mean, other.mean, rtol=1e-7)
    np.testing.assert_allclose(one.covariance, other.covariance, rtol=1e-5, atol=1e-9)


@given(gauges(), ROWS, st.floats(0.5, 10))
def test_a_reading_narrows(gauge: Gauge, row: Row, noise: float) -> None:
    """Precisions add: 1/after = 1/before + 1/noise, as variances (Kalman 1960)."""
    before, after = gauge.of(row).sd, gauge.learned(row, value_of(gauge, row, 0), noise).of(row).sd
    assert after**-2 == pytest.approx(before**-2 + noise**-2, rel=1e-5)


@given(gauges(), ROWS)
def test_spread_of_a_row(gauge: Gauge, row: Row) -> None:
    """Source: numpy, a' P a."""
    spread = np.array(row) @ np.array(gauge.covariance) @ np.array(row)
    assert gauge.of(row).sd == pytest.approx(math.sqrt(spread))
    assert gauge.of(row).mean == pytest.approx(float(np.dot(row, gauge.mean)))


@given(gauges(), st.floats(0, 0.1))
def test_drift_is_a_change_of_tension(gauge: Gauge, relative: float) -> None:
    """Source: numpy, P + d d' with d = relative (w, h, 0)."""
    step = relative * np.array([gauge.width_mm, gauge.height_mm, 0.0])
    want = np.array(gauge.covariance) + np.outer(step, step)
    np.testing.assert_allclose(gauge.drifted(relative).covariance, want, rtol=1e-9, atol=1e-12)


@given(gauges(), ROWS, st.floats(-1e6, 1e6))
def test_an_absurd_reading_leaves_lengths_above_zero(gauge: Gauge, row: Row, value: float) -> None:
    after = gauge.learned(row, value, 1.0)
    assert after.width_mm > 0
    assert after.height_mm > 0
    assert after.ring_mm >= 0


@given(st.sampled_from(range(8)), st.floats(0, 1))
def test_priors_lie_in_the_published_ranges(yarn: int, share: float) -> None:
    """Single crochet in 4 in, for any hook listed for the class.

    Source: Craft Yarn Council, Standard Yarn Weight System, from a copy.
    """
    facts = YARNS[yarn]
    hook = facts.hook_least_mm + share * (facts.hook_most_mm - facts.hook_least_mm)
    gauge = prior(Settings(yarn=yarn, hook_mm=hook))
    middle = (facts.hook_least_mm + facts.hook_most_mm) / 2
    off = HOOK_POWER_SPREAD * math.log(hook / middle)
    sd = gauge.of((1.0, 0.0, 0.0)).sd
    assert sd == pytest.approx(math.sqrt(MAKER_SPREAD**2 + off**2) * gauge.width_mm)
    stitches = 101.6 / gauge.width_mm
    assert facts.fewest_in_4in - 1e-9 <= stitches <= facts.most_in_4in + 1e-9


@given(st.sampled_from(range(8)), st.sampled_from(HOOKS_MM), st.sampled_from(Stitch))
def test_a_bigger_hook_makes_bigger_stitches(yarn: int, hook: float, stitch: Stitch) -> None:
    """Common practice, no source; the heights follow the published ratio."""
    small = prior(Settings(yarn=yarn, hook_mm=hook, stitch=stitch))
    big = prior(Settings(yarn=yarn, hook_mm=hook + 0.5, stitch=stitch))
    assert big.width_mm > small.width_mm
    ratio = STITCHES[stitch].height_in_widths
    assert big.height_mm / big.width_mm == pytest.approx(ratio)


@given(st.tuples(st.floats(2, 15), st.floats(2, 20), st.floats(1, 8)), st.integers(3, 20))
def test_gradient(at: Row, rounds: int) -> None:
    """Source: scipy.optimize.approx_fprime."""
    from scipy.optimize import approx_fprime  # type: ignore[import-untyped]

    def edge(x: Row) -> float:
        width, height, ring = x
        return 40 * width / (ring + rounds * height) + math.sin(width * 0.1) * ring

    want = approx_fprime(np.array(at), lambda x: edge((x[0], x[1], x[2])), 1e-7)
    assert gradient(edge, at) == pytest.approx(tuple(want), rel=1e-3, abs=1e-4)


@given(st.sampled_from(TAPES), st.floats(5, 700), STEPS, STEPS)
def test_noise_falls_with_a_finer_step(kind: Kind, value: float, step: float, more: float) -> None:
    """The step adds the variance of a uniform error. Source: scipy.stats.uniform."""
    from scipy.stats import uniform  # type: ignore[import-untyped]

    fine, coarse = noise_mm(kind, value, step), noise_mm(kind, value, step + more)
    assert fine < coarse
    added = uniform(scale=step + more).var() - uniform(scale=step).var()
    assert coarse**2 - fine**2 == pytest.approx(float(added), rel=1e-6, abs=1e-6)


@given(st.sampled_from(TAPES), st.floats(0, 2.3) | st.floats(-2.3, 0))
def test_a_likely_reading_is_believed(kind: Kind, deviations: float) -> None:
    piece = crown()
    reading = off_by(piece, kind, deviations)
    assert not doubtful(piece, reading)
    row = row_of(reading, piece.corners)
    noise = noise_mm(kind, reading.value_mm, reading.step_mm)
    assert learn(piece, reading).gauge == piece.gauge.learned(row, reading.value_mm, noise)


@given(st.sampled_from(TAPES), st.floats(2.8, 12))
def test_an_outlier_that_is_insisted_on(kind: Kind, deviations: float) -> None:
    """The belief is widened until the reading is two deviations off, S = (surprise / 2)^2.

    The scalar update then leaves noise^2 / S of the surprise (Kalman 1960).
    """
    piece = crown()
    reading = off_by(piece, kind, deviations)
    assert doubtful(piece, reading)
    row = row_of(reading, piece.corners)
    surprise = reading.value_mm - piece.gauge.of(row).mean
    noise = noise_mm(kind, reading.value_mm, reading.step_mm)
    left = surprise * noise**2 / (surprise / 2) ** 2
    after = learn(piece, reading).gauge
    assert after.of(row).mean == pytest.approx(reading.value_mm - left, rel=1e-6)
    plain = piece.gauge.learned(row, reading.value_mm, noise)
    assert after.of(row).sd > plain.of(row).sd
    assert not doubtful(replace(piece, gauge=after), reading)


@given(st.integers(3, 12), st.integers(5, 8), st.sampled_from(Look))
def test_looks_move_fullness_the_right_way(rounds: int, increases: int, look: Look) -> None:
    """Common practice, one worker's test: ripples 20 % over, a cup 20 % under, else flat."""
    piece = crown(rounds, rounds * increases)
    now, after = full(piece), full(learn_look(piece, look))
    if look is Look.FLAT:
        assert abs(after - 1) <= abs(now - 1)
    elif look is Look.RIPPLES:
        assert after > now or (after == now > 1.2)
    else:
        assert after < now or (after == now <= 0.8)


@given(st.integers(1, 40), st.integers(6, 120), st.integers(3, 24))
def test_rows_of_readings(rounds: int, stitches: int, corners: int) -> None:
    """Plane geometry of a disc of radius r0 + n h, and of a polygon with that apothem; with an odd
    number of corners every way across its middle is from a corner to a side.
    """
    mean = np.array((5.5, 6.0, 2.0))
    radius = 2.0 + rounds * 6.0
    tip = 2 * radius * across_corners(corners)
    want = {
        Kind.ACROSS: tip if corners % 2 else 2 * radius,
        Kind.CORNERS: tip,
        Kind.AROUND: stitches * 5.5,
        Kind.ALONG: stitches * 5.5,
        Kind.DEPTH: radius,
        Kind.BRIM: rounds * 6.0,
    }
    for kind, value in want.items():
        row = row_of(Reading(kind, 0.0, 1.0, float(rounds), stitches), corners)
        assert float(np.dot(row, mean)) == pytest.approx(value)


@pytest.mark.parametrize("yarn", range(8))
def test_prior_on_the_middle_hook(yarn: int) -> None:
    """Source: Craft Yarn Council, Standard Yarn Weight System, from a copy."""
    facts = YARNS[yarn]
    hook = (facts.hook_least_mm + facts.hook_most_mm) / 2
    stitches = 101.6 / prior(Settings(yarn=yarn, hook_mm=hook)).width_mm
    assert facts.fewest_in_4in <= stitches <= facts.most_in_4in


@pytest.mark.parametrize(
    ("yarn", "stitches", "hooks"),
    [
        (0, (32, 42), (1.5, 2.25)),
        (1, (21, 32), (2.25, 3.5)),
        (2, (16, 20), (3.5, 4.5)),
        (3, (12, 17), (4.5, 5.5)),
        (4, (11, 14), (5.5, 6.5)),
        (5, (8, 11), (6.5, 9)),
        (6, (7, 9), (9, 15)),
    ],
)
def test_published_ranges(yarn: int, stitches: tuple[int, int], hooks: tuple[float, float]) -> None:
    """Source: Craft Yarn Council, Standard Yarn Weight System, from a copy."""
    facts = YARNS[yarn]
    assert (facts.fewest_in_4in, facts.most_in_4in) == stitches
    assert (facts.hook_least_mm, facts.hook_most_mm) == hooks


def test_a_hat_in_class_4() -> None:
    """15 to 17 single crochet in 4 in on a 4.25 mm hook. Common practice, no source."""
    assert 15 <= 101.6 / prior(Settings(yarn=4, hook_mm=4.25)).width_mm <= 17


def test_a_look_says_nothing_before_the_ring_or_on_sides() -> None:
    ring = replace(crown(), finished=0, stage=Stage.RING)
    sides = replace(crown(), stage=Stage.SIDES)
    for piece in (ring, sides):
        assert learn_look(piece, Look.RIPPLES) is piece


def test_a_look_has_no_row() -> None:
    with pytest.raises(ValueError, match="says nothing of the stitch"):
        row_of(Reading(Kind.LOOK, 0.0, 1.0, 3.0, 18), None)
