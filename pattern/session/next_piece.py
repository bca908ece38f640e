"""A new piece like one that was made: what is carried over into its first turn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from pattern.errors import NothingLearned
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decisions import first_turn
from pattern.session.folding import Turn, evolve
from pattern.session.state import State
from pattern.shape.catalogue import shape_called
from pattern.shape.settings import Answered
from pattern.shape.shape_text import as_text
from pattern.shape.usual import usual_ease_mm
from pattern.trade.lengths import Amount
from pattern.trade.own_units import OwnUnit

_SAME = ("unit", "terms", "yarn", "stitch")
_ALIKE = ("start", "ease_mm", "brim_mm", "slope_deg", "fullness", "joined", "stacked")
"""Answers that hold for the next one of the same sort, where they were given; its depth follows its
own head."""


def carried(state: State, name: str, answers: Iterable[c.Command] = ()) -> Turn:
    """The gauge learned on the piece of that name, its yarn, hook and stitch, and how the maker is
    spoken with.

    What `answers` say follows later and counts instead; with another yarn the hook is asked anew.

    Raises: NothingLearned when the piece was never measured.
    """
    if not _measured(state):
        raise NothingLearned(name)
    settings = state.settings
    known = e.GaugeKnown(name, state.piece.gauge, settings.yarn, settings.hook, settings.stitch)
    return (*_manner(state), known, *_same(state, tuple(answers)))


def another(state: State, name: str, command: c.Another) -> Turn:
    """The first turn of one more of the same sort: for another head, or of another yarn.

    Raises: Refused for a head or a yarn that cannot be.
    """
    settings = state.settings
    size = "head_mm" if settings.shape.for_head else "across_mm"
    answers: list[c.Command] = []
    if command.yarn is not None:
        answers.append(c.Change("yarn", Amount(float(command.yarn))))
    if command.amount is not None:
        answers.append(c.Change(size, command.amount))
    if _measured(state):
        known = carried(state, name, answers)
    else:
        known = (*_manner(state), *_same(state, answers))
    kept: list[tuple[str, Answered]] = [("shape", _shape_words(state))]
    kept += [(key, getattr(settings, key)) for key in _ALIKE if _said(key, state)]
    if command.amount is None:
        same = (size, "age_years")
        kept += [(key, getattr(settings, key)) for key in same if key in state.answered]
    alike = tuple(e.QuestionAnswered(key, value) for key, value in kept)
    return first_turn(answers, (*known, *alike))


def _manner(state: State) -> Turn:
    """How the maker is spoken with, where that is not as at first: the maker is the same."""
    chosen: Turn = (
        e.WordingChosen(state.brief),
        state.speech,
        e.RestsChosen(state.rest_min),
        e.SignsChosen(state.signs),
        e.ReminderChosen(state.remind_s),
    )
    own: Turn = tuple(e.OwnWidthKnown(unit, state.own.of(unit)) for unit in OwnUnit)
    chosen = (*chosen, *own)
    return tuple(event for event in chosen if evolve(State(), event) != State())


def _said(key: str, state: State) -> bool:
    """Whether an answer was said; the usual difference to the head follows the next head."""
    usual = key == "ease_mm" and state.settings.ease_mm == usual_ease_mm(state.settings)
    return key in state.answered and not usual


def _measured(state: State) -> bool:
    return any(taken.reading.tells_gauge for taken in state.readings_taken())


def _same(state: State, answers: Sequence[c.Command]) -> Turn:
    """Yarn, hook and stitch, and what belongs to the yarn, unless the answers say another yarn."""
    settings = state.settings
    same: list[e.Event] = [e.QuestionAnswered(key, getattr(settings, key)) for key in _SAME]
    if any(isinstance(one, c.Choose | c.Change) and one.key == "yarn" for one in answers):
        return tuple(same)
    same.append(e.QuestionAnswered("hook_mm", settings.hook))
    if settings.fibre is not None:
        same.append(e.QuestionAnswered("fibre", settings.fibre.value))
    if state.washing is not None:
        same.append(e.WashingKnown(state.washing.width, state.washing.height))
    return tuple(same)


def _shape_words(state: State) -> str:
    """The shape by its name, or in its own words where it has no known one."""
    shape = state.settings.shape
    return shape.name if shape_called(shape.name) == shape else as_text(shape)
