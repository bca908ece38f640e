"""The phrases that can be said now: which groups of phrases a recogniser listens for."""

from __future__ import annotations

from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.words.phrases import Group

_WORKING = frozenset({Group.WORK, Group.READING, Group.ANSWER, Group.CONFIRM, Group.CHANGE})
_BY_STAGE: dict[Stage, frozenset[Group]] = {
    Stage.SETUP: frozenset({Group.SETUP, Group.RING, Group.ANSWER, Group.CONFIRM, Group.CHANGE}),
    Stage.RING: _WORKING | {Group.RING},
    Stage.DONE: frozenset({Group.WORK, Group.CONFIRM}),
}


def groups_now(state: State) -> frozenset[Group]:
    """The groups that make sense; again, undo, where am I, help, pause and leave always do.

    In a pause they are the same: what is then refused is told so.
    """
    beside = {Group.WORK} if state.decorating is not None else set()
    return _BY_STAGE.get(state.stage, _WORKING) | {Group.ALWAYS} | beside
