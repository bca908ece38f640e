"""Reasons why the maker is not understood, told from what was measured and not guessed."""

from __future__ import annotations

from enum import Enum

import numpy as np

from voice.sound.ports import FULL_SCALE, RATE_HZ, Clipping, Samples, TooQuiet
from voice.sound.sound_watch import utterance_condition

CLEAR_DB = 18.0
"""A loudest moment this far over the quietest is clear of steady noise. Five tuning voices of the
bench gave 50 to 59 dB in a quiet room, 22 to 26 with white noise 20 dB under them, 13 to 17 with
noise 10 dB under them, where a third of their words is lost."""
_FRAME = RATE_HZ // 20


class Trouble(Enum):
    """A problem, and the sentence that says what to do."""

    EARLY = "You began before I had spoken. Wait until I am silent, then say it again."
    CLIPPING = (
        "You are too loud for the microphone. Go further from it, or turn it down, then say it"
        " again."
    )
    TOO_QUIET = "You are too quiet. Come closer to the microphone, then say it again."
    NOISE = (
        "It is too loud here. Come closer to the microphone, or make it quieter, then say it again."
    )
    TALK = "Others are talking. Come closer to the microphone, or wait for them, then say it again."
    NO_PHRASE = "I hear you well, but that is no phrase for now. Say help for what I understand."


def level_trouble(samples: Samples) -> Trouble | None:
    """Level problem of an utterance, cut out with a little silence around it."""
    match utterance_condition(samples):
        case Clipping():
            return Trouble.CLIPPING
        case TooQuiet():
            return Trouble.TOO_QUIET
    return Trouble.NOISE if clear_db(samples) < CLEAR_DB else None


def clear_db(samples: Samples) -> float:
    """How far the loudest twentieth of an utterance lies over its quietest tenth, in dB."""
    frames = samples[: len(samples) // _FRAME * _FRAME].reshape(-1, _FRAME).astype(np.float64)
    if not len(frames):
        return 0.0
    levels = 10 * np.log10(np.mean(frames**2, axis=1) / FULL_SCALE**2 + 1e-12)
    return float(np.percentile(levels, 95) - np.percentile(levels, 10))
