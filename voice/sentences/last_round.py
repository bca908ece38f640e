"""The ways on after the last round: to finish, or to work one more."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.rounds import Stage

OR_RIP_BACK = "Say next to finish, or rip back a round."
"""Said of a brim that is too wide."""


def next_or_one_more(state: State) -> str:
    """The ways on where the first step waits."""
    return f"Say next to finish{', or one more round' if state.settings.brim else ''}."


def or_next(state: State) -> str:
    """The other way than to answer, where something is asked after the last round."""
    return "Or say next, or one more round." if state.piece.brim_rounds else "Or say next."


def ended(events: Sequence[e.Event]) -> bool:
    """Whether the last round was worked in this turn."""
    return any(
        isinstance(event, e.StageStarted) and event.stage is Stage.FINISHING for event in events
    )


def waits(events: Sequence[e.Event], state: State) -> bool:
    """Whether the first step waits for a next: what the last round of a brim leaves open comes
    first, and both would be too long for one breath.
    """
    brim = state.piece.brim_rounds > 0
    return ended(events) and brim and state.want is None and state.stage is Stage.FINISHING
