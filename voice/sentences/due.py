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
    last_round,
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
        return joined(wanted, last_round.or_next(state)) if wanted else finishing.step(state)
    if state.offered is None:
        return finishing.done(state)
    said = rounds.called(state.offered, state.settings, brief=state.brief, sets=state.sets)
    return joined(wanted, said, _count(state.offered, state))


def _wanted(state: State) -> str:
    """The request for a reading, and the other way to it where there is one."""
    if state.want is None:
        return ""
    asked_before = state.asks > 1
    return fits.or_worn(state) or readings.asked(
        state.want, state.piece, brief=state.brief, before=asked_before
    )


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
    if last_round.waits(events, after):
        return last_round.next_or_one_more(after)
    offered = after.offered
    if before.question == after.question == BEGIN:
        return questions.BEGIN_OR_CHANGE
    if not _offers(events) or offered is None:
        beside = any(isinstance(event, _BESIDE) or _of_fibre(event) for event in events)
        beside = beside or all(isinstance(event, e.MeansKnown) for event in events)
        return "" if beside and offered is not None else now(after)
    passage = ""
    if begins_part(before, events, after) and not after.brief:
        passage = part_words.begins(after.piece, offered, measured_now(after))
    return joined(passage, call(offered, after, begins=bool(passage)))


def _of_fibre(event: e.Event) -> bool:
    return isinstance(event, e.QuestionAnswered) and event.key == "fibre"


def begins_part(before: State, events: Sequence[e.Event], after: State) -> bool:
    """Whether the next part of the piece begins with this turn."""
    offered = after.offered
    if offered is None or after.sets or not _offers(events) or after.piece.rounds_in(offered.part):
        return False
    return before.offered is not None and before.offered.part != offered.part


def cuts_short(events: Sequence[e.Event], after: State) -> bool:
    """Whether the increases of a round in work end early with this turn."""
    return after.offered is not None and after.sets > 0 and _offers(events)


def _offers(events: Sequence[e.Event]) -> bool:
    return any(isinstance(event, e.RoundOffered) for event in events)


def call(offered: Round, after: State, *, begins: bool = False) -> str:
    """The offered round, with the reading wanted before it: in one sentence where a part begins."""
    if after.sets:
        return _cut(offered, after)
    lies = PART_WORDS[offered.stage].will_lie(after.piece, offered)
    wanted = _wanted(after)
    if wanted and not after.brief:
        wanted = joined(wanted, "Or go on.")
    said = rounds.called(offered, after.settings, brief=after.brief)
    if begins and after.want is not None and not after.brief:
        wanted, said = "", f"{readings.asked_shortly(after.want)}, or go on with r{said[1:]}"
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
    return joined(
        "stop increasing here: plain to the end of the round.",
        f"{total}: {parts.crown_ended(after.piece, offered.after)}.",
    )
