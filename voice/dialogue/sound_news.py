"""Problems of the sound, kept until nobody speaks; sound_watch finds most of them."""

from __future__ import annotations

from voice.dialogue.turn_state import Turns
from voice.sound.ports import AudioBlock, Condition
from voice.sound.sound_watch import LevelWatch


class SoundNews:
    """News of the sound since the devices were opened, in order of coming."""

    def __init__(self) -> None:
        """Start with nothing to tell: with the call, and again when the devices were lost."""
        self._levels = LevelWatch()
        self._kept: list[Condition] = []
        self._heard_s: float | None = None

    def hear(self, block: AudioBlock, turns: Turns) -> None:
        """Take the next block; while the program or its echo is heard, its level tells nothing."""
        self._heard_s = block.time_s
        ours = turns.speaking or block.time_s < turns.deaf_until_s
        self._kept += self._levels.feed(block, ours=ours)

    def heard_until_s(self, now_s: float) -> float:
        """Time up to which all was heard, which on a busy computer is before now: nobody is silent
        before that. Now, where no sound comes.
        """
        return now_s if self._heard_s is None else self._heard_s

    def keep(self, condition: Condition | None) -> None:
        """Take what has to be told as well, if there is anything."""
        if condition is not None:
            self._kept.append(condition)

    def due(self, turns: Turns, *, maker_speaks: bool) -> list[Condition]:
        """News to be told now, once: all that was kept, where nobody is interrupted by it."""
        if turns.speaking or maker_speaks:
            return []
        due, self._kept = self._kept, []
        return due
