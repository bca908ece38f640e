"""What free wording is taken to mean, asked before it is done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.limits import LIMITS
from pattern.shape.settings import Settings
from pattern.trade.lengths import Amount
from voice.sentences.amounts import capital, counted, decimal, with_unit
from voice.sentences.questions import NAMES
from voice.words.spoken_numbers import say_integer

LEFT = "All right, I leave it."


def question(command: c.Command, state: State) -> str:
    """One question whose yes does the command."""
    said = _QUESTIONS.get(type(command), _plain)(command, state)
    return f"{capital(said)}? Yes or no."


def nearest(nouns: Sequence[str]) -> str:
    """What would be understood instead; never that it was not understood alone."""
    if not nouns:
        return "I did not get that. Say help to hear what you can say."
    return f"I did not get that. I can {' or '.join(nouns)}: say which."


def _plain(command: c.Command, _state: State) -> str:
    return _PLAIN[type(command)]


_PLAIN: dict[type, str] = {
    c.Undo: "take back the last thing",
    c.StartSides: "stop increasing, and start the sides now",
    c.StartBrim: "start the brim now",
    c.StartNext: "go on with the next part now",
    c.FinishNow: "end it here",
    c.Skip: "leave that out",
    c.Tension: "have your stitches come out another size",
    c.OtherHands: "does somebody else go on",
    c.NewBall: "note a new ball here",
    c.Another: "begin another one",
    c.Yes: "is that a yes",
    c.No: "is that a no",
    c.Back: "one step back",
    c.Begin: "take the usual for the rest",
    c.OneSize: "only one size",
    c.Note: "take a note",
    c.AlsoFor: "write the pattern for that head as well",
    c.Leave: "put the piece away for now",
}


def _next(_command: c.Command, state: State) -> str:
    if state.offered is None:
        return "is that step done"
    return f"is round {say_integer(state.offered.number)} done"


def _sets(command: Any, _state: State) -> str:  # noqa: ANN401 - by the table below
    return f"{counted(command.count, 'more set' if command.more else 'set')} done"


def _swatch(command: Any, state: State) -> str:  # noqa: ANN401
    kind = ("round", "rounds") if command.by_rounds else ("stitch", "stitches")
    return f"{counted(command.count, *kind)} in {_length(command.amount, state.settings)}"


def _length(amount: Amount, settings: Settings) -> str:
    return with_unit(amount.mm(settings.unit), settings)


def _measured(command: Any, state: State) -> str:  # noqa: ANN401
    length = _length(command.amount, state.settings)
    if command.stitches is not None:
        return f"{counted(command.stitches, 'stitch', 'stitches')} in {length}"
    return f"{length} {_PLACES.get(command.kind, '')}".strip()


_PLACES = {
    c.Kind.ACROSS: "across",
    c.Kind.AROUND: "around",
    c.Kind.DEPTH: "deep",
    c.Kind.BRIM: "of brim",
    c.Kind.CORNERS: "across the corners",
}


def _change(command: Any, state: State) -> str:  # noqa: ANN401
    name = NAMES.get(command.key, command.key.replace("_", " "))
    if LIMITS[command.key].tape:
        return f"{name}: {_length(command.amount, state.settings)}"
    return f"{name} {decimal(command.amount.value)}"


def _adjust(command: Any, state: State) -> str:  # noqa: ANN401
    part = "depth" if command.key == "depth_mm" else "brim"
    more = "less" if command.less else "more"
    return f"{_length(command.amount, state.settings)} {more} of {part}"


_LOOKS = {c.Look.FLAT: "lies flat", c.Look.RIPPLES: "ripples", c.Look.CUPS: "cups"}
_QUESTIONS: dict[type, Callable[[Any, State], str]] = {
    c.Next: _next,
    c.GoOn: _next,
    c.Sets: _sets,
    c.Measured: _measured,
    c.Answer: lambda command, state: _length(command.amount, state.settings),
    c.Change: _change,
    c.Adjust: _adjust,
    c.Choose: lambda command, _state: f"{NAMES.get(command.key, command.key)}: {command.value}",
    c.Counted: lambda command, _state: f"{counted(command.count, 'stitch', 'stitches')} counted",
    c.RippedBack: lambda command, _state: f"rip back {counted(command.rounds, 'round')}",
    c.Lies: lambda command, _state: f"it {_LOOKS[command.look]}",
    c.Weighed: lambda command, _state: f"{decimal(command.amount.value)} left on the scales",
    c.HaveBalls: lambda command, _state: f"{decimal(command.amount.value)} balls",
    c.Swatch: _swatch,
    c.HeadOf: lambda _command, _state: "take the head by the table",
}
