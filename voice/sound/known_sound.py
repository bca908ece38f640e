"""A source of sound with the known sound of a loudspeaker taken out of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from voice.sound.canceller import Canceller
from voice.sound.canceller_settings import CancellerSettings
from voice.sound.ports import RATE_HZ, AudioBlock, AudioSource, Condition, DeviceBack

TAKES_DB, LOST_DB = 8.0, 3.0
"""Gain with which the known sound counts as taken out, and below which it does no more."""
LOST_S = 20.0
"""Length of sound that plays and is not taken out, before that is told; by judgement."""
PLAYS = 50.0
"""Root mean square of a known sound that can be heard, in sample values; by judgement."""


@dataclass(frozen=True, slots=True)
class NotTakenOut:
    """Something plays that was taken out before, and is no more."""

    sentence: str = field(
        default="I can't take out what is playing any more; turn it down when you speak to me.",
        init=False,
    )


class Played(NamedTuple):
    """All of the known sound that came since the last look."""

    frames: NDArray[np.float32]
    """Of shape (channels, samples), at `RATE_HZ` and on the scale of samples."""
    until_s: float
    """Time of its last sample, by the clock of the blocks."""
    run: int
    """Number that changes where the sound before and after do not belong together."""


class KnownSound(Protocol):
    """A sound that also reaches the microphone."""

    def take(self) -> Played | None:
        """Return all that came since the last call; None while the sound is not to be had."""


class WithoutKnown:
    """An `AudioSource` that gives another one's sound without the known sound."""

    def __init__(
        self,
        source: AudioSource,
        known: KnownSound,
        settings: CancellerSettings | None = None,
        *,
        tells: bool = True,
    ) -> None:
        """Borrow both; learning begins with the first block.

        It `tells` when the known sound is not taken out any more.
        """
        self._source, self._known, self._settings = source, known, settings
        self._tells, self._until_s = tells, 0.0
        self._canceller: Canceller | None = None
        self._run, self._begins = 0, True
        self._overflowed = False
        self._watch = _GainWatch()

    @property
    def _at_work(self) -> Canceller | None:
        """The canceller, unless the known sound is not to be had now."""
        return None if self._begins else self._canceller

    @property
    def gain_db(self) -> float:
        """Attenuation of the last seconds in which something played; see `Canceller`."""
        return 0.0 if self._at_work is None else self._at_work.gain_db

    @property
    def steady_gain_db(self) -> float:
        """Gain of most loud moments; see `Canceller`. 0 until there were enough of them."""
        return 0.0 if self._at_work is None else self._at_work.steady_gain_db

    @property
    def delay_s(self) -> float:
        """Delay of the known sound at the microphone, as it was seen last; 0 before."""
        return 0.0 if self._at_work is None else self._at_work.delay_s

    def is_left_over(self, began_s: float, ended_s: float) -> bool:
        """Whether what was heard between two times, by the clock of the blocks, is no louder than
        what is usually left of the known sound.
        """
        places = self._places(began_s, ended_s)
        return self._at_work is not None and self._at_work.lately.is_left_over(*places)

    def is_known(self, began_s: float, ended_s: float) -> bool:
        """Whether what was heard between two times follows the known sound along any path."""
        places = self._places(began_s, ended_s)
        return self._at_work is not None and self._at_work.lately.is_known(*places)

    def stands_out(self, began_s: float, spoke_s: float, *, far: bool = False) -> bool:
        """Whether a sound that goes on, heard from its beginning, is surely not what is left of the
        known sound, and `far` from it.
        """
        places = self._places(began_s, spoke_s)
        return self._at_work is None or self._at_work.lately.stands_out(*places, far=far)

    def _places(self, began_s: float, ended_s: float) -> tuple[int, int]:
        """The times in samples before the last one given out."""
        began, ended = (round((self._until_s - at_s) * RATE_HZ) for at_s in (began_s, ended_s))
        return began, ended

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        """Return the next block or condition; None if no whole block came in time."""
        if self._tells and self._watch.lost():
            return NotTakenOut()
        item = self._source.read(timeout_s)
        if not isinstance(item, AudioBlock):
            if isinstance(item, DeviceBack):  # what comes next begins at another moment
                self._break_off()
            return item
        played, rest = self._known.take(), np.zeros(0, np.int16)
        if item.overflowed or self._apart(played):
            rest = self._break_off()
        if played is None:
            return self._given(item, np.concatenate([rest, item.samples]))
        frames = played.frames
        if self._begins:
            frames, self._run, self._begins = _beside(item, played), played.run, False
        if self._canceller is None or self._canceller.channels != len(frames):
            self._canceller = Canceller(len(frames), self._settings)
        left = self._canceller.feed(item.samples, frames)
        self._watch.block(played.frames, self._canceller.gain_db)
        return self._given(item, np.concatenate([rest, left]), self._canceller.waiting)

    def _break_off(self) -> NDArray[np.int16]:
        """Sound was lost, or a device was away: both sounds begin anew with the next block, and the
        canceller finds by itself where what it has learnt belongs. Return what it still had.
        """
        if self._begins or self._canceller is None:
            return np.zeros(0, np.int16)
        self._begins = True
        return self._canceller.break_off()

    def _apart(self, played: Played | None) -> bool:
        """Whether what has come of the known sound does not belong to what came before."""
        if played is None or played.run != self._run:
            return True
        late = self._canceller is not None and self._canceller.lost
        return late and played.frames.shape[1] > 0

    def _given(
        self, item: AudioBlock, left: NDArray[np.int16], waiting: int = 0
    ) -> AudioBlock | None:
        """The block of what is left; it ends before `item` by what is still waiting."""
        self._overflowed |= item.overflowed
        if not len(left):
            return None
        overflowed, self._overflowed = self._overflowed, False
        self._until_s = item.time_s - waiting / RATE_HZ
        left_db = -math.inf if self._at_work is None else self._at_work.left_db
        return AudioBlock(left, RATE_HZ, overflowed, self._until_s, left_db)


def _beside(item: AudioBlock, played: Played) -> NDArray[np.float32]:
    """The known sound from the moment on at which a block began; silence where it came later."""
    wanted = len(item.samples) + max(round((played.until_s - item.time_s) * RATE_HZ), 0)
    frames = played.frames[:, max(played.frames.shape[1] - wanted, 0) :]
    return np.pad(frames, ((0, 0), (wanted - frames.shape[1], 0)))


class _GainWatch:
    """Notices once that a known sound which was taken out is taken out no more."""

    def __init__(self) -> None:
        self._took_out = self._told = False
        self._lost_s = 0.0

    def block(self, frames: NDArray[np.float32], gain_db: float) -> None:
        """Take the known sound of a block, and the gain after it."""
        self._took_out |= gain_db >= TAKES_DB
        if gain_db >= LOST_DB:
            self._lost_s = 0.0
        elif frames.size and float(np.sqrt(np.mean(frames**2))) >= PLAYS:
            self._lost_s += frames.shape[1] / RATE_HZ

    def lost(self) -> bool:
        """Whether that is to be told now; at most once."""
        if self._told or not self._took_out or self._lost_s < LOST_S:
            return False
        self._told = True
        return True
