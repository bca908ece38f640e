"""Asks about the meaning of free wording that changes how the session is held."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pattern.session import commands as c
from pattern.session.state import State
from voice.sentences.amounts import counted

_SPEAK = {
    c.Manner.SLOWER: "speak slower",
    c.Manner.FASTER: "speak faster",
    c.Manner.LOUDER: "speak louder",
    c.Manner.QUIETER: "speak more quietly",
    c.Manner.OTHER_VOICE: "take another voice",
}
_SIGNS = {
    c.Signs.SOUNDS: "give signs by sounds",
    c.Signs.WORDS: "give signs in words",
    c.Signs.BOTH: "give signs by sounds and in words",
}


def _rests(command: Any, _state: State) -> str:  # noqa: ANN401 - by the table below
    """A rest every so many minutes, or none at all."""
    if command.every_min == 0:
        return "no more rests"
    return f"a rest every {counted(command.every_min, 'minute')}"


def _again(command: Any, _state: State) -> str:  # noqa: ANN401
    if command.after_s == 0:
        return "never ask again for a reading"
    return f"ask again after {counted(command.after_s, 'second')}"


MANNERS: dict[type, Callable[[Any, State], str]] = {
    c.Wording: lambda command, _state: "fewer words" if command.brief else "whole sentences",
    c.Speak: lambda command, _state: _SPEAK[command.manner],
    c.Signal: lambda command, _state: _SIGNS[command.signs],
    c.Rests: _rests,
    c.RemindAfter: _again,
    c.Pause: lambda _command, _state: "pause here",
    c.Resume: lambda _command, _state: "go on",
    c.Leave: lambda _command, _state: "put the piece away for now",
}
"""The question about each command, by its class."""
