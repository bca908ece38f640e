"""Carries the gauge learned on one piece over to the next, as its prior."""

from __future__ import annotations

from dataclasses import replace

from pattern.gauge.estimate import MAKER_SPREAD, Gauge, Row
from pattern.gauge.gauge_events import GaugeKnown
from pattern.gauge.prior import RATIO_SPREAD, prior
from pattern.shape.settings import Settings

BETWEEN_PIECES = 0.03
"""Relative change of a maker's tension from piece to piece, one standard deviation: no source."""
OTHER_YARN_AT_MOST = MAKER_SPREAD / 2
"""Largest uncertainty of scaling to another yarn or hook, relative: no source. It is otherwise half
of the change. It is bounded because a tight maker stays tight."""


def prior_like(known: GaugeKnown | None, settings: Settings) -> Gauge:
    """Starting gauge: that of the earlier piece, scaled to this yarn, hook and stitch.

    It is the prior from the tables if nothing is known, or nothing more certain. The ring is not
    carried over, since it is worked anew.
    """
    usual = prior(settings)
    if known is None:
        return usual
    earlier = prior(replace(settings, yarn=known.yarn, hook_mm=known.hook_mm, stitch=known.stitch))
    wide, high = usual.width_mm / earlier.width_mm, usual.height_mm / earlier.height_mm
    gauge = _scaled(known.gauge, wide, high, usual)
    gauge = gauge.drifted(BETWEEN_PIECES).drifted(min(abs(wide - 1) / 2, OTHER_YARN_AT_MOST))
    if known.stitch is not settings.stitch:
        gauge = _taller_or_not(gauge)
    return gauge if _width_sd(gauge) < _width_sd(usual) else usual


def _scaled(gauge: Gauge, wide: float, high: float, usual: Gauge) -> Gauge:
    (ww, wh, _), (_, hh, _), _ = gauge.covariance
    rows: tuple[Row, Row, Row] = (
        (ww * wide**2, wh * wide * high, 0.0),
        (wh * wide * high, hh * high**2, 0.0),
        (0.0, 0.0, usual.covariance[2][2]),
    )
    return Gauge((gauge.width_mm * wide, gauge.height_mm * high, usual.ring_mm), rows)


def _taller_or_not(gauge: Gauge) -> Gauge:
    """The gauge with a less certain height, since stitches differ in height over width."""
    first, (wh, hh, hr), third = gauge.covariance
    return Gauge(gauge.mean, (first, (wh, hh + (RATIO_SPREAD * gauge.height_mm) ** 2, hr), third))


def _width_sd(gauge: Gauge) -> float:
    return gauge.of((1.0, 0.0, 0.0)).sd
