"""The step of a decoration that is called, the one after it, and the way back."""

from __future__ import annotations

from dataclasses import replace

from pattern.session.state import State
from pattern.trade.decorations import STEPS, Decoration
from voice.sentences import trims
from voice.sentences.amounts import joined
from voice.sentences.decorating_steps import CAUTIONED, STEPS_TOLD

NEXT = "Say next."
NEXT_OR_LEAVE = "Say next, or that will do."


def following(state: State) -> str:
    """The step that comes after the one that is called, or the way back."""
    called = state.decorating
    assert called is not None
    if called.step + 1 == len(STEPS[called.what]):
        return f"After this, back to the {state.settings.shape.noun}."
    ahead = replace(called, step=called.step + 1)
    return joined("after this:", step(replace(state, decorating=ahead)))


def step(state: State) -> str:
    """The step that is called now; the first one says how to go on and how to leave."""
    called = state.decorating
    assert called is not None
    here = called.what, STEPS[called.what][called.step]
    said = STEPS_TOLD[here]
    hint = NEXT_OR_LEAVE if called.step == 0 else NEXT
    return joined(
        said(state) if callable(said) else said,
        trims.loose_ends(state) if here in CAUTIONED else "",
        "" if state.brief else hint,
    )


def ended(before: State, after: State) -> str:
    """The words for the way back: what is done, where its last step was called."""
    called = before.decorating
    noun = after.settings.shape.noun
    if called is None or called.step + 1 < len(STEPS[called.what]):
        return f"Back to the {noun}."
    return joined(_DONE[called.what], f"Back to the {noun}.")


_DONE = {
    Decoration.RIBBON: "The ribbon is on.",
    Decoration.LACE: "The lace is on.",
    Decoration.EDGING: "The edging is on.",
    Decoration.FLOWER: "It is on.",
    Decoration.STIFFENING: "That is all for stiffening.",
}
