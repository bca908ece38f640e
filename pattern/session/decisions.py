"""Decides on a command in a state: returns its events, or refuses without changing anything."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from pattern.session import commands as c
from pattern.session import (
    decide_answers,
    decide_asides,
    decide_by_stage,
    decide_circumstances,
    decide_decorating,
    decide_fits,
    decide_gauge,
    decide_interview,
    decide_means,
    decide_touch,
    decide_work,
    decide_yarn,
)
from pattern.session import events as e
from pattern.session.folding import Decided, Turn, Unfolding, unfolding
from pattern.session.next_offer import WORKING, offered_after, refused
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage

LONG_DAYS = 3.0
"""A piece left alone for longer may come out another size at first; our choice."""
HEARD_IN_PAUSE = (c.Resume, c.GoOn, c.Back, c.Leave, c.Ask, c.Help, c.Explain, c.HeadSize)
"""Commands that make sense in a pause; to come back ends it."""


def decided(state: State, command: c.Command) -> Unfolding:
    """The turn of a command, and what it leads to; without events when it only asks something.

    Raises: Refused when the command makes no sense now.
    """
    if state.paused and not isinstance(command, HEARD_IN_PAUSE):
        raise refused(state, command, Reason.PAUSED)
    if (turn := decide_decorating.stepped(state, command)) is not None:
        return unfolding(state, *turn)
    decision = _DECIDERS[type(command)](state, command)
    if not leaves_piece(command):
        return decide_decorating.left_for(state, command, decision)
    return decision if isinstance(decision, Unfolding) else unfolding(state, *decision)


def decide(state: State, command: c.Command) -> Turn:
    """The events of a command, see decided. Raises: Refused."""
    return decided(state, command).turn


def leaves_piece(command: c.Command) -> bool:
    """Whether a command leaves the piece as it is in any state: its events, if any, are quiet."""
    return type(command) in _BESIDE


def only_tells(command: c.Command) -> bool:
    """Whether a command is answered and changes nothing, not even how the session is held."""
    return _BESIDE.get(type(command)) is _nothing


_DOUBTS = e.StartDoubted | e.FinishDoubted
"""Questions of the session whether it is to be done all the same."""


def only_asks(state: State, command: c.Command) -> bool:
    """Whether all that a command does is that the session asks if it is to be done."""
    try:
        turn = decide(state, command)
    except Refused:
        return False
    return bool(turn) and all(isinstance(event, _DOUBTS) for event in turn)


def first_turn(answers: Iterable[c.Command] = (), carried: Turn = ()) -> Turn:
    """The events of a new piece, see opened. Raises: Refused."""
    return opened(answers, carried).turn


def opened(answers: Iterable[c.Command] = (), carried: Turn = ()) -> Unfolding:
    """The first turn of a new piece: what was answered beforehand, and the ring where it suffices.

    `carried` comes from an earlier piece, see next_piece; the answers count after it.

    Raises: Refused for an answer that makes no sense.
    """
    so_far = unfolding(State(), e.Begun(), *carried)
    for answer in answers:
        so_far = so_far.then(*decide(so_far.now, answer))
    now = so_far.now
    size = "head_mm" if now.settings.shape.for_head else "across_mm"
    if now.stage is Stage.SETUP and {size, "yarn", "hook_mm"} <= set(now.answered):
        so_far = decide_interview.done(so_far)
    return offered_after(so_far)


def taken_up(state: State, days: float) -> Turn:
    """The turn of a piece that is taken up again after so many days; most often nothing."""
    return (e.LeftAlone(days),) if days > LONG_DAYS and state.stage in WORKING else ()


def _nothing(_state: State, _command: c.Command) -> Turn:
    return ()


def _always(event: e.Event) -> Callable[[State, c.Command], Turn]:
    return lambda _state, _command: (event,)


_BESIDE: dict[type, Callable[[State, Any], Decided]] = {
    c.Ask: _nothing,
    c.Help: _nothing,
    c.Explain: _nothing,
    c.Fabric: _nothing,
    c.HeadSize: decide_interview.head_asked,
    c.CountedIn: decide_work.counted_in,
    c.Wording: lambda _state, command: (e.WordingChosen(command.brief),),
    c.Speak: decide_asides.speak,
    c.Signal: lambda _state, command: (e.SignsChosen(command.signs),),
    c.Pause: _always(e.Paused()),
    c.Resume: _always(e.Resumed()),
    c.Leave: _always(e.Left()),
    c.Rests: decide_asides.rests,
    c.RemindAfter: decide_asides.reminder,
    c.LostAt: decide_asides.lost,
    c.OwnWidth: decide_touch.own_width,
    c.Decorate: decide_decorating.decorate,
}
"""Commands that tell something, or change how the session is held, and leave the piece as it is."""
_CHANGING: dict[type, Callable[[State, Any], Decided]] = {
    c.Next: decide_by_stage.next_round,
    c.GoOn: decide_by_stage.go_on,
    c.Back: decide_by_stage.back,
    c.Sets: decide_work.sets,
    c.Measured: decide_by_stage.measured,
    c.Answer: decide_answers.answer,
    c.Choose: decide_answers.changes,
    c.Change: decide_answers.changes,
    c.Adjust: decide_answers.changes,
    c.HeadOf: decide_answers.changes,
    c.Counted: decide_work.counted,
    c.RippedBack: decide_work.ripped,
    c.Undo: decide_work.undo,
    c.Lies: decide_work.lies,
    c.StartSides: decide_work.start,
    c.StartBrim: decide_work.start,
    c.StartNext: decide_work.start,
    c.FinishNow: decide_work.finish,
    c.AlsoFor: decide_interview.also_for,
    c.OneSize: decide_interview.one_size,
    c.Begin: decide_answers.begin,
    c.Enough: decide_by_stage.enough,
    c.EveryQuestion: decide_answers.every_question,
    c.Yes: decide_answers.yes,
    c.No: decide_answers.no,
    c.Skip: decide_answers.skip,
    c.Weighed: decide_yarn.weighed,
    c.HaveBalls: decide_asides.balls,
    c.Note: decide_asides.note,
    c.Tension: decide_circumstances.tension,
    c.Swatch: decide_gauge.swatched,
    c.OtherHands: decide_circumstances.other_hands,
    c.NewBall: decide_circumstances.new_ball,
    c.Another: decide_circumstances.another,
    c.TriedOn: decide_fits.tried_on,
    c.TapeThere: decide_means.tape_there,
    c.HeadThere: decide_means.head_there,
    c.StringOff: decide_touch.string_off,
    c.ByHand: decide_touch.by_hand,
}
"""Commands that change the piece, or what is known of it."""
_DECIDERS = _BESIDE | _CHANGING
