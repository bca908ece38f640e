"""Tells the events of a turn, one by one."""

from __future__ import annotations

from pattern.plan.piece import Piece
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.sentences import (
    answers_told,
    beside,
    hook,
    misfits,
    opening,
    parts,
    readings,
    sizes,
    swatch,
    yarn,
)
from voice.sentences.amounts import counted, joined
from voice.sentences.measured_now import measured_now
from voice.words.spoken_numbers import say_integer


def told_event(event: e.Event, command: c.Command, before: State, after: State) -> str:
    """The words for an event; empty where the sentence on what is due next tells it."""
    match event:
        case e.QuestionAnswered(key, _):
            return answers_told.told(key, command, before, after)
        case e.QuestionSkipped(key):
            return answers_told.skipped(key, command, before, after)
        case e.SetupDone():
            return opening.plan(after)
        case e.SetsWorked(sets):
            return _sets(sets, after)
        case e.ReadingTaken(reading):
            return joined(readings.taken(reading, after), hook.found_far(before, after))
        case e.CountTaken(count):
            return readings.count_taken(count, before, after)
        case e.LookTaken(look):
            return readings.look_taken(look, after)
        case e.YarnWeighed(grams, _, fresh):
            return (
                yarn.stash(after)
                if fresh and after.last == "stash_g"
                else (yarn.weighed(grams, after))
            )
        case e.SwatchTaken():
            return joined(swatch.taken(event, before, after), hook.found_far(before, after))
        case e.SizesChosen():
            return sizes.chosen(before, after)
        case e.ReadingSkipped():
            return "No reading." if isinstance(command, c.Skip) else ""
        case e.DoubtDropped():
            kept = before.doubt is not None and (before.doubt.reading or before.doubt.count)
            return "Not kept." if kept else "Going on."
        case e.RoundsTakenBack(count, ripped):
            return f"{counted(count, 'round')} ripped back." if ripped else "One round back."
        case e.Undone():
            return readings.taken_back(before)
        case e.StageStarted(stage):
            return _stage_started(stage, before, after)
    return beside.told(event, before, after)


def _sets(sets: int, after: State) -> str:
    all_ = after.offered.sets if after.offered else sets
    left = all_ - sets
    said = f"{say_integer(sets)} of {counted(all_, 'set')}."
    if after.want is not None:
        return joined(said, readings.asked(after.want, after.piece, brief=after.brief), "Or go on.")
    if left:
        return joined(said, f"{say_integer(left)} to go.")
    return joined(said, "Then to the end of the round.")


def _keeps_brim(piece: Piece) -> bool:
    return piece.brim_rounds > 0 and piece.settings.brim > 0


def _stage_started(stage: Stage, before: State, after: State) -> str:
    if stage is Stage.FINISHING:
        last = before.piece if before.offered is None else after.piece
        part = min(last.index, len(last.stretches) - 1)  # the brim may just have been given up
        wide = parts.brim_wide(last, measured_now(after).get(c.Kind.BRIM))
        brim = f": {wide}" if _keeps_brim(last) else ""
        return joined(f"that was the last round{brim}.", misfits.ended(last, part))
    return ""
