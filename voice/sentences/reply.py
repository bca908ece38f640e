"""The reply to a command: what happened, read back; then what is to be done now."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from pattern.forecast.pace import Pace
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.state import RIPPED, State
from pattern.shape.rounds import Stage
from voice.sentences import (
    answers_told,
    big_enough,
    doubts,
    finishing,
    fits_told,
    heads,
    help,
    hook,
    lost,
    opening,
    pace,
    pages,
    part_ends_told,
    places,
    rework,
    size_now,
    sizes,
    slips,
    teaching,
    trims,
    usual,
    yarn,
)
from voice.sentences.amounts import joined
from voice.sentences.due import due, now
from voice.sentences.events_told import told_event


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
    if isinstance(command, c.TriedOn | c.ByHand) and not events:
        return pages.first(fits_told.only_told(command, after))
    if isinstance(command, c.LostAt):
        return lost.answer(after, command)
    if isinstance(command, c.HeadSize):
        return heads.answer(after, command)
    if isinstance(command, c.CountedIn):
        return slips.answer(after, command)
    if isinstance(command, c.Fabric):
        return pages.first(hook.advice(command.cloth, after))
    if isinstance(command, c.No) and not events:
        return _changes(after)
    if isinstance(command, c.Ask):
        return told(after, command.what, known)
    let_go = doubts.let_go(before, events, after)
    others = [event for event in events if not isinstance(event, _TOLD_BY_END)]
    if not any(_happened(before, command, others, after)):
        end = part_ends_told.by_reading(before, events, after)
        if end:
            return joined(let_go, end)
    happened = _happened(before, command, events, after)
    return joined(let_go, *happened, due(before, events, after))


def _happened(
    before: State, command: c.Command, events: Sequence[e.Event], after: State
) -> list[str]:
    """The events, told one by one."""
    says_so = isinstance(command, c.RippedBack | c.Back)
    says_so |= isinstance(command, c.No) and before.last == RIPPED
    reworked = not says_so and any(isinstance(event, e.RoundsTakenBack) for event in events)
    happened = [
        rework.told(event, after)
        if reworked and isinstance(event, rework.Shown)
        else told_event(event, command, before, after)
        for event in events
        if (isinstance(command, _TELLS) or not isinstance(event, e.NoteTaken | e.MeansKnown))
        and not answers_told.is_silent(event, command, events, before)
    ]
    if isinstance(command, c.NewBall) and not after.brief:
        happened.insert(0, yarn.new_ball(after))
    return happened


_TOLD_BY_END = e.ReadingTaken | e.LookTaken | e.StageStarted
"""Told in short where a part ends by it."""
_TELLS = c.Note | c.NewBall | c.TapeThere | c.HeadThere
"""Commands whose notes and means are told."""


def rest(
    before: State,
    command: c.Command,
    events: Sequence[e.Event],
    after: State,
    known: Pace | None = None,
) -> tuple[str, ...]:
    """Pages that the reply left for "tell me more"; most often none."""
    if isinstance(command, c.Help):
        return pages.pages(_helped(command, after))[1:]
    if isinstance(command, c.Explain):
        return teaching.explained(command.technique, after)[1:]
    if isinstance(command, c.Fabric):
        return pages.pages(hook.advice(command.cloth, after))[1:]
    if isinstance(command, c.TriedOn | c.ByHand) and not events:
        return pages.pages(fits_told.only_told(command, after))[1:]
    if isinstance(command, c.Ask) and command.what not in _WHOLE:
        return pages.pages(_answer(after, command.what, known))[1:]
    if more := part_ends_told.details(before, events, after):
        return pages.pages(more)
    done = any(isinstance(event, e.SetupDone) for event in events)
    return opening.rest_of_plan(after) if done else ()


def _helped(command: c.Help, state: State) -> str:
    return help.topic(command.topic, state.settings.unit) if command.topic else help.overview(state)


def _changes(state: State) -> str:
    return usual.changes(state.settings, in_setup=state.stage is Stage.SETUP)


_TOLD: dict[c.Asked, Callable[[State], str]] = {
    c.Asked.AGAIN: now,
    c.Asked.MORE: lambda _state: "That is all. Say again to hear what is due.",
    c.Asked.PLAN: opening.whole_plan,
    c.Asked.WHERE: lambda state: joined(places.where(state), now(state)),
    c.Asked.HOW_MANY: places.how_many,
    c.Asked.STITCHES: places.stitches,
    c.Asked.ROUNDS: places.rounds,
    c.Asked.PART_ROUNDS: places.part_rounds,
    c.Asked.READING: places.next_reading,
    c.Asked.WHAT_NEXT: places.what_next,
    c.Asked.YARN: yarn.needed,
    c.Asked.YARN_USED: yarn.used,
    c.Asked.ENOUGH: yarn.enough,
    c.Asked.HOOK: hook.which,
    c.Asked.FINISHING: finishing.steps,
    c.Asked.WASHING: finishing.washing,
    c.Asked.BAND: trims.for_band,
    c.Asked.EDGING: trims.for_edging,
    c.Asked.SHADE: trims.shade,
    c.Asked.GAUGE: size_now.gauge,
    c.Asked.SIZE_NOW: size_now.told,
    c.Asked.DEEP_ENOUGH: big_enough.deep,
    c.Asked.WIDE_ENOUGH: big_enough.wide,
    c.Asked.PART_ENOUGH: big_enough.part,
    c.Asked.SIZES: sizes.compared,
    c.Asked.HEADS: heads.table,
    c.Asked.CHANGES: _changes,
    c.Asked.PAIN: pace.pain,
    c.Asked.TOLD: places.taken_last,
}
_TIMES: dict[c.Asked, Callable[[State, Pace | None], str]] = {
    c.Asked.TIME_LEFT: pace.left,
    c.Asked.CROWN_TIME: pace.crown,
}
ABOUT_TIME = frozenset(_TIMES)
"""Questions whose answer depends on the maker's pace."""


_WHOLE = frozenset({c.Asked.PAIN, c.Asked.AGAIN, c.Asked.WHERE, c.Asked.WHAT_NEXT})
"""Answers that call a round or a caution; these are never cut."""


def told(state: State, what: c.Asked, known: Pace | None = None) -> str:
    """The answer to something that only asks, or its first page; `known` is the maker's pace."""
    said = _answer(state, what, known)
    return said if what in _WHOLE else pages.first(said)


def _answer(state: State, what: c.Asked, known: Pace | None) -> str:
    if what in _TIMES:
        return _TIMES[what](state, known)
    return joined(_TOLD[what](state))
