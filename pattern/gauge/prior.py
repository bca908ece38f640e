"""The gauge that is expected before any reading, from published figures."""

from __future__ import annotations

import math

from pattern.gauge.estimate import MAKER_SPREAD, RING_PER_WIDTH, Gauge
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES
from pattern.trade.yarns_and_hooks import YARNS, YarnClass

HOOK_POWER = 0.7
"""Power of the hook diameter to which the stitch width is proportional. Worked out from yarn class
4: 12.5 stitches on a 6 mm hook, 16 on a 4.25 mm hook (common practice, no source)."""
HOOK_POWER_SPREAD = 0.2
"""Spread of HOOK_POWER from maker to maker: no source. A stitch grows in proportion to its hook at
most (power 1), and hardly grows below half of that. Tuned on `tests.bench fit`, seeds 1 to 3, where
makers with hooks far from the middle of their class lay outside the stated interval."""
RATIO_SPREAD = 0.09
"""Relative spread of makers' ratios of height to width. Common practice, no source: six increases a
round lie flat for most (0.95), and one test found 1.0 to 1.25."""


def prior(settings: Settings) -> Gauge:
    """The gauge expected from yarn, hook and stitch alone."""
    yarn = YARNS[settings.yarn]
    width = _width_mm(yarn, settings.hook)
    off_middle = math.log(settings.hook / _middle_mm(yarn))
    spread = math.hypot(MAKER_SPREAD, HOOK_POWER_SPREAD * off_middle)
    ratio = STITCHES[settings.stitch].height_in_widths
    var = (spread * width) ** 2
    ring = RING_PER_WIDTH * width
    return Gauge(
        (width, ratio * width, ring),
        (
            (var, ratio * var, 0.0),
            (ratio * var, ratio**2 * var + (RATIO_SPREAD * ratio * width) ** 2, 0.0),
            (0.0, 0.0, ring**2),
        ),
    )


def _width_mm(yarn: YarnClass, hook_mm: float) -> float:
    """Width of a single crochet in mm: mid-range on the middle hook of the yarn class.

    Hooks listed for the class stay within the published gauge range. If the hooks differ more than
    the gauges, the width grows more slowly between them.
    """
    middle = _middle_mm(yarn)
    stitches = (yarn.fewest_in_4in + yarn.most_in_4in) / 2
    if hook_mm < middle:
        end, most = yarn.hook_least_mm, stitches / yarn.most_in_4in
    else:
        end, most = yarn.hook_most_mm, stitches / yarn.fewest_in_4in
    power = min(HOOK_POWER, math.log(most) / math.log(end / middle))
    inside = min(max(hook_mm, yarn.hook_least_mm), yarn.hook_most_mm)
    wider = math.pow(inside / middle, power) * math.pow(hook_mm / inside, HOOK_POWER)
    return 4 * 25.4 / stitches * wider


def _middle_mm(yarn: YarnClass) -> float:
    return (yarn.hook_least_mm + yarn.hook_most_mm) / 2
