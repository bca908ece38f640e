"""Whose turn it is to speak: pure, as the session is; what happens goes in, what to do comes out.

Half-duplex unless told otherwise: while the program speaks, and for the echo's time after, it does
not listen. Times are seconds of whatever clock the loop has.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from pattern import commands as c
from voice.earcons import Earcon
from voice.hearing import Action, Heard

ECHO_S = 0.5
"""Deaf time after speech: the tail of the longest echo seen in trials was 0.46 s."""
MISSES_TOLD = 2
"""So many utterances in a row that were not caught, and the maker is told what is wrong."""


@dataclass(frozen=True, slots=True)
class Manners:
    """How turns are taken."""

    talk_over: bool = False
    """The maker may speak while the program does: only with headphones or without echo."""
    remind_s: float = 90.0
    """A reading that is wanted is asked for once more after this; 0 for never."""
    earcons: bool = True


@dataclass(frozen=True, slots=True)
class Turns:
    """Where the conversation is."""

    speaking: bool = False
    deaf_until_s: float = 0.0
    asked: tuple[c.Command, ...] = ()
    """Which of these was meant is asked, the likelier first."""
    misses: int = 0
    quiet_since_s: float = 0.0
    reminded: bool = False


@dataclass(frozen=True, slots=True)
class Take:
    """Give this command to the session."""

    command: c.Command


@dataclass(frozen=True, slots=True)
class AskWhich:
    """Ask which of these was said."""

    heard: Heard


@dataclass(frozen=True, slots=True)
class Sign:
    """Play an earcon, or its words."""

    earcon: Earcon


@dataclass(frozen=True, slots=True)
class TellTrouble:
    """Say what keeps the maker from being understood."""


@dataclass(frozen=True, slots=True)
class Remind:
    """Ask once more for what is wanted."""


@dataclass(frozen=True, slots=True)
class FallSilent:
    """Stop speaking at once."""


Output = Take | AskWhich | Sign | TellTrouble | Remind | FallSilent
Step = tuple[Turns, tuple[Output, ...]]


def listens(turns: Turns, manners: Manners, now_s: float) -> bool:
    """Whether what the microphone brings may be the maker."""
    return manners.talk_over or not (turns.speaking or now_s < turns.deaf_until_s)


def began_speaking(turns: Turns) -> Turns:
    """The program speaks."""
    return replace(turns, speaking=True)


def fell_silent(turns: Turns, now_s: float) -> Turns:
    """The program has spoken: deaf for the echo, and from now on it is quiet."""
    return replace(turns, speaking=False, deaf_until_s=now_s + ECHO_S, quiet_since_s=now_s)


def maker_began(turns: Turns, manners: Manners) -> Step:
    """The maker speaks while the program does: it gives way where it may be talked over."""
    if turns.speaking and manners.talk_over:
        return replace(turns, speaking=False), (FallSilent(),)
    return turns, ()


def heard(turns: Turns, what: Heard, manners: Manners, now_s: float) -> Step:
    """An utterance was heard out."""
    turns = replace(turns, quiet_since_s=now_s)
    if what.action is Action.SILENT or what.command is None:
        return _missed(turns, what, manners)
    if what.action is Action.ASK and not turns.asked:
        asked = tuple(dict.fromkeys(_commands(what)))
        return replace(turns, asked=asked, misses=0), (AskWhich(what),)
    command = _meant(turns.asked, what.command) if turns.asked else what.command
    turns = replace(turns, asked=(), misses=0, reminded=False)
    return (turns, (Take(command),)) if command is not None else (turns, ())


def _commands(what: Heard) -> tuple[c.Command, ...]:
    from voice.phrases import read

    found = [read(alternative.words) for alternative in what.alternatives]
    return tuple(command for command in found if command is not None)


def _meant(asked: tuple[c.Command, ...], said: c.Command) -> c.Command | None:
    """The command that an answer picks: by yes, by its number, by itself; None for no."""
    if isinstance(said, c.Yes):
        return asked[0]
    if isinstance(said, c.No):
        other = asked[1] if len(asked) > 1 else None
        return other if said.amount is None else c.Answer(said.amount)
    picked = [command for command in asked if _number(command) == _number(said) is not None]
    return picked[0] if picked else said


def _number(command: c.Command) -> float | None:
    amount = getattr(command, "amount", None)
    if amount is not None:
        return float(amount.value)
    for name in ("count", "rounds"):
        if isinstance(value := getattr(command, name, None), int):
            return float(value)
    return None


def _missed(turns: Turns, what: Heard, manners: Manners) -> Step:
    """Talk that was not for the program leaves no trace; something close to a phrase does."""
    if not what.alternatives:
        return turns, ()
    misses = turns.misses + 1
    if misses >= MISSES_TOLD:
        return replace(turns, misses=0), (TellTrouble(),)
    sign: tuple[Output, ...] = (Sign(Earcon.NOT_CAUGHT),) if manners.earcons else ()
    return replace(turns, misses=misses), sign


def ticked(turns: Turns, manners: Manners, now_s: float, *, wanted: bool) -> Step:
    """Time passes; silence is fine, but a reading that is wanted is asked for once more."""
    quiet_s = now_s - turns.quiet_since_s
    due = wanted and not turns.speaking and not turns.reminded and manners.remind_s > 0
    if due and quiet_s >= manners.remind_s:
        return replace(turns, reminded=True, quiet_since_s=now_s), (Remind(),)
    return turns, ()
