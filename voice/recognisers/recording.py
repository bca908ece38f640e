"""Sound as the recognisers want it: from a file, or from samples of another rate."""

from __future__ import annotations

import struct
from io import BytesIO
from pathlib import Path

import numpy as np
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]
from numpy.typing import NDArray

from pattern.errors import RoundsAloudError
from voice.ports import RATE_HZ, Samples

_CANCELLED = 0.01
"""So little power left in the average of the channels, and they are one sound turned over."""
_LARGEST = 1e30
"""Full scale is 1, or 32768 where a writer forgot to divide; such a number is no sound."""
_STREAMED_BYTES = 0x7FFF0000
"""Whoever writes to a pipe cannot know the length, and writes one from here on: from memory."""


class NotARecording(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A file that holds no sound we can read."""

    def __init__(self, path: Path, reason: str) -> None:
        """Give the reason in words that follow a colon."""
        super().__init__(f"{path} cannot be heard: {reason}. Give a whole WAV file.")
        self.path = path
        self.reason = reason


class BadRate(ValueError):  # noqa: N818
    """A sampling rate that speech cannot have."""

    def __init__(self, rate_hz: float) -> None:
        """Name the rate."""
        super().__init__(f"A rate of {rate_hz:.0f} Hz is no rate of speech; give 4000 to 384000.")
        self.rate_hz = rate_hz


def read_recording(path: Path) -> Samples:
    """The sound of a file as int16 at 16 kHz, channels averaged; any rate and sample format.

    Raises: NotARecording for a file that is missing, empty, no sound, or a WAV that is cut short.
    """
    try:
        data = path.read_bytes()
        samples, rate_hz = soundfile.read(BytesIO(data), dtype="float32", always_2d=True)
    except OSError as error:
        raise NotARecording(path, _reason(path, error)) from error
    except soundfile.LibsndfileError as error:
        raise NotARecording(path, f"it is no sound ({error.error_string.rstrip('.')})") from error
    if _cut_short(data):
        raise NotARecording(path, "its end is missing")
    if not len(samples):
        raise NotARecording(path, "it is empty")
    if not np.abs(samples).max() < _LARGEST:
        raise NotARecording(path, "it holds values that are no sound")
    try:
        return at_16_khz(_one_channel(samples), rate_hz)
    except BadRate as error:
        raise NotARecording(path, f"{rate_hz} Hz is no rate of speech") from error


def _cut_short(data: bytes) -> bool:
    """Whether a WAV file holds less sound than it says; the others are not looked at.

    Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991):
    chunks of an id, a size of four bytes, and what they hold, padded to even.
    """
    at = 12
    while data[:4] == b"RIFF" and at + 8 <= len(data):
        chunk, size = struct.unpack_from("<4sI", data, at)
        if chunk == b"data":
            return bool(size < _STREAMED_BYTES and at + 8 + size > len(data))
        at += 8 + size + size % 2
    return False


def _one_channel(samples: NDArray[np.float32]) -> NDArray[np.float32]:
    """The channels averaged; the loudest where one undoes another."""
    average: NDArray[np.float32] = samples.mean(axis=1)
    powers = np.square(samples, dtype=np.float64).mean(axis=0)
    loudest: NDArray[np.float32] = samples[:, int(powers.argmax())]
    lost = np.square(average, dtype=np.float64).mean() < _CANCELLED * powers.max()
    return loudest if lost else average


def recordings_in(place: Path) -> tuple[Path, ...]:
    """The file itself, or the WAV files of a folder by name.

    Raises: NotARecording for a folder without any, or where nothing is.
    """
    if place.is_dir():
        found = tuple(sorted(file for file in place.iterdir() if file.suffix.lower() == ".wav"))
        if not found:
            raise NotARecording(place, "there is no .wav file in this folder")
        return found
    if not place.exists():
        raise NotARecording(place, "there is no such file")
    return (place,)


def _reason(path: Path, error: OSError) -> str:
    if not path.exists():
        return "there is no such file"
    return "it is a folder" if path.is_dir() else f"it cannot be read ({error.strerror})"


def at_16_khz(samples: NDArray[np.int16] | NDArray[np.float32], rate_hz: int) -> Samples:
    """Mono samples of any rate as int16 at 16 kHz; float samples span -1 to 1.

    Raises: BadRate outside 4000 to 384000.
    """
    if not 4000 <= rate_hz <= 384_000:
        raise BadRate(rate_hz)
    if samples.dtype == np.int16 and rate_hz == RATE_HZ:
        return samples.astype(np.int16, copy=False)
    scale = 1.0 if samples.dtype == np.int16 else 32_768.0
    wanted = soxr.resample(samples.astype(np.float32) * scale, rate_hz, RATE_HZ)
    found: Samples = np.clip(np.rint(wanted), -32_768, 32_767).astype(np.int16)
    return found
