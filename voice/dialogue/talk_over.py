"""Whether the program may be talked over: with headphones, or where its own voice is taken out."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Protocol

from voice.dialogue import echo_gate
from voice.dialogue.echo import LONGEST_S as TAIL_S
from voice.dialogue.turn_state import Manners, Turns
from voice.hearing.utterance_part import Part
from voice.sound.ports import AudioBlock

ENOUGH_DB, LOST_DB = 15.0, 10.0
"""Gain from which it is listened to under its own voice, and below which no more; from trials."""
LOST_S = 20.0
"""Length of its own speech under which it can't listen any more, before that is told."""
BEGINNING_S = 0.6
"""It has fallen silent so soon after a voice over it began, with the echo of its last sound."""


class TakesOwnOut(Protocol):
    """A source that takes the program's own voice out of its sound."""

    @property
    def steady_gain_db(self) -> float:
        """Gain of most loud moments; 0 until there were enough of them."""

    def is_left_over(self, began_s: float, ended_s: float) -> bool:
        """Whether what was heard between two times is no louder than what is usually left."""

    def is_known(self, began_s: float, ended_s: float) -> bool:
        """Whether what was heard between two times follows what this machine played."""

    def stands_out(self, began_s: float, spoke_s: float, *, far: bool = False) -> bool:
        """Whether a sound that goes on is surely not what is left of what this machine played, and
        `far` from it.
        """


@dataclass(frozen=True, slots=True)
class NotOver:
    """The program could be talked over, and can't be any more."""

    sentence: str = field(
        default="I can't hear you while I speak any more; wait until I am silent.", init=False
    )


class TalkOver:
    """Follows how well the program's own voice is taken out."""

    def __init__(
        self, own: TakesOwnOut | None, telly: TakesOwnOut | None = None, *, headphones: bool
    ) -> None:
        """Borrow the source; None where its own voice can't be taken out, and another where what a
        second microphone hears is.
        """
        self._own, self._headphones = (None if headphones else own), headphones
        self._telly = telly
        self._over = self._could = self._told = False
        self._deaf_s = 0.0

    def manners(self, manners: Manners) -> Manners:
        """The manners by the gain of now; with headphones none is needed."""
        if self._own is None:
            return replace(manners, talk_over=self._headphones)
        self._over = self._own.steady_gain_db >= (LOST_DB if self._over else ENOUGH_DB)
        self._could |= self._over
        return replace(manners, talk_over=self._over)

    def lost(self, block: AudioBlock, *, speaking: bool) -> NotOver | None:
        """News to be told after a block; at most once."""
        if self._over:
            self._deaf_s = 0.0
        elif self._could and speaking:
            self._deaf_s += block.duration_s
        if self._told or self._deaf_s < LOST_S:
            return None
        self._told = True
        return NotOver()

    def left_db(self, block: AudioBlock, turns: Turns) -> float:
        """Level above which a block may hold the maker's voice."""
        if self._own is None or not (
            turns.speaking or block.time_s < turns.silent_since_s + TAIL_S
        ):
            return -math.inf
        return block.left_db

    def giving_way(self, turns: Turns, manners: Manners, began_s: float, spoke_s: float) -> Manners:
        """The manners towards a sound that goes on, from `began_s` to `spoke_s` as yet.

        What stops it for nothing is a reply said twice; so it waits where it may be its own sound.
        Where it says it a second time, it waits for what stands out far, and is not its own along a
        path that has just changed.
        """
        if not (turns.speaking and manners.talk_over):
            return manners
        far = turns.insists > 0
        if self._own is None:
            return replace(manners, talk_over=not far)
        until_s = min(spoke_s, began_s + BEGINNING_S)
        out = self._own.stands_out(began_s, until_s, far=far)
        out = out and not (far and self._own.is_known(began_s, until_s))
        return replace(manners, talk_over=out)

    def part(self, turns: Turns, manners: Manners, began_s: float, ended_s: float) -> Part:
        """Content of an utterance from `began_s` to `ended_s`.

        It can be what is left of a film or of the program's own voice, or all of either along a
        path that has just changed, or was not learnt yet.
        """
        part = echo_gate.part_heard(turns, manners, began_s, ended_s)
        if self._telly is not None and self._telly.is_left_over(began_s, ended_s):
            return Part.ECHO
        if self._own is None:
            return part
        if self._own.is_left_over(began_s, ended_s):
            return Part.ECHO
        ours = turns.speaking or began_s <= turns.silent_since_s + TAIL_S
        until_s = min(ended_s, began_s + BEGINNING_S)
        learnt = self._own.steady_gain_db > 0
        if (learnt and not ours) or not self._own.is_known(began_s, until_s):
            return part
        return Part.ECHO if ended_s <= until_s or not ours else Part.TAIL
