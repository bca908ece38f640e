"""Tells how much is left of a known sound, and whether something heard is that sound alone.

A voice over the known sound is told by its level: it stands out from what is usually left.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

from voice.sound.movement import likeness
from voice.sound.path_filter import Floats
from voice.sound.ports import FULL_SCALE, Samples

REACH = 8_192
"""Samples by which a sound may be later at the microphone than where it is played."""


@dataclass(frozen=True, slots=True)
class RemainderSettings:
    """From trials with the program's own voice in computed rooms."""

    blocks: int = 100
    """Loud blocks of 32 ms that the gain is taken from."""
    least: int = 40
    """Loud blocks before the gain is told."""
    quantile: float = 0.25
    """Share of the blocks that may be worse: a maker who talks over it makes some worse."""
    loud: float = 0.3
    """Power of a loud block over the usual power."""
    smooth: float = 0.98
    margin_db: float = 9.0
    """Remainder of single blocks over the usual one, at most."""
    stands_out_db: float = 3.0
    """Power of an utterance over the usual remainder, from which there is a voice in it. The words
    of films 10 dB louder than a maker came to 2 dB at most, commands over them to 5.6 dB and more
    in nine of ten."""
    at_once_db: float = 9.0
    """The same for some half second of it: an utterance that goes on into what is left of a film
    has less as a whole. Of films 5 dB was left at most, and commands that had less than 3 dB as a
    whole came to 14 dB (`python -m tests.bench film`)."""
    at_once: int = 8_000
    """Samples of that half second."""
    apart: int = 800
    """Samples from one such place to the next."""
    short_db: float = 9.0
    """The same for bits that are `short`, whose power varies more: it came to 8.7 dB."""
    short: int = 4_800
    """Samples; shorter than a command is."""
    bit: int = 2_400
    """Samples; no word is shorter, only the beginning or the end of one."""
    bit_db: float = 15.0
    """The same for such bits. What was left of the last sound of its own speech, 0.06 s of it, came
    to 11 dB, and 0.1 s of a film 10 dB louder than a maker to 12.4 dB."""
    stops_db: float = 12.0
    """The same for the beginning of a sound, from which the program falls silent. What was left of
    its own voice on overdriven loudspeakers came to 9.1 dB, the beginnings of commands to 20 dB and
    more."""
    far_db: float = 18.0
    """The same where it was cut off for nothing before."""
    same: float = 14.0
    """Likeness from which a sound counts as the known one: the echo along paths that had changed
    had 32 in the middle; a maker over the echo, and what is left of it, at most 13."""


class Remainder:
    """Takes each block before and after; tells the gain and the level of what is left."""

    def __init__(self, settings: RemainderSettings | None = None) -> None:
        """Nothing was taken out yet."""
        self._settings = settings or RemainderSettings()
        self._gains_db: deque[float] = deque(maxlen=self._settings.blocks)
        self._echoes = deque([0.0, 0.0], maxlen=2)
        self._usual = 0.0
        self._gain_db = 0.0

    @property
    def gain_db(self) -> float:
        """Gain that most loud blocks have; 0 until there were enough of them."""
        return self._gain_db

    @property
    def level_db(self) -> float:
        """Level in dBFS above which the last block holds more than what is left."""
        usual_db = 10 * float(np.log10(self.power / FULL_SCALE**2 + 1e-12))
        return usual_db + self._settings.margin_db

    @property
    def power(self) -> float:
        """Power that is usually left of such a block, on the scale of samples."""
        return float(max(self._echoes) * 10 ** (-self._gain_db / 10))

    def block(self, microphone: Floats, left: Floats) -> None:
        """Take the next block in which something was taken out."""
        rules = self._settings
        echo = float(np.mean((microphone - left) ** 2))
        self._echoes.append(echo)
        self._usual = rules.smooth * self._usual + (1 - rules.smooth) * echo
        if echo < rules.loud * self._usual:
            return
        power, rest = float(np.mean(microphone**2)), float(np.mean(left**2))
        self._gains_db.append(10 * float(np.log10((power + 1) / (rest + 1))))
        if len(self._gains_db) >= rules.least:
            self._gain_db = max(float(np.quantile(self._gains_db, rules.quantile)), 0.0)

    def silence(self) -> None:
        """Take a block in which nothing was to be heard of the known sound."""
        self._echoes.append(0.0)


class Gain:
    """Attenuation of the last seconds in which something played (ERLE)."""

    def __init__(self) -> None:
        """Nothing played yet."""
        self._in = self._left = 0.0
        self._louder = False

    @property
    def db(self) -> float:
        """The gain, 0 or more."""
        return max(10 * float(np.log10((self._in + 1) / (self._left + 1))), 0.0)

    def safe(self, block: Samples, microphone: Floats, left: Floats) -> Samples:
        """The remainder; the block itself where the remainder is louder twice in a row."""
        power, left_power = float(np.mean(microphone**2)), float(np.mean(left**2))
        self._in, self._left = (
            0.98 * before + 0.02 * now
            for before, now in ((self._in, power), (self._left, left_power))
        )
        before, self._louder = self._louder, left_power > power
        if before and self._louder:
            return block
        return np.clip(np.rint(left), -32_768, 32_767).astype(np.int16)


class Lately:
    """The last seconds of what was left, beside the known sound."""

    def __init__(self, blocks: int = 480) -> None:
        """Keep so many blocks of 32 ms."""
        self._blocks: deque[tuple[Floats, Floats, Floats]] = deque(maxlen=blocks)
        self._rules = RemainderSettings()

    def add(self, left: Floats, known: Floats, power: float) -> None:
        """Take the next block, one channel of the known sound, and the power usually left of it."""
        self._blocks.append((left, known, np.full(len(left), power)))

    def is_left_over(self, began: int, ended: int) -> bool:
        """Whether the sound between two places, in samples before the end, is nowhere louder than
        what is usually left.
        """
        left, _, power = self._between(began, ended)
        rules = self._rules
        over_db = rules.short_db if len(left) < rules.short else rules.stands_out_db
        over_db = rules.bit_db if len(left) < rules.bit else over_db
        whole = float(np.sum(left**2)) <= 10 ** (over_db / 10) * float(power.sum())
        return float(power.sum()) > 0 and whole and not self._in_it_somewhere(left, power)

    def _in_it_somewhere(self, left: Floats, power: Floats) -> bool:
        """Whether some half second of a longer sound is louder than all that may be left."""
        rules = self._rules
        begins = np.arange(0, len(left) - rules.at_once + 1, rules.apart)
        sums = (np.append(0.0, np.cumsum(each)) for each in (left**2, power))
        heard, most = (each[begins + rules.at_once] - each[begins] for each in sums)
        return bool(np.any(heard > 10 ** (rules.at_once_db / 10) * most))

    def stands_out(self, began: int, ended: int, *, far: bool = False) -> bool:
        """Whether a sound of which only the beginning was heard, between two such places, is louder
        than all that may be left, and `far` louder.
        """
        left, _, power = self._between(began, ended)
        over_db = self._rules.far_db if far else self._rules.stops_db
        return float(np.sum(left**2)) > 10 ** (over_db / 10) * float(power.sum())

    def is_known(self, began: int, ended: int) -> bool:
        """Whether the sound between two such places follows the known one along any path."""
        left, known, _ = self._between(began, ended)
        return len(left) > 0 and likeness(left, known) >= self._rules.same

    def _between(self, began: int, ended: int) -> tuple[Floats, Floats, Floats]:
        """The remainder, the known sound from `REACH` samples earlier on, and the usual power."""
        if not self._blocks:
            return np.zeros(0), np.zeros(0), np.zeros(0)
        left, known, power = (np.concatenate(side) for side in zip(*self._blocks, strict=True))
        known = np.concatenate([np.zeros(REACH), known])
        begin, end = max(len(left) - began, 0), min(max(len(left) - ended, 0), len(left))
        return left[begin:end], known[begin : end + REACH], power[begin:end]
