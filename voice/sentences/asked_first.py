"""Asks about the meaning of free wording before it is done."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pattern.plan.counting import counts_offered
from pattern.session import commands as c
from pattern.session.bare_number import meant
from pattern.session.state import State
from pattern.shape.settings import Settings
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount
from voice.sentences import by_touch_asked, changes_asked, early_end, fits
from voice.sentences.amounts import capital, counted, decimal, with_unit
from voice.sentences.asked_manners import MANNERS
from voice.sentences.choices_asked import choice
from voice.words.spoken_numbers import say_integer

LEFT = "All right, I leave it."


def question(command: c.Command, state: State) -> str:
    """One question whose yes does the command."""
    return f"{_asked(command, state)}? Yes or no."


def left_out(command: c.Command, state: State) -> str:
    """It was asked whether a command was meant, and something else was said."""
    return f"{_asked(command, state)}: left out."


def _asked(command: c.Command, state: State) -> str:
    if isinstance(command, c.Answer) and isinstance(weighed := meant(state, command), c.Weighed):
        command = weighed
    return capital(_QUESTIONS.get(type(command), _plain)(command, state))


def _plain(command: c.Command, _state: State) -> str:
    """The words of a table; a command that only tells was offered as near, by its noun."""
    return _PLAIN.get(type(command), "shall I do that")


_PLAIN: dict[type, str] = {
    c.Undo: "take back the last thing",
    c.FinishNow: "end it here",
    c.Skip: "leave that out",
    c.Tension: "have your stitches come out another size",
    c.OtherHands: "does somebody else go on",
    c.Enough: "leave that",
    c.NewBall: "note a new ball here",
    c.Another: "begin another one",
    c.Yes: "is that a yes",
    c.No: "is that a no",
    c.Back: "one step back",
    c.Begin: "take the usual for the rest",
    c.EveryQuestion: "ask every question",
    c.OneSize: "only one size",
    c.Note: "take a note",
    c.AlsoFor: "write the pattern for that head as well",
}


def _next(_command: c.Command, state: State) -> str:
    if state.offered is None:
        return "is that step done"
    return f"is round {say_integer(state.offered.number)} done"


def _sets(command: Any, _state: State) -> str:  # noqa: ANN401 - by the table below
    return f"{counted(command.count, 'more set' if command.more else 'set')} done"


_STARTS = {
    c.StartSides: "stop increasing, and start the sides now",
    c.StartBrim: "start the brim now",
    c.StartNext: "go on with the next part now",
}


def _start(command: Any, state: State) -> str:  # noqa: ANN401
    """The part that would begin, after what the one in work lacks."""
    start = _STARTS[type(command)]
    lacks = early_end.size(state) if state.offered is not None else ""
    return f"{lacks}. {capital(start)}" if lacks else start


def _length(amount: Amount, settings: Settings) -> str:
    return with_unit(amount.mm(settings.unit), settings)


def _measured(command: Any, state: State) -> str:  # noqa: ANN401
    length = _length(command.amount, state.settings)
    if command.stitches is not None:
        return f"{counted(command.stitches, 'stitch', 'stitches')} in {length}"
    return f"{length} {by_touch_asked.PLACES.get(command.kind, '')}".strip()


def _weighed(command: Any, _state: State) -> str:  # noqa: ANN401
    unit = command.amount.unit.value if command.amount.unit else "gram"
    value = command.amount.value
    return f"{decimal(value)} {unit}{'s' * (value != 1)} left on the scales"


def _counted(command: Any, state: State) -> str:  # noqa: ANN401
    """The count, and by how much it is off the round that it is taken for."""
    said = f"{counted(command.count, 'stitch', 'stitches')} counted"
    offered, piece = state.offered, state.piece
    if offered is None:
        return said
    ahead = counts_offered(offered, piece.stitches, command.count)
    number, called = (offered.number, offered.after) if ahead else (piece.finished, piece.stitches)
    if abs(off := command.count - called) != 1:
        return said
    way = "one too many" if off > 0 else "one short"
    return f"{said}, {way} in round {say_integer(number)}"


def _ripped(command: Any, state: State) -> str:  # noqa: ANN401
    rounds = f"rip back {counted(command.rounds, 'round')}"
    again = state.piece.finished - command.rounds + 1
    if again == 1:
        return f"{rounds}, and start over"
    return f"{rounds} to round {say_integer(again)}" if again > 1 else rounds


def _swatch(command: Any, state: State) -> str:  # noqa: ANN401
    what = "round" if command.by_rounds else "stitch"
    many = counted(command.count, what, "rounds" if command.by_rounds else "stitches")
    washed = " after washing" if command.washed else ""
    return f"a swatch of {many} in {_length(command.amount, state.settings)}{washed}"


def _lost(command: Any, _state: State) -> str:  # noqa: ANN401
    where = "between two increases" if command.between else "all around"
    return f"{counted(command.count, 'stitch', 'stitches')} {where}"


def _head_of(command: Any, _state: State) -> str:  # noqa: ANN401
    """The age is asked about as well: it may have been misheard."""
    if command.age_years is None:
        grown = {Sex.MALE: "a grown man's head", Sex.FEMALE: "a grown woman's head"}
        return f"{grown.get(command.sex, 'a grown head')}, by the table"
    if command.age_years < 2:
        return f"a head of {counted(round(command.age_years * 12), 'month')}"
    return f"a head of {decimal(command.age_years)} years"


def _tried_on(command: Any, state: State) -> str:  # noqa: ANN401
    """The word, with its length or its fingers."""
    amount = command.amount
    if amount is None:
        return fits.said(command.fit)
    if command.fit is c.Fit.FINGERS:
        return f"{decimal(amount.value)} {fits.said(command.fit)}"
    return f"{_length(amount, state.settings)} {fits.said(command.fit)}"


_LOOKS = {c.Look.FLAT: "lies flat", c.Look.RIPPLES: "ripples", c.Look.CUPS: "cups"}
_QUESTIONS: dict[type, Callable[[Any, State], str]] = {
    **MANNERS,
    c.Next: _next,
    c.GoOn: lambda command, state: "go on" if state.paused else _next(command, state),
    c.Sets: _sets,
    **dict.fromkeys(_STARTS, _start),
    c.Measured: _measured,
    c.Answer: lambda command, state: _length(command.amount, state.settings),
    c.Change: changes_asked.change,
    c.Adjust: changes_asked.adjust,
    c.Choose: lambda command, _state: choice(command),
    c.Counted: _counted,
    c.RippedBack: _ripped,
    c.AlsoFor: lambda command, state: (
        f"also write it for a head of {_length(command.amount, state.settings)}"
    ),
    c.Lies: lambda command, _state: f"it {_LOOKS[command.look]}",
    c.Weighed: _weighed,
    c.HaveBalls: lambda command, _state: f"{decimal(command.amount.value)} balls",
    c.Swatch: _swatch,
    c.HeadOf: _head_of,
    c.LostAt: _lost,
    c.CountedIn: lambda command, _state: (
        f"{counted(command.count, 'stitch', 'stitches')} so far in this round"
    ),
    c.HeadSize: _head_of,
    c.TriedOn: _tried_on,
    c.Decorate: lambda command, _state: f"take you through the {command.what.value}",
    c.StringOff: by_touch_asked.string_off,
    c.ByHand: by_touch_asked.by_hand,
    c.OwnWidth: lambda command, state: (
        f"your {command.unit.value} is {_length(command.amount, state.settings)} wide"
    ),
    c.TapeThere: lambda command, _state: f"{'a' if command.there else 'no'} tape at hand",
    c.HeadThere: lambda command, _state: (
        "can you try it on" if command.there else "never try it on with this piece"
    ),
}
