"""Finds problems from the samples alone: no permission, too quiet, too loud, wrong source.

The limits are common practice, no source. Two seconds of exact zeros are how a computer behaves
that denies access to the microphone.
"""

import numpy as np

from voice.sound.ports import (
    FULL_SCALE,
    RATE_HZ,
    AllZeros,
    AudioBlock,
    Clipping,
    Condition,
    HearsLoudspeaker,
    Overflow,
    Samples,
    TooQuiet,
)

ZEROS_S = 2.0
QUIET_S = 10.0
QUIET_PEAK_DB = -66.0
"""Lowest peak of a microphone at a useful level. Even a silent room exceeds it, or, with noise
suppression, the first words do."""
UTTERANCE_QUIET_DB = -45.0
CLIPPED_SHARE = 0.002
SAME_SOUND = 0.97
"""Correlation above which two sounds are the same; a room and a real microphone change speech far
more than this."""
_REFERENCE_S, _LONGEST_DELAY_S = 1.0, 1.5


def peak_db(samples: Samples) -> float:
    """Return the highest peak in dBFS; -120 for exact silence."""
    peak = int(np.max(np.abs(samples.astype(np.int32)))) if len(samples) else 0
    return float(20 * np.log10(max(peak / FULL_SCALE, 1e-6)))


def clipped_share(samples: Samples) -> float:
    """Return the share of the samples at full scale, 0..1."""
    return float(np.mean(np.abs(samples.astype(np.int32)) >= FULL_SCALE - 1))


def utterance_condition(samples: Samples) -> TooQuiet | Clipping | None:
    """Return the level problem of an utterance, if any; meant for one that was not understood."""
    share = clipped_share(samples) if len(samples) else 0.0
    if share >= CLIPPED_SHARE:
        return Clipping(share)
    tenth_s = RATE_HZ // 10
    pieces = [samples[i : i + tenth_s] for i in range(0, len(samples), tenth_s)]
    power = max((float(np.mean(p.astype(np.float64) ** 2)) for p in pieces), default=0.0)
    level_db = 10 * float(np.log10(power / FULL_SCALE**2 + 1e-12))
    return TooQuiet(level_db) if level_db < UTTERANCE_QUIET_DB else None


class LevelWatch:
    """Follows the stream after the devices were opened, and reports each problem once."""

    def __init__(self) -> None:
        """Start with nothing heard and nothing reported."""
        self._zeros_s = self._quiet_s = 0.0
        self._any_sound = self._any_other = False
        self._loud: list[Samples] = []
        self._said: set[type] = set()

    def feed(self, block: AudioBlock, *, ours: bool = False) -> list[Condition]:
        """Take the next block; return new problems.

        With `ours`, the program itself may be heard in it, which says nothing about the maker's
        level.
        """
        self._any_sound |= bool(np.any(block.samples))
        self._zeros_s += block.duration_s
        dead = self._zeros_s >= ZEROS_S and not self._any_sound
        found = self._once(AllZeros(self._zeros_s), wrong=dead)
        return found if ours else [*found, *self._of_others(block)]

    def _of_others(self, block: AudioBlock) -> list[Condition]:
        """New level problems, from sound heard while the program is silent."""
        peak = peak_db(block.samples)
        self._any_other |= peak >= QUIET_PEAK_DB
        self._quiet_s += block.duration_s
        quiet = self._any_sound and not self._any_other and self._quiet_s >= QUIET_S
        return [
            *self._once(TooQuiet(peak), wrong=quiet),
            *self._once(Overflow(block.time_s), wrong=block.overflowed),
            *self._clipping(block),
        ]

    def _clipping(self, block: AudioBlock) -> list[Condition]:
        """New clipping, judged over whole seconds."""
        self._loud.append(block.samples)
        if sum(map(len, self._loud)) < block.rate_hz:
            return []
        share = clipped_share(np.concatenate(self._loud))
        self._loud.clear()
        return self._once(Clipping(share), wrong=share >= CLIPPED_SHARE)

    def _once(self, condition: Condition, *, wrong: bool) -> list[Condition]:
        if not wrong or type(condition) in self._said:
            return []
        self._said.add(type(condition))
        return [condition]


class SourceWatch:
    """Detects that the microphone input carries the program's own output.

    When a microphone is unplugged, some systems silently connect the stream to the loudspeaker's
    signal. Nothing fails, but the maker is never heard again.
    """

    def __init__(self) -> None:
        """Start with nothing played."""
        self._found = False
        self._reference: Samples | None = None
        self._heard: list[Samples] = []

    def played(self, samples: Samples) -> None:
        """Take sound that is about to be played; a sound that is too short proves nothing."""
        if not self._found and self._reference is None and len(samples) >= RATE_HZ // 2:
            self._reference = samples[: round(_REFERENCE_S * RATE_HZ)]
            self._heard = []

    def feed(self, block: AudioBlock) -> list[Condition]:
        """Take sound that was heard; return the finding once, when there is enough sound."""
        if self._reference is None:
            return []
        self._heard.append(block.samples)
        wanted = len(self._reference) + round(_LONGEST_DELAY_S * RATE_HZ)
        if sum(map(len, self._heard)) < wanted:
            return []
        same = likeness(self._reference, np.concatenate(self._heard))
        self._reference = None
        self._found = same >= SAME_SOUND
        return [HearsLoudspeaker(same)] if self._found else []


def likeness(played: Samples, heard: Samples) -> float:
    """Return the highest correlation, 0..1, of `played` with any part of `heard` of that length."""
    size = len(played)
    length = 1 << (len(heard) + size).bit_length()
    spectrum = np.fft.rfft(heard, length) * np.conj(np.fft.rfft(played, length))
    products = np.abs(np.fft.irfft(spectrum, length)[: len(heard) - size + 1])
    running = np.concatenate([[0.0], np.cumsum(heard.astype(np.float64) ** 2)])
    energy = (running[size:] - running[:-size]) * np.sum(played.astype(np.float64) ** 2)
    # Windows a thousandth as loud as the loudest one are rounding noise.
    loud = energy > 1e-6 * max(float(np.max(energy)), 1.0)
    return float(np.max(products[loud] / np.sqrt(energy[loud]), initial=0.0))
