"""Pieces part way through, for tests: worked by the session itself, from a common opening."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from pattern.gauge.estimate import Gauge
from pattern.session import commands as c
from pattern.session.commands import Command
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.geometry import Part
from pattern.shape.profile import parts_of
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from tests.openings import opening

AT = "2026-03-01T18:30:00Z"
SMALL = {"head_mm": 420.0, "yarn": 6, "hook_mm": 9.0, "brim_mm": 40.0}
"""A hat of few rounds."""


def outline(girth_mm: float, depth_mm: float, brim_mm: float, slope_deg: float) -> tuple[Part, ...]:
    """The profile of a brimmed hat with these measures."""
    return parts_of(
        Settings(head_mm=girth_mm, depth_mm=depth_mm, brim_mm=brim_mm, slope_deg=slope_deg)
    )


def exactly(width_mm: float, height_mm: float, ring_mm: float = 2.0) -> Gauge:
    """A gauge that is nearly sure."""
    least = 1e-6
    rows = ((least, 0.0, 0.0), (0.0, least, 0.0), (0.0, 0.0, least))
    return Gauge((width_mm, height_mm, ring_mm), rows)


def kept(name: str) -> Path:
    """A path to name in messages; nothing is written there."""
    return Path(f"{name}.jsonl")


def begun(**answers: str | float | None) -> State:
    """A piece whose first round is offered."""
    return fold(State(), opening(State(), {**SMALL, **answers}))


def said(state: State, *commands: Command) -> State:
    """The state after each command, one turn each."""
    for command in commands:
        state = fold(state, decide(state, command))
    return state


def until(done: Callable[[State], bool], state: State) -> State:
    """Rounds worked as called, and nothing measured, until it is so."""
    for _ in range(500):
        if done(state):
            return state
        state = said(state, c.Next())
    raise AssertionError("never came to it")


def at(stage: Stage, state: State | None = None) -> State:
    """The state when the stage begins."""
    return until(lambda now: now.stage is stage, state or begun())


def why_refused(state: State, command: Command) -> Reason:
    """The reason of a refusal, which there must be."""
    try:
        decide(state, command)
    except Refused as refused:
        return refused.reason
    raise AssertionError(f"{command} was not refused")
