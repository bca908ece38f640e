"""Weighing the yarn: what is believed of it, and what it says of a stitch."""

from __future__ import annotations

from itertools import pairwise

from pattern.gauge.estimate import Estimate
from pattern.gauge.yarn_use import Use, Weighing, learned, usual_use
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.limits import LIMITS
from pattern.trade.lengths import WEIGHT_UNITS, grams

ABSURD_USE = 4.0
"""Yarn used so many times what was expected, or less than its inverse, was not used here; our
choice, far beyond what makers differ by."""
SHOWS_G = 5.0
"""Less yarn than this, used or expected, says nothing of absurdity on kitchen scales; our choice.
"""


def stitches_done(state: State) -> int:
    """Stitches worked so far, with the sets of the offered round."""
    rounds = sum(made.counted or made.round.after for made in state.rounds_made())
    return rounds + stitches_open(state)


def stitches_open(state: State) -> int:
    """Stitches worked in the offered round, as far as sets tell."""
    offered = state.offered
    return offered.worked_after(state.sets) + state.sets if offered else 0


def use_of(state: State) -> Use:
    """The yarn in a stitch: the usual one for the gauge and the band, and what weighing taught."""
    settings = state.settings
    use = usual_use(settings, state.piece.gauge, settings.ball_m, settings.ball_g)
    for grams_used, stitches in _used(state.weighed):
        use = learned(use, grams_used, stitches)
    return use


def times_learned(state: State) -> int:
    """Weighings that taught something of this maker's use."""
    return len(_used(state.weighed))


def _used(weighed: tuple[Weighing, ...]) -> list[tuple[float, int]]:
    return [
        (before.grams - after.grams, after.stitches - before.stitches)
        for before, after in pairwise(weighed)
        if not after.fresh and after.grams < before.grams and after.stitches > before.stitches
    ]


def on_hand(state: State, use: Use | None = None) -> Estimate | None:
    """Grams that are left by now; None while nothing was weighed nor said."""
    if not state.weighed:
        return None
    last = state.weighed[-1]
    since = (use or use_of(state)).for_stitches(stitches_done(state) - last.stitches).grams
    return Estimate(max(last.grams - since.mean, 0.0), abs(since.sd))


def weighed(state: State, command: c.Weighed | c.No) -> tuple[e.Event, ...]:
    """The events of a weight of the yarn that is left.

    Raises: Refused for what is no weight, is more than there was, or cannot be this yarn.
    """
    amount, limits = command.amount, LIMITS["stash_g"]
    if amount is None or (amount.unit is not None and amount.unit not in WEIGHT_UNITS):
        raise Refused(Reason.NOT_A_WEIGHT, state.stage, command)
    left_g = grams(amount)
    if not limits.hold(left_g):
        raise Refused(
            Reason.OUT_OF_LIMITS,
            state.stage,
            command,
            {"key": "stash_g", "least": limits.least, "most": limits.most},
        )
    stitches = stitches_done(state)
    if state.weighed:
        _refuse_absurd(state, command, left_g, stitches)
    return (e.YarnWeighed(left_g, stitches, fresh=not state.weighed),)


def _refuse_absurd(state: State, command: c.Command, left_g: float, stitches: int) -> None:
    last = state.weighed[-1]
    worked, used_g = stitches - last.stitches, last.grams - left_g
    if worked >= 0 and used_g < -1:
        raise Refused(Reason.MORE_YARN, state.stage, command, {"grams": last.grams})
    if worked <= 0:
        return
    expected_g = use_of(state).grams * worked
    shows = max(used_g, expected_g) >= SHOWS_G
    if shows and not expected_g / ABSURD_USE < used_g < expected_g * ABSURD_USE:
        detail = {"grams": max(last.grams - expected_g, 0.0)}
        raise Refused(Reason.ABSURD_WEIGHT, state.stage, command, detail)
