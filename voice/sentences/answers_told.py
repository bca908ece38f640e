"""Reads answers of the interview back, each once."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from voice.sentences import heads, hook, questions
from voice.sentences.amounts import joined


def told(key: str, command: c.Command, before: State, after: State) -> str:
    """An answer read back; a head that was told by its wearer is named with its size."""
    if key == "head_mm" and (isinstance(command, c.HeadOf) or "unit" not in after.answered):
        return heads.taken(command if isinstance(command, c.HeadOf) else c.HeadOf(), after)
    said = questions.answered(key, after.settings)
    if key == "hook_mm" and before.piece.finished and not after.brief:
        return joined(said, hook.changed(before, after))
    return said


def skipped(key: str, command: c.Command, before: State, after: State) -> str:
    """The usual answer that is taken; to leave the last question is to ask for all of them."""
    if key == BEGIN:
        return "I ask everything."
    return "" if before.brief else told(key, command, before, after)


def is_silent(event: e.Event, command: c.Command, events: Sequence[e.Event], before: State) -> bool:
    """Whether an answer is heard in another one, or in the plan that follows."""
    if not isinstance(event, e.QuestionAnswered):
        return False
    if event.key == "unit":
        return command != c.Choose("unit", event.value)
    ends = any(isinstance(other, e.SetupDone) for other in events)
    usual = event.key == "ease_mm" and ends and before.question != "ease_mm"
    return event.key == "age_years" or usual
