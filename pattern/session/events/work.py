"""Events of the work: rounds, parts of the hat, and the steps that finish it."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.rounds import Round, Stage


@dataclass(frozen=True, slots=True)
class RoundOffered:
    """The round called now; `sets` of its repeats are worked already."""

    round: Round
    sets: int = 0


@dataclass(frozen=True, slots=True)
class RoundFinished:
    """The offered round was worked as called."""


@dataclass(frozen=True, slots=True)
class SetsWorked:
    """Repeats of the offered round worked so far."""

    sets: int


@dataclass(frozen=True, slots=True)
class RoundsTakenBack:
    """Rounds are no longer worked: ripped out, or never finished."""

    rounds: int
    ripped: bool


@dataclass(frozen=True, slots=True)
class StageStarted:
    """The maker, or the plan, ended what came before this stage."""

    stage: Stage


@dataclass(frozen=True, slots=True)
class StepDone:
    """A step of the finishing is done."""


@dataclass(frozen=True, slots=True)
class StepTakenBack:
    """A step of the finishing is to be said again."""


@dataclass(frozen=True, slots=True)
class Undone:
    """The last turn that changed the piece counts no more."""
