"""A new piece like one that was made: what is carried over into its first turn."""

from __future__ import annotations

from collections.abc import Iterable

from pattern import commands as c
from pattern import events as e
from pattern.errors import NothingLearned
from pattern.session import State

_SAME = ("unit", "terms", "yarn", "stitch")


def carried(state: State, name: str, answers: Iterable[c.Command] = ()) -> tuple[e.Event, ...]:
    """The gauge learned on the piece of that name, and its yarn, hook and stitch.

    What `answers` say follows later and counts instead; with another yarn the hook is asked anew.

    Raises: NothingLearned when the piece was never measured.
    """
    if next(state.readings_taken(), None) is None:
        raise NothingLearned(name)
    settings, answers = state.settings, tuple(answers)
    same: list[e.Event] = [e.QuestionAnswered(key, getattr(settings, key)) for key in _SAME]
    if not _said(answers, "yarn"):
        same.append(e.QuestionAnswered("hook_mm", settings.hook))
    if state.washing is not None and not _said(answers, "yarn"):
        same.append(e.WashingKnown(state.washing.width, state.washing.height))
    known = e.GaugeKnown(name, state.piece.gauge, settings.yarn, settings.hook, settings.stitch)
    return (known, *same)


def _said(answers: Iterable[c.Command], key: str) -> bool:
    return any(isinstance(one, c.Choose | c.Change) and one.key == key for one in answers)
