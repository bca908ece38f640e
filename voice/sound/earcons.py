"""Four short sounds of our own, made of sine tones, that stand for a word or two."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples


@dataclass(frozen=True, slots=True)
class Tone:
    """One soft note of an earcon."""

    start_ms: int
    length_ms: int
    pitch_hz: float


@dataclass(frozen=True, slots=True)
class EarconEntry:
    """The meaning of an earcon, and its notes."""

    words: str
    """Words said instead of it, or after it, if the maker chose words."""
    tones: tuple[Tone, ...]


class Earcon(Enum):
    """The earcons. Rising is good, falling is not, and three equal notes ask for something.

    One low note stands for words that could not be spoken.
    """

    HEARD = EarconEntry("Heard.", (Tone(0, 90, 523.25), Tone(70, 100, 783.99)))
    NOT_CAUGHT = EarconEntry("I did not catch that.", (Tone(0, 100, 440.0), Tone(80, 120, 311.13)))
    READING_WANTED = EarconEntry(
        "A reading is wanted.", (Tone(0, 56, 659.26), Tone(66, 56, 659.26), Tone(132, 56, 659.26))
    )
    UNSPOKEN = EarconEntry("I cannot speak now.", (Tone(0, 180, 261.63),))

    @property
    def words(self) -> str:
        """Its meaning, as a sentence."""
        return self.value.words

    def samples(self, level_db: float = -18.0) -> Samples:
        """Return the sound at `RATE_HZ`, with its highest peak at `level_db` dBFS."""
        last = self.value.tones[-1]
        sound = np.zeros((last.start_ms + last.length_ms) * RATE_HZ // 1000)
        for tone in self.value.tones:
            start = tone.start_ms * RATE_HZ // 1000
            wave = _note(tone)
            sound[start : start + len(wave)] += wave
        peak = FULL_SCALE * 10 ** (level_db / 20)
        scaled: Samples = np.round(sound * peak / np.max(np.abs(sound))).astype(np.int16)
        return scaled


def _note(tone: Tone) -> NDArray[np.float64]:
    """Return a sine with a raised-cosine envelope, so that neither end clicks."""
    count = tone.length_ms * RATE_HZ // 1000
    arch = 0.5 - 0.5 * np.cos(2 * np.pi * np.arange(count) / count)
    return np.asarray(arch * np.sin(2 * np.pi * tone.pitch_hz * np.arange(count) / RATE_HZ))
