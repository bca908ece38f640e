"""An utterance to learn from."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]
from numpy.typing import NDArray

from voice.sound.ports import RATE_HZ, Samples

_PIECE_S = 5.0


@dataclass(frozen=True, slots=True)
class Said:
    """An utterance at 16 kHz, half of full scale at its loudest; its words where they are known."""

    samples: Samples
    words: str | None


def said(sound: NDArray[Any], rate_hz: int, words: str | None) -> Iterator[Said]:
    """The utterance without the silence around it, in pieces where its words are not known.

    Nothing where it is silent or shorter than a quarter of a second.
    """
    samples = soxr.resample(np.asarray(sound, np.float64), rate_hz, RATE_HZ)
    if not (loudest := np.abs(samples).max(initial=0.0)):
        return
    loud = np.flatnonzero(np.abs(samples) > 0.03 * loudest)
    samples = samples[max(0, loud[0] - 800) : loud[-1] + 800] * (16_000 / loudest)
    piece = int(_PIECE_S * RATE_HZ) if words is None else len(samples)
    for start in range(0, len(samples), piece):
        if len(part := samples[start : start + piece]) > 0.25 * RATE_HZ:
            yield Said(part.round().astype(np.int16), words)


def read(file: Path | io.BytesIO) -> tuple[NDArray[Any], int]:
    """The samples of a file of sound, and how many there are a second."""
    sound, rate_hz = soundfile.read(file)
    return sound, rate_hz
