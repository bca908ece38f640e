"""Rounds: offered, worked, taken back, and the steps after the last one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.gauge.estimate import LOOSENED, Gauge
from pattern.gauge.miscount import Miscount
from pattern.gauge.stitch_change import sooner
from pattern.plan.advancing import advanced, begins_looser
from pattern.plan.piece import Piece
from pattern.session import events as e
from pattern.session.changes.count_asked import count_judged
from pattern.session.state import FINISHING_STEPS, RIPPED, Made, State
from pattern.shape.rounds import Stage


def _offered(state: State, event: e.RoundOffered) -> State:
    offered = event.round
    called = replace(state, offered=offered, sets=event.sets, stage=offered.stage)
    if state.stage is not offered.stage:
        called = replace(called, asks=0, seen=False)
    return count_judged(called)


def _finished(state: State, _event: e.RoundFinished) -> State:
    offered, piece = state.offered, state.piece
    if offered is None:
        raise TypeError("no round is offered")
    worked = advanced(piece, offered, slips_found=state.slips_found)
    return replace(
        state,
        piece=replace(worked, look=state.look_later),
        look_later=None,
        offered=None,
        made=Made(offered, piece, state.made, slipped_before=state.slips_found),
        sets=0,
        want=None,
        doubt=None,
        last=None,
    )


def _taken_back(state: State, event: e.RoundsTakenBack) -> State:
    made, before, offered = state.made, state.piece, state.offered
    gauge = state.piece.gauge
    for _ in range(event.rounds):
        if made is None:
            raise TypeError("more rounds taken back than worked")
        before, offered, made = made.before, made.round, made.earlier
        if begins_looser(offered, before):
            gauge = gauge.loosened(1 / (1 + LOOSENED) - 1, before.finished)
    then = _ripped(state.piece, before, gauge)
    piece = replace(then, settings=state.piece.settings, miscount=_miscount_then(state, before))
    if offered is not None and offered.part == state.piece.index and state.piece.sides_known:
        piece = replace(piece, sides_known=True, closed=max(piece.closed, offered.part))
    return replace(
        state,
        piece=piece,
        made=made,
        offered=offered,
        sets=0,
        look_later=None,
        want=None,
        doubt=None,
        step=0,
        last=RIPPED if event.ripped else None,
        stage=offered.stage if offered else state.stage,
        asked_round=min(state.asked_round, piece.finished),
        hooks_before=_hooks_then(state.hooks_before, piece.finished),
        edge_asked=min(state.edge_asked, piece.finished),
    )


def _hooks_then(
    hooks: tuple[tuple[int, float], ...], finished: int
) -> tuple[tuple[int, float], ...]:
    """The hooks of the rounds that stay."""
    left: tuple[tuple[int, float], ...] = ()
    for last, hook_mm in hooks:
        until = min(last, finished)
        if until > (left[-1][0] if left else 0):
            left = (*left, (until, hook_mm))
    return left


def _ripped(now: Piece, before: Piece, gauge: Gauge) -> Piece:
    """The piece as it was, with what is known now; another hook that was taken since stays."""
    sooner_by = max(now.changed_after - before.finished, 0)
    gauge = sooner(gauge, now.changed_ratio, sooner_by) if sooner_by else gauge
    return replace(
        before,
        gauge=gauge,
        changed_ratio=now.changed_ratio,
        changed_after=min(now.changed_after, before.finished),
    )


def _miscount_then(state: State, before: Piece) -> Miscount:
    """The miscount of an earlier round, beside the gauge as it was learned since."""
    taken = state.taken is not None and state.taken.after_round > before.finished
    later = (made for made in state.rounds_made() if made.round.number > before.finished)
    counted = any(made.counted is not None for made in later)
    hooked = state.piece.changed_after > before.finished
    return before.miscount.apart() if taken or counted or hooked else before.miscount


def _started(state: State, event: e.StageStarted) -> State:
    piece = state.piece
    if event.stage is Stage.FINISHING:
        return replace(state, stage=event.stage, offered=None, sets=0, want=None, doubt=None)
    part = state.offered.part if state.offered is not None else piece.index
    return replace(state, piece=replace(piece, closed=part + 1), want=None, doubt=None)


def _stepped(state: State, _event: e.StepDone) -> State:
    step = state.step + 1
    done = step >= len(FINISHING_STEPS)
    return replace(state, want=None, step=step, stage=Stage.DONE if done else state.stage)


def _step_back(state: State, _event: e.StepTakenBack) -> State:
    return replace(state, step=state.step - 1, stage=Stage.FINISHING)


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.SetupDone: lambda state, _event: replace(state, stage=Stage.RING),
    e.RoundOffered: _offered,
    e.RoundFinished: _finished,
    e.SetsWorked: lambda state, event: replace(state, sets=event.sets, last=None),
    e.RoundsTakenBack: _taken_back,
    e.StageStarted: _started,
    e.StepDone: _stepped,
    e.StepTakenBack: _step_back,
}
