"""Where a conversation is, and how its turns are taken; see turns for what happens to it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from pattern.session import commands as c
from pattern.session.events import Event, ReminderChosen, SignsChosen
from voice.dialogue.echo import Echo
from voice.hearing.attention import Attention


@dataclass(frozen=True, slots=True)
class Manners:
    """How turns are taken."""

    talk_over: bool = False
    """The maker may speak while the program does: only with headphones or without echo."""
    remind_s: float = 90.0
    """A reading that is wanted is asked for once more after this; 0 for never."""
    signs: c.Signs = c.Signs.SOUNDS
    """Whether earcons are heard, or what they stand for is said, or both."""

    def after(self, event: Event) -> Manners:
        """The manners after an event that may choose others."""
        match event:
            case ReminderChosen(after_s):
                return replace(self, remind_s=after_s)
            case SignsChosen(signs):
                return replace(self, signs=signs)
        return self


@dataclass(frozen=True, slots=True)
class Turns:
    """Where the conversation is."""

    speaking: bool = False
    silent_since_s: float = -math.inf
    """When the program last fell silent."""
    deaf_until_s: float = 0.0
    gave_way_s: float = -math.inf
    """When it was to begin to speak, and fell silent for what had begun before."""
    echoed_until_s: float = -math.inf
    """When the last sound that was taken for its echo ended."""
    signed: bool = False
    """Whether what it gave last was a sign, and no words."""
    echo: Echo = field(default_factory=Echo)
    asked: tuple[c.Command, ...] = ()
    """Which of these was meant is asked, the likelier first."""
    misses: int = 0
    uncaught_s: float = -math.inf
    """When something was heard last that nothing was made of."""
    cut: bool = False
    """Whether a sound cut off what was said last, and no phrase has come of it yet."""
    insists: int = 0
    """How often what it says was cut off for nothing: after the first time only a phrase stops it,
    or what stands out far; after the second only a phrase."""
    quiet_since_s: float = 0.0
    reminded: bool = False
    attention: Attention = field(default_factory=Attention)
