"""Decides on other hands, a new ball, another piece and a change of tension."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decide_asides import here
from pattern.session.folding import Turn, Unfolding, unfolding
from pattern.session.next_offer import (
    WORKING,
    offered_after,
    refuse_outside_work,
    refused,
)
from pattern.session.refusals import Reason
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.rounds import Stage

OTHER_HANDS_NOTE = "somebody else goes on from here"


NEW_BALL_NOTE = "new ball"


def other_hands(state: State, command: c.OtherHands) -> Unfolding:
    """Somebody else goes on; their gauge is measured when it shows. Raises: Refused."""
    refuse_outside_work(state, command)
    if not state.piece.finished:
        raise refused(state, command, Reason.TOO_EARLY)
    noted = e.NoteTaken(OTHER_HANDS_NOTE, here(state))
    return offered_after(unfolding(state, noted, e.MakerChanged()))


def another(state: State, command: c.Another) -> Turn:
    """End this piece by finishing its last step; see `next_piece` for the new one.

    Raises: Refused while rounds are left.
    """
    if state.stage is Stage.SETUP:
        raise refused(state, command, Reason.STILL_SETUP)
    if state.stage not in {Stage.FINISHING, Stage.DONE}:
        raise refused(state, command, Reason.NOT_DONE)
    last = state.stage is Stage.FINISHING and state.step == len(FINISHING_STEPS) - 1
    return (e.StepDone(),) if last else ()


def new_ball(state: State, command: c.NewBall) -> Turn:
    """The ball is noted with its round. Raises: Refused while no round is offered."""
    refuse_outside_work(state, command)
    return (e.NoteTaken(NEW_BALL_NOTE, here(state)),)


def tension(state: State, command: c.Tension) -> Unfolding:
    """Trust the gauge less, and ask for a reading of the edge if it can be measured."""
    refuse_outside_work(state, command)
    if not state.piece.finished:
        raise refused(state, command, Reason.TOO_EARLY)
    so_far = offered_after(unfolding(state, e.TensionChanged()))
    measurable = not state.piece.shaping.flared and state.piece.finished >= 3
    if measurable and so_far.now.doubt is None and so_far.now.stage in WORKING:
        return so_far.then(e.ReadingWanted(c.Kind.AROUND))
    return so_far
