"""Decides on decorating: one thing is called at a time, and the rounds wait where they are."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.folding import Decided, Turn, Unfolding, unfolding
from pattern.session.next_offer import refused
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.trade.decorations import STEPS, Decoration

ONWARDS = (c.Next, c.GoOn, c.Skip)
BACKWARDS = (c.Back, c.Undo)
LEAVES = (c.Enough, c.Begin)
STEPPING = (*ONWARDS, *BACKWARDS, *LEAVES)
"""Commands that are about the decoration while one is called, and leave the piece as it is."""
_STAYS = (c.Note,)
"""Commands about the piece after which a decoration is called on."""


def decorate(state: State, command: c.Decorate) -> Turn:
    """The first step. Raises: Refused for a piece that has no place for it."""
    form = state.settings.shape.form
    if state.doubt is not None:
        raise refused(state, command, Reason.DOUBT_OPEN)
    closed = form is Form.CLOSED and command.what is not Decoration.FLOWER
    if closed or (command.what is Decoration.RIBBON and form is not Form.WORN):
        raise refused(state, command, Reason.NO_PLACE_FOR, what=command.what.value)
    return (e.DecorationCalled(command.what, 0),)


def nothing_called(state: State, command: c.Enough) -> Turn:
    """Raises: Refused, since no decoration is called, and no interview is open."""
    raise refused(state, command, Reason.NOTHING_CALLED)


def stepped(state: State, command: c.Command) -> Turn | None:
    """The turn of a command about the decoration that is called; None for any other command.

    Raises: Refused for a bare yes or no, as nothing was asked.
    """
    called = state.decorating
    if called is None or state.paused or state.doubt is not None:
        return None
    if isinstance(command, BACKWARDS):
        return (e.DecorationCalled(called.what, max(called.step - 1, 0)),)
    if isinstance(command, ONWARDS):
        following = called.step + 1
        if following < len(STEPS[called.what]):
            return (e.DecorationCalled(called.what, following),)
        return (e.DecorationEnded(),)
    if isinstance(command, LEAVES):
        return (e.DecorationEnded(),)
    if command in {c.Yes(), c.No()}:
        raise refused(state, command, Reason.NOTHING_DOUBTED)
    return None


def steps(state: State, command: c.Command) -> bool:
    """Whether a command is about the decoration that is called, and leaves the piece as it is."""
    return state.decorating is not None and isinstance(command, STEPPING)


def left_for(state: State, command: c.Command, decision: Decided) -> Unfolding:
    """The turn of a command about the piece: with it the maker is back at that."""
    so_far = decision if isinstance(decision, Unfolding) else unfolding(state, *decision)
    stays = state.decorating is None or state.paused or isinstance(command, _STAYS)
    if stays or not so_far.turn:
        return so_far
    return so_far.then(e.DecorationEnded())
