"""Moves that the turn-taking has the program make."""

from __future__ import annotations

from dataclasses import dataclass, field

from pattern.session.commands import Command, Signs
from voice.dialogue.trouble import Trouble
from voice.hearing.attention import Switch
from voice.hearing.evidence import Verdict
from voice.sound.earcons import Earcon


@dataclass(frozen=True, slots=True)
class Take:
    """Give this command to the session."""

    command: Command
    words: str = field(default="", compare=False)
    """As they were heard."""
    freely: bool = field(default=False, compare=False)
    """Whether they were free wording."""


@dataclass(frozen=True, slots=True)
class AskWhich:
    """Ask which of these was said."""

    heard: Verdict


@dataclass(frozen=True, slots=True)
class Sign:
    """Play an earcon, say what it stands for, or both."""

    earcon: Earcon
    signs: Signs


@dataclass(frozen=True, slots=True)
class TellTrouble:
    """Say what keeps the maker from being understood."""

    trouble: Trouble


@dataclass(frozen=True, slots=True)
class Remind:
    """Ask once more for what is wanted."""


@dataclass(frozen=True, slots=True)
class FallSilent:
    """Stop speaking at once."""


@dataclass(frozen=True, slots=True)
class Repeat:
    """Say once more what was cut off, to its end."""


@dataclass(frozen=True, slots=True)
class TellAttention:
    """Say that the attention words are needed from now on, or no more, or were left out."""

    switch: Switch


Move = Take | AskWhich | Sign | TellTrouble | Remind | FallSilent | Repeat | TellAttention
