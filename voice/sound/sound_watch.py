"""What can be told from the samples alone: no permission, too quiet, too loud, wrong source.

The limits are starting values from common practice, no source; only the two seconds of exact zeros
are how a computer behaves that denies the microphone.
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
"""A microphone at any useful level shows more than this in a silent room, and, where it suppresses
noise, once something was said."""
UTTERANCE_QUIET_DB = -45.0
CLIPPED_SHARE = 0.002
SAME_SOUND = 0.97
"""Through a room and a real microphone speech comes back changed far more than this."""
_REFERENCE_S, _LONGEST_DELAY_S = 1.0, 1.5


def peak_db(samples: Samples) -> float:
    """Return the highest peak in dB below full scale; -120 for exact silence."""
    peak = int(np.max(np.abs(samples.astype(np.int32)))) if len(samples) else 0
    return float(20 * np.log10(max(peak / FULL_SCALE, 1e-6)))


def clipped_share(samples: Samples) -> float:
    """Return the part of the samples that sit at full scale, 0..1."""
    return float(np.mean(np.abs(samples.astype(np.int32)) >= FULL_SCALE - 1))


def utterance_condition(samples: Samples) -> TooQuiet | Clipping | None:
    """Say what is wrong with the level of one utterance; ask when it was not understood."""
    share = clipped_share(samples) if len(samples) else 0.0
    if share >= CLIPPED_SHARE:
        return Clipping(share)
    tenth_s = RATE_HZ // 10
    pieces = [samples[i : i + tenth_s] for i in range(0, len(samples), tenth_s)]
    power = max((float(np.mean(p.astype(np.float64) ** 2)) for p in pieces), default=0.0)
    level_db = 10 * float(np.log10(power / FULL_SCALE**2 + 1e-12))
    return TooQuiet(level_db) if level_db < UTTERANCE_QUIET_DB else None


class LevelWatch:
    """Follows the stream from one opening of the devices on, and says each wrong thing once."""

    def __init__(self) -> None:
        """Start with nothing heard and nothing said."""
        self._zeros_s = self._quiet_s = 0.0
        self._any_sound = self._any_other = False
        self._loud: list[Samples] = []
        self._said: set[type] = set()

    def feed(self, block: AudioBlock, *, ours: bool = False) -> list[Condition]:
        """Take the next block; return what is newly wrong.

        With `ours` the program itself may be heard in it, which tells nothing of the maker's level.
        """
        self._any_sound |= bool(np.any(block.samples))
        self._zeros_s += block.duration_s
        dead = self._zeros_s >= ZEROS_S and not self._any_sound
        found = self._once(dead, AllZeros(self._zeros_s))
        return found if ours else [*found, *self._of_others(block)]

    def _of_others(self, block: AudioBlock) -> list[Condition]:
        """What is wrong with the level of what is heard while the program is silent."""
        peak = peak_db(block.samples)
        self._any_other |= peak >= QUIET_PEAK_DB
        self._quiet_s += block.duration_s
        quiet = self._any_sound and not self._any_other and self._quiet_s >= QUIET_S
        return [
            *self._once(quiet, TooQuiet(peak)),
            *self._once(block.overflowed, Overflow(block.time_s)),
            *self._clipping(block),
        ]

    def _clipping(self, block: AudioBlock) -> list[Condition]:
        """Judge clipping over whole seconds."""
        self._loud.append(block.samples)
        if sum(map(len, self._loud)) < block.rate_hz:
            return []
        share = clipped_share(np.concatenate(self._loud))
        self._loud.clear()
        return self._once(share >= CLIPPED_SHARE, Clipping(share))

    def _once(self, wrong: bool, condition: Condition) -> list[Condition]:
        if not wrong or type(condition) in self._said:
            return []
        self._said.add(type(condition))
        return [condition]


class SourceWatch:
    """Notices that the microphone line carries the program's own output.

    When a microphone is unplugged some systems silently move the stream to what the loudspeaker
    plays; nothing fails, and the maker is never heard again.
    """

    def __init__(self) -> None:
        """Start unarmed."""
        self._found = False
        self._reference: Samples | None = None
        self._heard: list[Samples] = []

    def played(self, samples: Samples) -> None:
        """Take what is about to be played; too short a sound proves nothing."""
        if not self._found and self._reference is None and len(samples) >= RATE_HZ // 2:
            self._reference = samples[: round(_REFERENCE_S * RATE_HZ)]
            self._heard = []

    def feed(self, block: AudioBlock) -> list[Condition]:
        """Take what was heard; return the finding, once, when there is enough of it."""
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
    """Return the highest correlation, 0..1, of `played` with any equally long part of `heard`."""
    size = len(played)
    length = 1 << (len(heard) + size).bit_length()
    spectrum = np.fft.rfft(heard, length) * np.conj(np.fft.rfft(played, length))
    products = np.abs(np.fft.irfft(spectrum, length)[: len(heard) - size + 1])
    running = np.concatenate([[0.0], np.cumsum(heard.astype(np.float64) ** 2)])
    energy = (running[size:] - running[:-size]) * np.sum(played.astype(np.float64) ** 2)
    # Windows a thousandth as loud as the loudest are rounding noise.
    loud = energy > 1e-6 * max(float(np.max(energy)), 1.0)
    return float(np.max(products[loud] / np.sqrt(energy[loud]), initial=0.0))
