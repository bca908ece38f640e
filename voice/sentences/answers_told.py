"""Reads answers of the interview back, each once."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.plan.piece import girth_of
from pattern.plan.sides import FITS_MM
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, stitch_name
from voice.sentences import heads, hook, questions
from voice.sentences.amounts import about_with_unit, joined
from voice.words.spoken_numbers import say_integer


def told(key: str, command: c.Command, before: State, after: State) -> str:
    """An answer read back; a head that was told by its wearer is named with its size."""
    if key == "head_mm" and (isinstance(command, c.HeadOf) or "unit" not in after.answered):
        taken = heads.taken(command if isinstance(command, c.HeadOf) else c.HeadOf(), after)
        return joined(taken, _worked_for_another(after))
    said = questions.answered(key, after.settings)
    return said if after.brief else joined(said, _means(key, before, after))


def _means(key: str, before: State, after: State) -> str:
    """The effect of an answer, or that it is unusual; most often nothing."""
    if key == "head_mm":
        return _worked_for_another(after)
    if key == "start":
        return _lies(after.settings)
    if key == "hook_mm" and before.piece.finished:
        return hook.changed(before, after)
    return hook.unusual(after.settings) if key == "hook_mm" and "yarn" in after.answered else ""


def _worked_for_another(after: State) -> str:
    """How far around the sides are, where they were worked for another head; else nothing."""
    piece, settings = after.piece, after.settings
    if not piece.side_rounds or not settings.shape.for_head:
        return ""
    sides = next(n for n, part in enumerate(piece.stretches) if part.shaping.straight)
    girth = girth_of(piece, piece.stitches if piece.index == sides else piece.edge_stitches)
    if abs(girth.mean - settings.girth_mm) <= FITS_MM:
        return ""
    around = about_with_unit(girth.mean, settings)
    if piece.index == sides:
        return f"The sides are about {around} around; I make up for it."
    return f"The sides are done, about {around} around: to change that, rip back to them."


FAR = 4 / 3
"""A ring of so many times the usual stitches, or fewer than its inverse, is told not to lie flat.
Common practice, one worker's test: crowded 20 % over, cupped 20 % under; a usual start is about
8 % under what the height of single crochet asks for.
"""


def _lies(settings: Settings) -> str:
    """The usual number of stitches in the ring, where there are far more of them, or far fewer."""
    usual = STITCHES[settings.stitch].start
    if usual / FAR <= settings.increases <= usual * FAR:
        return ""
    lies = "that many ripple" if settings.increases > usual else "that few cup"
    stitch = stitch_name(settings.stitch, settings.terms)
    return f"{say_integer(usual)} are usual for {stitch}; {lies}."


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
