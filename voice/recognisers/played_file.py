"""Takes out of a recording what was playing meanwhile, as another file holds it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import soxr  # type: ignore[import-untyped]
from numpy.typing import NDArray

from pattern.errors import RoundsAloudError
from voice.recognisers.recording import (
    NotARecording,
    frames_of,
    kept_channel,
    opened_sound,
    recorded,
)
from voice.sound.canceller import Canceller
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples

MOST_CHANNELS = 2
MOST_APART_S = 1.0
"""Difference in length up to which two files may have begun and ended together."""
AHEAD = RATE_HZ
"""Samples of what plays that are read ahead of the recording."""


class NotPlayedMeanwhile(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """Two files that cannot be of the same moments."""

    def __init__(self, recording: Path, recording_s: float, played: Path, played_s: float) -> None:
        """Give both files with their lengths."""
        super().__init__(
            f"{played} lasts {played_s:.1f} s and {recording} {recording_s:.1f} s: give two files"
            " that begin and end together."
        )


def without(recording: Path, played: Path) -> Iterator[Samples]:
    """The recording in blocks, as `recorded` gives it, without the sound that was playing.

    Raises: NotARecording for either file; NotPlayedMeanwhile for lengths that differ by more than
    a second; before anything of it is given out.
    """
    channels, played_s = _shape(played)
    with opened_sound(recording) as sound:
        recording_s = sound.frames / sound.samplerate
    if abs(played_s - recording_s) > MOST_APART_S:
        raise NotPlayedMeanwhile(recording, recording_s, played, played_s)
    canceller, known = Canceller(channels), played_sound(played)
    ahead = -AHEAD
    for block in recorded(recording):
        ahead -= len(block)
        parts = [np.zeros((channels, 0), np.float32)]
        while ahead < 0 and (part := next(known, None)) is not None:
            parts.append(part)
            ahead += part.shape[1]
        yield canceller.feed(block, np.concatenate(parts, axis=1))
    yield canceller.finish()


def _shape(path: Path) -> tuple[int, float]:
    """Channels and length in seconds of what was played. Raises: NotARecording."""
    with opened_sound(path) as sound:
        kept_channel(path, sound)  # it reads the whole file, and refuses what is no sound
        if sound.channels > MOST_CHANNELS:
            why = f"it has {sound.channels} channels, and one or two can be played"
            raise NotARecording(path, why)
        return sound.channels, sound.frames / sound.samplerate


def read_played(path: Path, most_s: float) -> NDArray[np.float32]:
    """The channels of a file, as `played_sound` gives them; sound after `most_s` is left out.

    Raises: NotARecording, also for more than two channels.
    """
    _shape(path)
    parts, found = [], 0
    for part in played_sound(path):
        parts.append(part)
        found += part.shape[1]
        if found >= most_s * RATE_HZ:
            break
    return np.concatenate(parts, axis=1)[:, : int(most_s * RATE_HZ)]


def played_sound(path: Path) -> Iterator[NDArray[np.float32]]:
    """The channels of a file in blocks of shape (channels, samples) at 16 kHz, on the sample scale.

    Raises: NotARecording.
    """
    with opened_sound(path) as sound:
        change = soxr.ResampleStream(sound.samplerate, RATE_HZ, sound.channels, dtype="float32")
        for block in frames_of(sound):
            yield change.resample_chunk(block).T * FULL_SCALE
        rest = np.zeros((0, sound.channels), np.float32)
        yield change.resample_chunk(rest, last=True).T * FULL_SCALE
