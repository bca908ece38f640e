"""Answers to words of trying on that change nothing: told too early, or too late."""

from __future__ import annotations

from pattern.plan.trying_on import reaches_head, sits_now
from pattern.session import commands as c
from pattern.session.commands import Cloth, Fit, Kind
from pattern.session.state import State
from pattern.shape.fits import FITS
from pattern.shape.profile import Stretch
from voice.sentences import hook
from voice.sentences.amounts import joined
from voice.sentences.trims import CORDS_UNDER_YEARS, may_be_under

USUAL_SIDES = "sides"
"""The name of straight sides; other straight parts are a band."""


def only_told(command: c.TriedOn | c.ByHand, state: State) -> str:
    """The answer where a word changes nothing: too early, or too late."""
    if (fit_ := command.fit) is None:
        return ""
    word, piece = FITS[fit_], state.piece
    if word.kind is Kind.WORN:
        return "The brim comes later; tell me again when some of its rounds are worked."
    ends = (n for n, _ in enumerate(piece.stretches) if reaches_head(piece, n))
    at_head = next(ends, len(piece.stretches) - 1)
    part = piece.stretches[at_head]
    if piece.index < at_head or (piece.index == at_head and not sits_now(piece)):
        if fit_ in {Fit.TIGHT, Fit.SNUG} and not piece.shaping.tapers:
            advice = hook.advice(Cloth.STIFF, state)
            cloth = f"If the cloth is stiff: {advice[:1].lower()}{advice[1:]}"
            first = f"after the first round of the {part.called}"
            return joined(f"if the hat is meant, try it on {first}.", cloth)
        return _too_early(part)
    if word.kind is Kind.EDGE and sits_now(piece) and "depth_mm" not in piece.settings.shape.asked:
        return (
            f"A {piece.settings.shape.name} is pulled to sit as you like. "
            f"To end its {part.called} here, say deep enough."
        )
    ended = f"The {part.called} {'are' if part.called.endswith('s') else 'is'} done"
    if word.kind is Kind.EDGE:
        return f"{ended}: rip back to change where it ends."
    if word.offset_mm > 0 or fit_ in {Fit.LOOSE_BY, Fit.PINCH}:
        child = may_be_under(state, CORDS_UNDER_YEARS)
        draws = "a ribbon sewn flat inside" if child else "a ribbon or elastic inside"
        return f"{ended}: {draws} draws it in, or rip back."
    if word.offset_mm < 0 or fit_ is Fit.TIGHT_BY:
        return f"{ended}: wet, it gives a little over a bowl; or rip back."
    return "Good."


def _too_early(part: Stretch) -> str:
    """When to try it on: on straight sides, at the end of sides that flare, or on a band."""
    if part.shaping.tapers:
        return (
            f"It tells in the last two rounds of the {part.called}; until then it sits on top of "
            "the head."
        )
    if part.called != USUAL_SIDES:
        return f"It tells on the {part.called}, after its first round; try it on then."
    return "It tells after two or three straight rounds; until then it sits on top of the head."
