"""What a command does in a state: the events that happen, or a refusal that changes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from pattern import answering, asides, gauging, interview, weighing, working
from pattern import commands as c
from pattern import events as e
from pattern.offering import WORKING, Turn, offered_after, refused
from pattern.refusals import Reason
from pattern.session import fold
from pattern.shape.rounds import Stage
from pattern.state import State

LONG_DAYS = 3.0
"""A piece left alone for longer may come out another size at first; our choice."""
_HEARD_IN_PAUSE = (c.Resume, c.GoOn, c.Leave, c.Ask, c.Help, c.Explain, c.HeadSize)


def decide(state: State, command: c.Command) -> Turn:
    """The events of a command; none when it only asks something.

    Raises: Refused when the command makes no sense now.
    """
    if state.paused and not isinstance(command, _HEARD_IN_PAUSE):
        raise refused(state, command, Reason.PAUSED)
    return _DECIDERS[type(command)](state, command)


def first_turn(answers: Iterable[c.Command] = (), carried: Turn = ()) -> Turn:
    """The first turn of a new piece: what was answered beforehand, and the ring where it suffices.

    `carried` comes from an earlier piece, see next_piece; the answers count after it.

    Raises: Refused for an answer that makes no sense.
    """
    turn: Turn = (e.Begun(), *carried)
    for answer in answers:
        turn = (*turn, *decide(fold(State(), turn), answer))
    after = fold(State(), turn)
    size = "head_mm" if after.settings.shape.for_head else "across_mm"
    if after.stage is Stage.SETUP and {size, "yarn", "hook_mm"} <= set(after.answered):
        turn = (*turn, e.SetupDone())
    return offered_after(State(), turn)


def taken_up(state: State, days: float) -> Turn:
    """The turn of a piece that is taken up again after so many days; most often nothing."""
    return (e.LeftAlone(days),) if days > LONG_DAYS and state.stage in WORKING else ()


def _nothing(_state: State, _command: c.Command) -> Turn:
    return ()


def _always(event: e.Event) -> Callable[[State, c.Command], Turn]:
    return lambda _state, _command: (event,)


_ANSWERED_BY = {
    c.Kind.ACROSS: "across_mm", c.Kind.AROUND: "head_mm", c.Kind.DEPTH: "depth_mm",
    c.Kind.BRIM: "brim_mm",
}  # fmt: skip
"""Questions of the interview that a length said with its place answers."""


def _measured(state: State, command: c.Measured) -> Turn:
    """A reading, or in the interview the answer to the question about that place. Raises: Refused.
    """
    key = _ANSWERED_BY.get(command.kind) if command.kind is not None else None
    if key is not None and key == state.question:
        return answering.answer(state, c.Answer(command.amount))
    return working.measured(state, command)


def _go_on(state: State, _command: c.GoOn) -> Turn:
    """Ends a pause; without one it is the same as next. Raises: Refused as next is."""
    return (e.Resumed(),) if state.paused else working.round_done(state, c.Next())


_DECIDERS: dict[type, Callable[[State, Any], Turn]] = {
    c.Next: working.round_done,
    c.Ask: _nothing,
    c.Help: _nothing,
    c.Explain: _nothing,
    c.Fabric: _nothing,
    c.HeadSize: interview.head_asked,
    c.GoOn: _go_on,
    c.Back: working.back,
    c.Sets: working.sets,
    c.Measured: _measured,
    c.Answer: answering.answer,
    c.Choose: answering.changes,
    c.Change: answering.changes,
    c.Adjust: answering.changes,
    c.HeadOf: answering.changes,
    c.Counted: working.counted,
    c.CountedIn: working.counted_in,
    c.RippedBack: working.ripped,
    c.Undo: working.undo,
    c.Lies: working.lies,
    c.StartSides: working.start,
    c.StartBrim: working.start,
    c.StartNext: working.start,
    c.FinishNow: working.finish,
    c.AlsoFor: interview.also_for,
    c.OneSize: interview.one_size,
    c.Begin: answering.begin,
    c.Yes: answering.yes,
    c.No: answering.no,
    c.Skip: answering.skip,
    c.Wording: lambda _state, command: (e.WordingChosen(command.brief),),
    c.Speak: asides.speak,
    c.Signal: lambda _state, command: (e.SignsChosen(command.signs),),
    c.Pause: _always(e.Paused()),
    c.Resume: _always(e.Resumed()),
    c.Leave: _always(e.Left()),
    c.Weighed: weighing.weighed,
    c.HaveBalls: asides.balls,
    c.Rests: asides.rests,
    c.RemindAfter: asides.reminder,
    c.Note: asides.note,
    c.LostAt: asides.lost,
    c.Tension: working.tension,
    c.Swatch: gauging.swatched,
    c.OtherHands: working.other_hands,
    c.NewBall: working.new_ball,
    c.Another: working.another,
}
