"""Reads answers of the interview back, each once."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES
from voice.sentences import heads, hook, questions
from voice.sentences.amounts import joined
from voice.words.spoken_numbers import say_integer


def told(key: str, command: c.Command, before: State, after: State) -> str:
    """An answer read back; a head that was told by its wearer is named with its size."""
    if key == "head_mm" and (isinstance(command, c.HeadOf) or "unit" not in after.answered):
        return heads.taken(command if isinstance(command, c.HeadOf) else c.HeadOf(), after)
    said = questions.answered(key, after.settings)
    return said if after.brief else joined(said, _means(key, before, after))


def _means(key: str, before: State, after: State) -> str:
    """The effect of an answer, or that it is unusual; most often nothing."""
    if key == "start":
        return _lies(after.settings)
    if key == "hook_mm" and before.piece.finished:
        return hook.changed(before, after)
    return hook.unusual(after.settings) if key == "hook_mm" and "yarn" in after.answered else ""


RIPPLES, CUPS = 1.25, 0.8
"""Rings with so many times the stitches that lie flat ripple, or cup. Common practice, one worker's
test: a slight cup begins 20 % under, crowding 20 % over."""


def _lies(settings: Settings) -> str:
    """The number that lies flat with this stitch, 2 pi h / w, where the ring has far from it."""
    flat = math.tau * STITCHES[settings.stitch].height_in_widths
    if CUPS <= settings.increases / flat <= RIPPLES:
        return ""
    lies = "so many ripple" if settings.increases > flat else "so few cup"
    return f"about {say_integer(round(flat))} lie flat; {lies}."


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
