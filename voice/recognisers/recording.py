"""Sound as the recognisers want it: from a file, or from samples of another rate."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]
from numpy.typing import NDArray

from pattern.errors import RoundsAloudError
from voice.ports import RATE_HZ, Samples


class NotARecording(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A file that holds no sound we can read."""

    def __init__(self, path: Path, reason: str) -> None:
        """Give the reason in words that follow a colon."""
        super().__init__(f"{path} cannot be heard: {reason}. Give a WAV file.")
        self.path = path
        self.reason = reason


class BadRate(ValueError):  # noqa: N818
    """A sampling rate that speech cannot have."""

    def __init__(self, rate_hz: float) -> None:
        """Name the rate."""
        super().__init__(f"A rate of {rate_hz:g} Hz is no rate of speech; give 4000 to 384000.")
        self.rate_hz = rate_hz


def read_recording(path: Path) -> Samples:
    """The sound of a file as int16 at 16 kHz, channels averaged; any rate and sample format.

    Raises: NotARecording for a file that is missing, empty, cut short or no sound.
    """
    try:
        samples, rate_hz = soundfile.read(path, dtype="float32", always_2d=True)
    except (soundfile.LibsndfileError, OSError) as error:
        raise NotARecording(path, _reason(path, error)) from error
    if not len(samples):
        raise NotARecording(path, "it is empty")
    if not np.isfinite(samples).all():
        raise NotARecording(path, "it holds values that are no numbers")
    try:
        return at_16_khz(samples.mean(axis=1), rate_hz)
    except BadRate as error:
        raise NotARecording(path, str(error)) from error


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


def _reason(path: Path, error: Exception) -> str:
    if not path.exists():
        return "there is no such file"
    return "it is a folder" if path.is_dir() else f"it is no sound ({error})"


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
