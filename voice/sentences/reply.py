"""The reply to a command: what happened, read back; then what is to be done now."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from pattern.forecast.pace import Pace
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.sentences import (
    beside,
    doubts,
    finishing,
    heads,
    help,
    hook,
    lost,
    misfits,
    opening,
    pace,
    pages,
    parts,
    places,
    questions,
    readings,
    rework,
    sizes,
    slips,
    swatch,
    teaching,
    trims,
    yarn,
)
from voice.sentences.amounts import counted, joined
from voice.sentences.due import due, now
from voice.words.spoken_numbers import say_integer


def reply(
    before: State,
    command: c.Command,
    events: Sequence[e.Event],
    after: State,
    known: Pace | None = None,
) -> str:
    """The reply to a command that made sense; `known` is the maker's pace."""
    if isinstance(command, c.Help):
        return pages.first(_helped(command, after))
    if isinstance(command, c.Explain):
        first, *more = teaching.explained(command.technique, after)
        return pages.hinted(first, more)
    if isinstance(command, c.Lies) and not events:
        return "That's right: the sides turn down."
    if isinstance(command, c.LostAt):
        return lost.answer(after, command)
    if isinstance(command, c.HeadSize):
        return heads.answer(after, command)
    if isinstance(command, c.CountedIn):
        return slips.answer(after, command)
    if isinstance(command, c.Fabric):
        return hook.advice(command.cloth, after)
    if isinstance(command, c.Ask):
        return told(after, command.what, known)
    reworked = not isinstance(command, c.RippedBack | c.Back) and any(
        isinstance(event, e.RoundsTakenBack) for event in events
    )
    happened = [
        rework.told(event, after)
        if reworked and isinstance(event, rework.Shown)
        else _happened(event, before, after)
        for event in events
        if isinstance(command, c.Note | c.NewBall) or not isinstance(event, e.NoteTaken)
    ]
    if isinstance(command, c.NewBall) and not after.brief:
        happened.insert(0, yarn.new_ball(after))
    return joined(doubts.let_go(before, events, after), *happened, due(before, events, after))


def rest(
    command: c.Command, events: Sequence[e.Event], after: State, known: Pace | None = None
) -> tuple[str, ...]:
    """Pages that the reply left for "tell me more"; most often none."""
    if isinstance(command, c.Help):
        return pages.pages(_helped(command, after))[1:]
    if isinstance(command, c.Explain):
        return teaching.explained(command.technique, after)[1:]
    if isinstance(command, c.Ask) and command.what not in _WHOLE:
        return pages.pages(_answer(after, command.what, known))[1:]
    done = any(isinstance(event, e.SetupDone) for event in events)
    return opening.rest_of_plan(after) if done else ()


def _helped(command: c.Help, state: State) -> str:
    return help.topic(command.topic) if command.topic else help.overview(state)


_TOLD: dict[c.Asked, Callable[[State], str]] = {
    c.Asked.AGAIN: now,
    c.Asked.MORE: lambda _state: "That is all. Say again to hear what is due.",
    c.Asked.PLAN: opening.whole_plan,
    c.Asked.WHERE: lambda state: joined(places.where(state), now(state)),
    c.Asked.HOW_MANY: places.how_many,
    c.Asked.STITCHES: places.stitches,
    c.Asked.ROUNDS: places.rounds,
    c.Asked.READING: places.next_reading,
    c.Asked.WHAT_NEXT: places.what_next,
    c.Asked.YARN: yarn.needed,
    c.Asked.ENOUGH: yarn.enough,
    c.Asked.HOOK: hook.which,
    c.Asked.FINISHING: finishing.steps,
    c.Asked.WASHING: finishing.washing,
    c.Asked.BAND: trims.for_band,
    c.Asked.EDGING: trims.for_edging,
    c.Asked.SHADE: trims.shade,
    c.Asked.SIZES: sizes.compared,
    c.Asked.HEADS: heads.table,
    c.Asked.TOLD: places.taken_last,
}
_TIMES: dict[c.Asked, Callable[[State, Pace | None], str]] = {
    c.Asked.TIME_LEFT: pace.left,
    c.Asked.CROWN_TIME: pace.crown,
}
ABOUT_TIME = frozenset(_TIMES)
"""Questions whose answer depends on the maker's pace."""


_WHOLE = frozenset({c.Asked.AGAIN, c.Asked.WHERE, c.Asked.WHAT_NEXT})
"""Answers that call a round or a caution; these are never cut."""


def told(state: State, what: c.Asked, known: Pace | None = None) -> str:
    """The answer to something that only asks, or its first page; `known` is the maker's pace."""
    said = _answer(state, what, known)
    return said if what in _WHOLE else pages.first(said)


def _answer(state: State, what: c.Asked, known: Pace | None) -> str:
    if what in _TIMES:
        return _TIMES[what](state, known)
    return joined(_TOLD[what](state))


def _happened(event: e.Event, before: State, after: State) -> str:
    """The words for an event; empty where the sentence on what is due next tells it."""
    match event:
        case e.QuestionAnswered("age_years", _) | e.QuestionAnswered("unit", _) if (
            before.question not in {"unit", "age_years"}
        ):
            return ""
        case e.QuestionAnswered("hook_mm", _) if before.piece.finished and not after.brief:
            return joined(
                questions.answered("hook_mm", after.settings), hook.changed(before, after)
            )
        case e.QuestionAnswered(key, _):
            return questions.answered(key, after.settings)
        case e.QuestionSkipped(key):
            return "" if before.brief else questions.answered(key, after.settings)
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
            return "No reading."
        case e.DoubtDropped():
            kept = before.doubt is not None and (before.doubt.reading or before.doubt.count)
            return "Not kept." if kept else "Going on."
        case e.RoundsTakenBack(count, ripped):
            return f"{counted(count, 'round')} out." if ripped else "One round back."
        case e.Undone():
            return "Taken back."
        case e.StageStarted(stage):
            return _stage_started(stage, before, after)
    return beside.told(event, after)


def _sets(sets: int, after: State) -> str:
    all_ = after.offered.sets if after.offered else sets
    left = all_ - sets
    said = f"{say_integer(sets)} of {counted(all_, 'set')}."
    if after.want is not None:
        return joined(said, readings.asked(after.want, after.piece, after.brief), "Or go on.")
    if left:
        return joined(said, f"{say_integer(left)} to go.")
    return joined(said, "Then to the end of the round.")


def _stage_started(stage: Stage, before: State, after: State) -> str:
    if stage is Stage.FINISHING:
        last = before.piece if before.offered is None else after.piece
        brim = parts.one_more_row(last) if last.brim_rounds else ""
        return joined("that was the last round.", misfits.ended(last, last.index), brim)
    return ""
