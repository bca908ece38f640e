"""Tells the maker what to do or to answer now."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.rounds import Round, Stage
from voice.sentences import (
    decorating,
    doubts,
    finishing,
    fits,
    part_words,
    parts,
    questions,
    readings,
    rounds,
)
from voice.sentences.amounts import counted, joined
from voice.sentences.measured_now import measured_now
from voice.sentences.part_words import PART_WORDS


def now(state: State) -> str:
    """The next thing to do or to answer, as said by "again"."""
    if state.paused:
        return "Paused. Say resume to go on."
    if state.doubt is not None:
        return doubts.asked(state.doubt, state)
    if state.decorating is not None:
        return decorating.step(state)
    if state.question is not None:
        return questions.question(state.question, state.settings, brief=state.brief)
    wanted = _wanted(state)
    if state.stage is Stage.FINISHING:
        return joined(wanted, "Or say next.") if wanted else finishing.step(state)
    if state.offered is None:
        return finishing.done(state)
    said = rounds.called(state.offered, state.settings, brief=state.brief, sets=state.sets)
    return joined(wanted, said, _count(state.offered, state))


def _wanted(state: State) -> str:
    """The request for a reading, and the other way to it where there is one."""
    if state.want is None:
        return ""
    return joined(readings.asked(state.want, state.piece, brief=state.brief), fits.or_worn(state))


_NEEDS_NO_CALL = (
    e.Left,
    e.Paused,
    e.SetsWorked,
    e.WordingChosen,
    e.RestsChosen,
    e.SpeechChosen,
    e.SignsChosen,
    e.ReminderChosen,
    e.OwnWidthKnown,
)
"""After these nothing is called again."""
_BESIDE = (e.YarnWeighed, e.NoteTaken, e.SwatchTaken, e.SizesChosen)
"""After these the round is not called again, but an open question is asked again."""


def due(before: State, events: Sequence[e.Event], after: State) -> str:
    """The next thing to do, if this turn changed it."""
    if any(isinstance(event, e.DecorationCalled) for event in events):
        return now(after)
    if any(isinstance(event, _NEEDS_NO_CALL) for event in events) and not _offers(events):
        return ""
    if finishing.waits(events, after):
        return finishing.NEXT_GOES_ON
    offered = after.offered
    if before.question == after.question == BEGIN:
        return questions.BEGIN_OR_CHANGE
    if not _offers(events) or offered is None:
        beside = any(isinstance(event, _BESIDE) or _of_fibre(event) for event in events)
        beside = beside or all(isinstance(event, e.MeansKnown) for event in events)
        return "" if beside and offered is not None else now(after)
    return joined(_passage(before, offered, after), _call(offered, after))


def _of_fibre(event: e.Event) -> bool:
    return isinstance(event, e.QuestionAnswered) and event.key == "fibre"


def _offers(events: Sequence[e.Event]) -> bool:
    return any(isinstance(event, e.RoundOffered) for event in events)


def _passage(before: State, offered: Round, after: State) -> str:
    """The words where one part of the hat ends and the next begins."""
    came_from = before.offered.part if before.offered else offered.part
    if after.sets or came_from == offered.part or after.brief:
        return ""
    return part_words.begins(after.piece, offered, measured_now(after))


def _call(offered: Round, after: State) -> str:
    """The offered round, with the reading wanted before it."""
    if after.sets:
        return _cut(offered, after)
    lies = PART_WORDS[offered.stage].will_lie(after.piece, offered)
    wanted = _wanted(after)
    if wanted and not after.brief:
        wanted = joined(wanted, "Or go on.")
    said = rounds.called(offered, after.settings, brief=after.brief)
    return joined(wanted, said, _count(offered, after), lies)


def _count(offered: Round, state: State) -> str:
    """The request for a count of the round, where one is due."""
    if state.to_count != offered.number:
        return ""
    return "Count it." if state.brief else "Count this round: it must fit."


def _cut(offered: Round, after: State) -> str:
    """The rest of a round in work whose increases end early."""
    total = counted(offered.after, "stitch", "stitches")
    if after.sets < offered.sets:
        more = counted(offered.sets - after.sets, "more set")
        return joined(f"{more}, then plain to the end of the round.", f"{total}.")
    part = offered.worked_after(after.sets) / offered.before
    rounds_now = after.piece.finished + part
    return joined(
        "stop increasing here: plain to the end of the round.",
        parts.crown_ends(after.piece, offered.after, rounds_now),
    )
