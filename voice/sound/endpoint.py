"""Detects utterances: takes sound block by block, and returns whole utterances."""

import math
from collections import deque
from dataclasses import dataclass

import numpy as np

from voice.sound.energy_vad import EnergyJudge
from voice.sound.ports import RATE_HZ, Samples


@dataclass(frozen=True, slots=True)
class EndpointSettings:
    """Settings for detecting utterances, from trials with spoken commands."""

    hang_s: float = 0.3
    """Pause that ends an utterance; the gaps inside "sixty-six" are shorter."""
    hang_in_talk_s: float = 0.45
    """Pause that ends an utterance while others talk, whose talk hides weak sounds at word ends."""
    onset_s: float = 0.06
    """Speech needed to begin an utterance; the tap of a hook on a table is shorter."""
    onset_window_s: float = 0.12
    pre_roll_s: float = 0.25
    """Sound kept from before the beginning, for weak consonants."""
    longest_s: float = 12.0


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """One utterance with its sound; times count from the first sample ever fed."""

    start_s: float
    """Time at which speech began."""
    end_s: float
    """Time at which speech ended; the pause after it is in `samples`, but not counted here."""
    cut_s: float
    """Time at which `samples` ends, not counting a partial frame at the end of the stream."""
    samples: Samples
    """Sound with the pre-roll before `start_s` and the pause after `end_s`."""
    amid_talk: bool = False
    """True if others were talking, so that their talk is in it too."""
    waited: bool = False
    """True if it was returned before as unfinished, and nothing followed."""


class Endpointer:
    """Gathers frames into utterances; the results do not depend on the sizes of the blocks."""

    def __init__(
        self, judge: EnergyJudge | None = None, settings: EndpointSettings | None = None
    ) -> None:
        """The defaults are the usual judge and settings."""
        self._judge = judge or EnergyJudge()
        self._settings = settings or EndpointSettings()
        self._frame_s = self._judge.frame_samples / RATE_HZ
        window = self._frames(self._settings.onset_window_s)
        self._window: deque[bool] = deque(maxlen=window)
        self._pre_roll: deque[Samples] = deque(
            maxlen=window + self._frames(self._settings.pre_roll_s)
        )
        self._tail = np.zeros(0, np.int16)
        self._seen = 0
        self._open: list[Samples] = []
        self._begun: list[Samples] = []
        self._follow_s = 0.0
        self._first_speech = self._last_speech = 0

    @property
    def fed_s(self) -> float:
        """Length in seconds of all whole frames fed so far."""
        return self._seen * self._frame_s

    @property
    def open_s(self) -> tuple[float, float] | None:
        """Times of the first and last speech of the open utterance; None if none is open."""
        if not self.in_speech:
            return None
        return self._first_speech * self._frame_s, self._last_speech * self._frame_s

    @property
    def in_speech(self) -> bool:
        """Whether an utterance is open."""
        return bool(self._open)

    @property
    def waiting(self) -> bool:
        """Whether an utterance is open, or unfinished so that it may continue."""
        return self.in_speech or bool(self._begun)

    @property
    def begun_s(self) -> float:
        """Time of the first speech of that utterance; infinity if there is none."""
        return self._first_speech * self._frame_s if self.waiting else math.inf

    def feed(self, samples: Samples, left_db: float = -math.inf) -> list[Segment]:
        """Take any number of samples at `RATE_HZ`; return the utterances that ended in them.

        Only what is louder than `left_db`, in dBFS, can be speech.
        """
        stream = np.concatenate([self._tail, samples])
        size = self._judge.frame_samples
        whole = len(stream) // size * size
        self._tail = stream[whole:]
        found = [self._take(frame, left_db) for frame in stream[:whole].reshape(-1, size)]
        return [segment for segment in found if segment]

    def finish(self) -> list[Segment]:
        """End the stream; return the open or unfinished utterance, if any."""
        waited = not self.in_speech
        self._open = self._open or self._begun
        if not self._open:
            return []
        self._open.append(self._tail)
        self._tail = self._tail[:0]
        return [self._cut(waited=waited)]

    def forget(self) -> None:
        """Drop an open utterance and the pre-roll, after the program itself has spoken.

        The open utterance was its own echo, not the talk of others.
        """
        self._judge.no_others(len(self._open))
        self._close()

    def no_others(self, segment: Segment) -> None:
        """Note that the last segment was a phrase of the maker or the program's echo."""
        self._judge.no_others(len(segment.samples) // self._judge.frame_samples)

    def go_on(self, segment: Segment, follow_s: float) -> None:
        """Note that the last segment is unfinished, so that the next speech belongs to it.

        It is returned again together with that speech, or `follow_s` after its own last speech,
        with whatever sounds then.
        """
        self._follow_s = follow_s
        size = self._judge.frame_samples
        whole = len(segment.samples) // size * size  # less than all if the stream had ended
        frames = list(segment.samples[:whole].reshape(-1, size))
        self._tail = np.concatenate([segment.samples[whole:], self._tail])
        if self.in_speech:
            self._open = frames + self._open
            self._first_speech = round(segment.start_s / self._frame_s)
        else:
            self._begun = frames + list(self._pre_roll)

    def _take(self, frame: Samples, left_db: float) -> Segment | None:
        speech = self._judge.is_speech(frame, left_db)
        self._seen += 1
        if not self.in_speech:
            return self._wait(frame, speech=speech)
        self._open.append(frame)
        if speech:
            self._last_speech = self._seen
        talk, settings = self._judge.amid_talk, self._settings
        hang_s = settings.hang_in_talk_s if talk else settings.hang_s
        if self._seen - self._last_speech >= self._frames(hang_s):
            return self._cut()
        if len(self._open) >= self._frames(self._settings.longest_s):
            return self._cut()
        return None

    def _wait(self, frame: Samples, *, speech: bool) -> Segment | None:
        self._window.append(speech)
        self._pre_roll.append(frame)
        if self._begun:
            self._begun.append(frame)
        if sum(self._window) >= self._frames(self._settings.onset_s):
            self._open = self._begun or list(self._pre_roll)
            if not self._begun:
                self._first_speech = self._seen - len(self._window) + self._window.index(True)
            self._last_speech = self._seen
            self._begun = []
        elif self._begun and (self._seen - self._last_speech >= self._frames(self._follow_s)):
            self._open = self._begun
            return self._cut(waited=True)
        return None

    def _cut(self, *, waited: bool = False) -> Segment:
        segment = Segment(
            start_s=self._first_speech * self._frame_s,
            end_s=self._last_speech * self._frame_s,
            cut_s=self.fed_s,
            samples=np.concatenate(self._open),
            amid_talk=self._judge.amid_talk,
            waited=waited,
        )
        self._close()
        return segment

    def _close(self) -> None:
        self._open, self._begun = [], []
        self._window.clear()
        self._pre_roll.clear()

    def _frames(self, length_s: float) -> int:
        return max(1, round(length_s / self._frame_s))
