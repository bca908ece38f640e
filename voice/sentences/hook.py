"""Advice on the hook: which way, by how much, and what it does to the counts."""

from __future__ import annotations

from dataclasses import replace

from pattern.plan.hooks import hook_for_usual, next_size, off_usual, stitches_needed, wider_by
from pattern.session.commands import Cloth
from pattern.session.state import State
from pattern.shape.settings import Settings
from pattern.trade.yarns_and_hooks import YARNS
from voice.sentences.amounts import counted, decimal, joined, with_article
from voice.words.spoken_numbers import say_integer

FAR = 0.6
"""A hook is told to be far from usual that is thinner than so much of the usual one, or thicker
than the inverse and than any of its class; our choice."""
BEGUN_ANEW = 4
"""With no more rounds than this worked it is quicker to begin again; our choice."""


def advice(cloth: Cloth, state: State) -> str:
    """Advice on fabric with gaps, or stiff fabric. Common practice, no source."""
    larger = cloth is Cloth.STIFF
    size = next_size(state.settings.hook, larger=larger)
    if size is None:
        way = "larger hook: take a thinner yarn" if larger else "smaller hook: take a thicker yarn"
        return f"I know no {way}, or leave it as it is."
    way = "up" if larger else "down"
    return joined(f"{_named(size)}, the next size {way}.", _how(size, state), _counts(size, state))


def for_last_round(state: State) -> str:
    """Advice on a limp brim, while it is worked."""
    size = next_size(state.settings.hook, larger=False)
    smaller = f", or take {_named(size)}" if size is not None else ""
    return f"Work the last round firmly{smaller}."


def which(state: State) -> str:
    """Whether the hook suits the yarn, by the stitch that was learned."""
    off = off_usual(state.piece)
    hook = state.settings.hook
    if off is None and (usual := unusual(state.settings)):
        return joined(usual, "If you see gaps, or if it is stiff, say so.", "Or keep yours.")
    if off is None:
        return joined(
            f"{_named(hook)} suits: your stitch is as usual for this yarn.",
            "If you see gaps, or if it is stiff, say so.",
        )
    size = hook_for_usual(state.piece)
    said = far(off)
    if size == hook:
        return joined(said, "Keep your hook: the hat fits all the same.")
    return joined(
        said,
        f"Nearer to usual: {_named(size)}.",
        _counts(size, state),
        "Or keep yours, if the cloth pleases you: the hat fits with either.",
    )


def unusual(settings: Settings) -> str:
    """The usual hook of the yarn's class, where the one that is taken is far from it."""
    usual, yarn = replace(settings, hook_mm=None).hook, YARNS[settings.yarn]
    if FAR * usual <= settings.hook <= max(usual / FAR, yarn.hook_most_mm):
        return ""
    return f"usual for {yarn.name} yarn is {_named(usual)}."


def far(off: float) -> str:
    """How far the maker's stitch is from the usual one."""
    way = "wider" if off > 1 else "narrower"
    return f"Your stitch is {_percent(off)} {way} than usual for this yarn and hook."


def found_far(before: State, after: State) -> str:
    """That the stitch is far from the usual, where this turn has shown it; otherwise nothing."""
    off = off_usual(after.piece)
    if off is None or off_usual(before.piece) is not None or after.brief:
        return ""
    return joined(far(off), "To hear more, say which hook.")


def changed(before: State, after: State) -> str:
    """The effect of another hook in the middle of the work."""
    width = (after.undo or before).piece.gauge.width_mm  # as before what was taken back
    ratio = after.piece.gauge.width_mm / width
    asks = "Go on: I ask for a reading after two rounds." if after.recheck else ""
    return joined(_wider(ratio), asks)


def _counts(size: float, state: State) -> str:
    ratio = wider_by(state.settings, size)
    now, then = stitches_needed(state.piece), stitches_needed(state.piece, ratio)
    around = f"{counted(then, 'stitch', 'stitches')} around, instead of {say_integer(now)}."
    return joined(_wider(ratio), around) if now != then else _wider(ratio)


def _wider(ratio: float) -> str:
    if round(100 * abs(ratio - 1)) == 0:
        return "Your stitch stays about as it is."
    return f"Your stitch gets about {_percent(ratio)} {'wider' if ratio > 1 else 'narrower'}."


def _how(size: float, state: State) -> str:
    say = f"I took {_named(size)}"
    if not state.piece.finished:
        return f"Then say: {say}."
    if state.piece.finished <= BEGUN_ANEW:
        return f"Better begin again with it; then say ripped back, and: {say}."
    return f"Take it where a round begins; then say: {say}."


def _named(size: float) -> str:
    return with_article(f"{decimal(size)} millimetre hook")


def _percent(ratio: float) -> str:
    return f"{say_integer(round(100 * abs(ratio - 1)))} percent"
