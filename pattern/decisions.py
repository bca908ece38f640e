"""What a command does in a state: the events that happen, or a refusal that changes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from pattern import asides, interview, tape, weighing
from pattern import commands as c
from pattern import events as e
from pattern.plan import cut_to_fit, next_round, next_stage, recounted, rounds_left
from pattern.readings import Asking, wanted
from pattern.refusals import Reason, Refused
from pattern.rounds import Round, Stage
from pattern.session import WEIGHT, State, fold

Turn = tuple[e.Event, ...]

WORKING = frozenset({Stage.RING, Stage.CROWN, Stage.SIDES, Stage.BRIM})
"""Stages in which a round is offered."""
LONG_DAYS = 3.0
"""A piece left alone for longer may come out another size at first; our choice."""
_HEARD_IN_PAUSE = (c.Resume, c.Leave, c.Ask, c.Help)


def decide(state: State, command: c.Command) -> Turn:
    """The events of a command; none when it only asks something.

    Raises: Refused when the command makes no sense now.
    """
    if state.paused and not isinstance(command, _HEARD_IN_PAUSE):
        raise refused(state, command, Reason.PAUSED)
    return _DECIDERS[type(command)](state, command)


def refused(state: State, command: c.Command, reason: Reason, **detail: str | float) -> Refused:
    """The refusal of a command in a state."""
    return Refused(reason, state.stage, command, detail)


def first_turn(answers: Iterable[c.Command] = (), carried: Turn = ()) -> Turn:
    """The first turn of a new piece: what was answered beforehand, and the ring where it suffices.

    `carried` comes from an earlier piece, see next_piece; the answers count after it.

    Raises: Refused for an answer that makes no sense.
    """
    turn: Turn = (e.Begun(), *carried)
    for answer in answers:
        turn = (*turn, *decide(fold(State(), turn), answer))
    after = fold(State(), turn)
    if after.stage is Stage.SETUP and {"head_mm", "yarn", "hook_mm"} <= set(after.answered):
        turn = (*turn, e.SetupDone())
    return offered_after(State(), turn)


def offered_after(state: State, turn: Turn) -> Turn:
    """The turn, followed by the round that it makes the next one, where that is another."""
    after = fold(state, turn)
    if after.stage not in WORKING:
        return turn
    offered: Round | None
    if after.sets and after.offered is not None:
        same = recounted(after.piece, after.offered)
        offered = cut_to_fit(after.piece, same, min(after.sets, same.sets))
    else:
        offered = next_round(after.piece)
    if offered is None:
        return (*turn, e.StageStarted(Stage.FINISHING))
    if offered == after.offered:
        return turn
    return (*turn, e.RoundOffered(offered, min(after.sets, offered.sets)))


def _nothing(_state: State, _command: c.Command) -> Turn:
    return ()


def _next(state: State, command: c.Next) -> Turn:
    if state.doubt is not None:
        raise refused(state, command, Reason.DOUBT_OPEN)
    if state.stage is Stage.SETUP:
        raise refused(state, command, Reason.STILL_SETUP)
    if state.stage is Stage.DONE:
        raise refused(state, command, Reason.ALL_DONE)
    if state.stage is Stage.FINISHING:
        return (e.StepDone(),)
    turn = offered_after(state, (e.RoundFinished(),))
    after = fold(state, turn)
    since = after.piece.finished - after.asked_round
    asking = Asking(since, not after.seen, after.asks)
    if after.stage in WORKING and (want := wanted(after.piece, asking)):
        turn = (*turn, e.ReadingWanted(want.kind, want.stitches))
    return turn


def _back(state: State, command: c.Back) -> Turn:
    if state.stage is Stage.SETUP:
        if not state.answered:
            raise refused(state, command, Reason.NO_ROUND_BACK)
        return (e.QuestionReopened(),)
    if state.sets:
        return (e.SetsWorked(state.sets - 1),)
    if state.step:
        return (e.StepTakenBack(),)
    if not state.piece.finished:
        raise refused(state, command, Reason.NO_ROUND_BACK)
    return (e.RoundsTakenBack(1, ripped=False),)


def _sets(state: State, command: c.Sets) -> Turn:
    offered = state.offered
    if offered is None or not offered.sets:
        raise refused(state, command, Reason.NO_SETS)
    total = state.sets + command.count if command.more else command.count
    if not 0 <= total <= offered.sets:
        raise refused(state, command, Reason.TOO_MANY_SETS, most=offered.sets)
    turn: Turn = (e.SetsWorked(total),)
    if want := tape.wanted_within(fold(state, turn)):
        turn = (*turn, e.ReadingWanted(want.kind, want.stitches))
    return turn


def _ripped(state: State, command: c.RippedBack) -> Turn:
    if not 0 < command.rounds <= state.piece.finished:
        raise refused(state, command, Reason.MORE_THAN_WORKED, worked=state.piece.finished)
    return offered_after(state, (e.RoundsTakenBack(command.rounds, ripped=True),))


def _undo(state: State, command: c.Undo) -> Turn:
    if state.undo is None:
        raise refused(state, command, Reason.NOTHING_TO_UNDO)
    return (e.Undone(),)


def _measured(state: State, command: c.Measured) -> Turn:
    return offered_after(state, tape.measured(state, command))


def _counted(state: State, command: c.Counted) -> Turn:
    """A count that can only be the offered round's says that this round is done, too."""
    done: Turn = (e.RoundFinished(),) if tape.counts_offered(state, command.count) else ()
    return offered_after(state, (*done, *tape.counted(fold(state, done), command)))


def _lies(state: State, command: c.Lies) -> Turn:
    if state.piece.stage not in {Stage.CROWN, Stage.BRIM} or state.piece.finished < 2:
        raise refused(state, command, Reason.TOO_EARLY)
    return offered_after(state, (e.LookTaken(command.look),))


def _start(state: State, command: c.StartSides | c.StartBrim) -> Turn:
    sides = isinstance(command, c.StartSides)
    _refuse_outside_work(state, command)
    here = next_stage(state.piece)
    if here is not (Stage.CROWN if sides else Stage.SIDES) or (state.sets and not sides):
        raise refused(state, command, Reason.NOT_HERE)
    if not sides and not state.settings.brim:
        raise refused(state, command, Reason.NO_BRIM)
    if not sides and not state.piece.side_rounds:
        raise refused(state, command, Reason.TOO_EARLY)
    turn: Turn = (e.StageStarted(Stage.SIDES if sides else Stage.BRIM),)
    if state.sets and state.offered is not None:
        return (*turn, e.RoundOffered(state.offered.cut_after(state.sets), state.sets))
    return offered_after(state, turn)


def _finish(state: State, command: c.FinishNow) -> Turn:
    _refuse_outside_work(state, command)
    if not state.piece.finished:
        raise refused(state, command, Reason.TOO_EARLY)
    if rounds_left(state.piece, state.offered) > 0:
        return (e.FinishDoubted(),)
    return (e.StageStarted(Stage.FINISHING),)


def _refuse_outside_work(state: State, command: c.Command) -> None:
    if state.stage is Stage.SETUP:
        raise refused(state, command, Reason.STILL_SETUP)
    if state.stage not in WORKING:
        raise refused(state, command, Reason.NOT_HERE)


def _yes(state: State, command: c.Yes) -> Turn:
    doubt = state.doubt
    if doubt is None:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    if doubt.reading is not None:
        return offered_after(state, (e.ReadingTaken(doubt.reading),))
    if doubt.count is not None:
        return offered_after(state, (e.CountTaken(doubt.count),))
    return (e.StageStarted(Stage.FINISHING),)


def _no(state: State, command: c.No) -> Turn:
    """Mends what was in doubt, or else the last thing that was believed."""
    if state.doubt is not None:
        dropped: Turn = (e.DoubtDropped(),)
        if command.amount is None:
            return dropped
        mended = tape.again(replace(state, doubt=None), state.doubt, command)
        return offered_after(state, (*dropped, *mended))
    if state.last is None or state.undo is None:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    undone: Turn = (e.Undone(),)
    if command.amount is None:
        return undone
    before = fold(state, undone)
    if state.last == WEIGHT:
        return (*undone, *weighing.weighed(before, command))
    if isinstance(state.last, str):
        mended = interview.answered(before, state.last, command.amount, command)
        return (*undone, *offered_after(before, mended))
    return (*undone, *offered_after(before, tape.again(before, state.last, command)))


def _skip(state: State, command: c.Skip) -> Turn:
    if state.doubt is not None:
        return (e.DoubtDropped(),)
    if (key := state.question) is not None:
        return offered_after(state, interview.closed(state, (e.QuestionSkipped(key),)))
    if state.want is not None:
        return (e.ReadingSkipped(),)
    raise refused(state, command, Reason.NOTHING_ASKED)


def _answer(state: State, command: c.Answer) -> Turn:
    if state.doubt is not None:
        return _no(state, c.No(command.amount))
    if (key := state.question) is not None:
        return offered_after(state, interview.answered(state, key, command.amount, command))
    if state.want is None or state.want.kind is c.Kind.LOOK:
        raise refused(state, command, Reason.NOTHING_ASKED)
    return _measured(state, c.Measured(command.amount))


def _begin(state: State, command: c.Begin) -> Turn:
    if state.stage is not Stage.SETUP:
        raise refused(state, command, Reason.SETUP_OVER)
    return offered_after(state, (e.SetupDone(),))


SLOWEST_WPM, FASTEST_WPM, STEP_WPM = 120, 220, 20
_QUIETEST, _STEP = 0.2, 0.2


def _speak(state: State, command: c.Speak) -> Turn:
    now = state.speech
    match command.manner:
        case c.Manner.SLOWER | c.Manner.FASTER:
            step = STEP_WPM if command.manner is c.Manner.FASTER else -STEP_WPM
            then = replace(now, rate_wpm=min(max(now.rate_wpm + step, SLOWEST_WPM), FASTEST_WPM))
        case c.Manner.LOUDER | c.Manner.QUIETER:
            step_ = _STEP if command.manner is c.Manner.LOUDER else -_STEP
            then = replace(now, volume=round(min(max(now.volume + step_, _QUIETEST), 1.0), 1))
        case c.Manner.OTHER_VOICE:
            then = replace(now, voice=now.voice + 1)
    if then == now:
        raise refused(state, command, Reason.NO_FURTHER)
    return (then,)


def _changes(state: State, command: c.Choose | c.Change | c.Adjust | c.HeadOf) -> Turn:
    turn = interview.changed(state, command)
    if state.stage is not Stage.FINISHING or state.step:
        return offered_after(state, turn)
    more = next_round(fold(state, turn).piece)  # not fastened off yet: a wider brim goes on
    widened = more is not None and getattr(command, "key", "") == "brim_mm"
    return (*turn, e.RoundOffered(more)) if more is not None and widened else turn


def _tension(state: State, command: c.Tension) -> Turn:
    """What was learned is believed less; where the edge can be measured, that is wanted now."""
    _refuse_outside_work(state, command)
    if not state.piece.finished:
        raise refused(state, command, Reason.TOO_EARLY)
    turn = offered_after(state, (e.TensionChanged(),))
    measurable = state.piece.stage in {Stage.CROWN, Stage.SIDES} and state.piece.finished >= 3
    after = fold(state, turn)
    if measurable and after.doubt is None and after.stage in WORKING:
        turn = (*turn, e.ReadingWanted(c.Kind.AROUND))
    return turn


def taken_up(state: State, days: float) -> Turn:
    """The turn of a piece that is taken up again after so many days; most often nothing."""
    return (e.LeftAlone(days),) if days > LONG_DAYS and state.stage in WORKING else ()


def _always(event: e.Event) -> Callable[[State, c.Command], Turn]:
    return lambda _state, _command: (event,)


_DECIDERS: dict[type, Callable[[State, Any], Turn]] = {
    c.Next: _next,
    c.Ask: _nothing,
    c.Help: _nothing,
    c.Back: _back,
    c.Sets: _sets,
    c.Measured: _measured,
    c.Answer: _answer,
    c.Choose: _changes,
    c.Change: _changes,
    c.Adjust: _changes,
    c.HeadOf: _changes,
    c.Counted: _counted,
    c.RippedBack: _ripped,
    c.Undo: _undo,
    c.Lies: _lies,
    c.StartSides: _start,
    c.StartBrim: _start,
    c.FinishNow: _finish,
    c.Begin: _begin,
    c.Yes: _yes,
    c.No: _no,
    c.Skip: _skip,
    c.Wording: lambda _state, command: (e.WordingChosen(command.brief),),
    c.Speak: _speak,
    c.Pause: _always(e.Paused()),
    c.Resume: _always(e.Resumed()),
    c.Leave: _always(e.Left()),
    c.Weighed: weighing.weighed,
    c.HaveBalls: asides.balls,
    c.Rests: asides.rests,
    c.Note: asides.note,
    c.LostAt: asides.lost,
    c.Tension: _tension,
}
