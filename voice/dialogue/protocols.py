"""Partners of a conversation: ears, a mouth, and whoever watches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from voice.dialogue.talk_over import TakesOwnOut
from voice.hearing.evidence import Verdict
from voice.hearing.listening import Hearing
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.ports import AudioSource, Condition, Player, Speaker


class Listener(Protocol):
    """Whoever wants to know what goes on: the screen, a table, a file."""

    def said(self, text: str) -> None:
        """The program says something."""

    def heard(self, segment: Segment, what: Verdict) -> Condition | None:
        """An utterance was made out, or not; returns what else is to be told of it."""

    def trouble(self, condition: Condition) -> None:
        """Something is wrong with the sound, or right again."""


@dataclass(frozen=True, slots=True)
class Ears:
    """Everything that is needed to listen."""

    source: AudioSource
    hearing: Hearing
    endpointer: Endpointer
    own: TakesOwnOut | None = None
    """The source, where it takes the program's own voice out."""
    telly: TakesOwnOut | None = None
    """The source, where it takes out what a second microphone hears."""


@dataclass(frozen=True, slots=True)
class Mouth:
    """Everything that is needed to speak."""

    speaker: Speaker
    player: Player
