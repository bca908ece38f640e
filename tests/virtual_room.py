"""A virtual room in which the microphone hears the virtual loudspeaker along a computed path."""

from __future__ import annotations

import os
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np

from tests.known_sound import Floats, samples
from tests.virtual_audio import RATE_HZ, VirtualAudio

_RAW = ("--raw", "--format=s16le", f"--rate={RATE_HZ}", "--channels=1", "--latency-msec=200")
_BLOCK = RATE_HZ // 50


@contextmanager
def echoing(card: VirtualAudio, path: Floats, sink: str = "loudspeaker") -> Iterator[None]:
    """The room hears all that a loudspeaker plays, a moment later and along the path."""
    variables = {**os.environ, **card.variables}
    with (
        subprocess.Popen(
            ["parec", "-d", f"{sink}.monitor", *_RAW], stdout=subprocess.PIPE, env=variables
        ) as ear,
        subprocess.Popen(
            ["pacat", "--playback", "-d", "room", *_RAW],
            stdin=subprocess.PIPE,
            bufsize=0,
            env=variables,
        ) as mouth,
    ):
        carries = threading.Thread(target=_carry, args=(ear, mouth, path), daemon=True)
        carries.start()
        try:
            yield
        finally:
            for each in (ear, mouth):
                each.kill()
            carries.join()


def _carry(ear: subprocess.Popen[bytes], mouth: subprocess.Popen[bytes], path: Floats) -> None:
    """Pass the sound on, block by block, until one of the two ends."""
    assert ear.stdout is not None
    assert mouth.stdin is not None
    played = np.zeros(len(path) + _BLOCK)
    size = 1 << (2 * len(path) + _BLOCK).bit_length()
    spectrum = np.fft.rfft(path, size)
    while len(block := ear.stdout.read(2 * _BLOCK)) == 2 * _BLOCK:
        played = np.concatenate([played[_BLOCK:], np.frombuffer(block, np.int16)])
        heard = np.fft.irfft(np.fft.rfft(played, size) * spectrum, size)
        try:
            mouth.stdin.write(samples(heard[len(path) : len(path) + _BLOCK]).tobytes())
        except BrokenPipeError:
            return
