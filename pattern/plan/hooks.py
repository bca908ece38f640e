"""Which hook: the next size, what another one does, and the one for a usual stitch."""

from __future__ import annotations

from dataclasses import replace

from pattern.gauge.estimate import MAKER_SPREAD
from pattern.gauge.prior import prior
from pattern.plan.piece import Piece
from pattern.shape.settings import Settings
from pattern.trade.yarns_and_hooks import HOOKS_MM

SIZES_AWAY = 2
SURE = 2.0
"""Standard deviations beyond which a stitch is said to be far from the usual one; our choice."""


def next_size(hook_mm: float, *, larger: bool) -> float | None:
    """The next hook that is sold; None at the end of the table."""
    sizes = [size for size in HOOKS_MM if (size > hook_mm) is larger and size != hook_mm]
    if not sizes:
        return None
    return min(sizes) if larger else max(sizes)


def wider_by(settings: Settings, hook_mm: float) -> float:
    """Stitch width with another hook over that with this one, by the law of the prior."""
    return prior(replace(settings, hook_mm=hook_mm)).width_mm / prior(settings).width_mm


def stitches_needed(piece: Piece, width_ratio: float = 1.0) -> int:
    """Stitches for the girth that is worked to, where a stitch is so many times as wide as now."""
    return round(piece.settings.girth_mm / (piece.gauge.width_mm * width_ratio))


def off_usual(piece: Piece) -> float | None:
    """The maker's stitch width over the usual one of yarn and hook, where it is far from it.

    Far is further than most makers are, and surely so.
    """
    width = piece.gauge.of((1.0, 0.0, 0.0))
    usual = prior(piece.settings).width_mm
    far = abs(width.mean / usual - 1) > max(MAKER_SPREAD, SURE * width.sd / usual)
    return width.mean / usual if far else None


def hook_for_usual(piece: Piece) -> float:
    """The hook with which this maker's stitch comes nearest to the usual one.

    No more than SIZES_AWAY in the table of those that are sold: a change by one or two sizes is
    common practice, no source, and a further one gives other cloth.
    """
    ratio = piece.gauge.width_mm / prior(piece.settings).width_mm

    def miss(hook_mm: float) -> float:
        return abs(wider_by(piece.settings, hook_mm) * ratio - 1)

    smaller = [size for size in HOOKS_MM if size < piece.settings.hook][-SIZES_AWAY:]
    larger = [size for size in HOOKS_MM if size > piece.settings.hook][:SIZES_AWAY]
    return min([*smaller, piece.settings.hook, *larger], key=miss)
