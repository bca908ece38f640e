"""Noise to play, waiting for what comes of it, and an ear at the virtual loudspeaker."""

import os
import subprocess
import threading
import time
from collections.abc import Callable
from typing import NamedTuple, Self

import numpy as np
import pytest
from numpy.typing import NDArray

from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sound.card import Sound
from voice.sound.ports import RATE_HZ, AudioBlock, Condition, Samples
from voice.sound.sound_settings import SoundSettings
from voice.words.grammar import Grammar


def noise(length_s: float, level: float = 3000.0, seed: int = 0) -> Samples:
    """Noise without a zero at either end, so that its place can be found."""
    sound = np.random.default_rng(seed).normal(size=round(length_s * RATE_HZ)) * level
    sound[[0, -1]] = level
    clipped: Samples = np.clip(sound, -32768, 32767).astype(np.int16)
    return clipped


def pink(length: int, level: float, seed: int = 1) -> NDArray[np.float64]:
    """Noise with equal power in every octave and the given root mean square."""
    rng = np.random.default_rng(seed)
    lines = rng.normal(size=length // 2 + 1) + 1j * rng.normal(size=length // 2 + 1)
    lines[0] = 0
    lines[1:] /= np.sqrt(np.arange(1, len(lines)))
    noise = np.fft.irfft(lines, length)
    return np.asarray(noise * level / noise.std())


def sounding(sound: Samples) -> Samples:
    """The part between the first and the last sample that is not zero."""
    places = np.flatnonzero(sound)
    return sound[places[0] : places[-1] + 1] if len(places) else sound[:0]


UNHURRIED = SoundSettings(latency_s=0.5)
"""The card holds so much that nothing is lost while other programs keep the processors busy."""
LIMIT_S = 20.0
"""Long enough for a loaded machine; nothing here measures time."""
MORE_S = 0.3
"""What is listened to the end of, so that it would be seen if more came than was played."""


Enough = Callable[[Samples], bool]


def as_long_as(wanted: Samples) -> Enough:
    """Whether as much has sounded as was played or fed."""
    return lambda heard: len(sounding(heard)) >= len(wanted)


def all_heard(ear: "Listener", enough: Enough, since: int = 0) -> Samples:
    """What sounded at the ear when it is enough, and what follows it."""
    end_s = time.monotonic() + LIMIT_S
    while not enough(ear.heard()[since:]) and time.monotonic() < end_s:
        time.sleep(0.02)
    time.sleep(MORE_S)
    return sounding(ear.heard()[since:])


def wait_until_heard(ear: "Listener") -> None:
    """Until the first sample of a sound has come."""
    end_s = time.monotonic() + LIMIT_S
    while not ear.heard().any():
        assert time.monotonic() < end_s
        time.sleep(0.02)


def forget_what_came(sound: Sound) -> None:
    """Before something is fed: a microphone may begin with samples of the stream before.

    Seen with PortAudio on ALSA's PulseAudio plug-in.
    """
    read_for(sound, 1.0)
    sound.drain()


def all_read(sound: Sound, enough: Enough) -> tuple[Samples, list[Condition]]:
    """What came from the microphone, as `all_heard`, and what was told meanwhile."""
    heard, conditions = np.zeros(0, np.int16), list[Condition]()
    end_s = time.monotonic() + LIMIT_S
    while not enough(heard) and time.monotonic() < end_s:
        more, told = read_for(sound, 0.1)
        heard, conditions = np.concatenate([heard, more]), conditions + told
    more, told = read_for(sound, MORE_S)
    return sounding(np.concatenate([heard, more])), conditions + told


def read_for(sound: Sound, length_s: float) -> tuple[Samples, list[Condition]]:
    blocks, conditions = [np.zeros(0, np.int16)], list[Condition]()
    end_s = time.monotonic() + length_s
    while (left_s := end_s - time.monotonic()) > 0:
        item = sound.read(left_s)
        if isinstance(item, AudioBlock):
            blocks.append(item.samples)
        elif item is not None:
            conditions.append(item)
    return np.concatenate(blocks), conditions


def wait_for(sound: Sound, kind: type[Condition], limit_s: float) -> Condition:
    end_s = time.monotonic() + limit_s
    while (left_s := end_s - time.monotonic()) > 0:
        if isinstance(item := sound.read(left_s), kind):
            return item
    pytest.fail(f"no {kind.__name__} within {limit_s} s")


def wait_until_played(sound: Sound) -> None:
    end_s = time.monotonic() + LIMIT_S
    while sound.playing:
        assert time.monotonic() < end_s
        time.sleep(0.01)


class Listener:
    """Collects what is heard, with the time each piece came; the first piece has come."""

    def __init__(self, command: list[str], environment: dict[str, str]) -> None:
        self._process = subprocess.Popen(
            command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        self._pieces: list[tuple[float, bytes]] = []
        self._first = threading.Event()
        self._thread = threading.Thread(target=self._collect, daemon=True)
        self._thread.start()
        if not self._first.wait(10.0):
            self.close()
            raise RuntimeError("nothing comes from the virtual sound server")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Listen no more."""
        self._process.kill()
        self._process.wait()
        self._thread.join()
        assert self._process.stdout is not None
        self._process.stdout.close()

    def heard(self) -> NDArray[np.int16]:
        """Everything up to now."""
        sound = b"".join(piece for _, piece in self._pieces)
        return np.frombuffer(sound[: len(sound) // 2 * 2], np.int16)

    def forget(self) -> None:
        """Hear only what comes from now on."""
        self._pieces = []

    def last_sound_s(self) -> float:
        """Monotonic time of the last sample that was not silence; 0 if there was none.

        Counted in samples from the piece that came least late, as a busy machine delays some.
        """
        pieces = self._pieces.copy()
        lengths = np.cumsum([len(piece) for _, piece in pieces]) / (2 * RATE_HZ)
        begun_s = min(at_s - length_s for (at_s, _), length_s in zip(pieces, lengths, strict=True))
        places = np.flatnonzero(self.heard())
        return float(begun_s + (places[-1] + 1) / RATE_HZ) if len(places) else 0.0

    def _collect(self) -> None:
        assert self._process.stdout is not None
        while piece := os.read(self._process.stdout.fileno(), 65_536):
            self._pieces.append((time.monotonic(), piece))
            self._first.set()


class Says(NamedTuple):
    """A recogniser of one opinion."""

    opinion: Opinion
    name: str = "ear"
    texts: tuple[Hypothesis, ...] = ()

    def hear(self, samples: Samples, grammar: Grammar) -> Opinion:  # noqa: ARG002
        return self.opinion

    def write(self, samples: Samples) -> tuple[Hypothesis, ...]:  # noqa: ARG002
        return self.texts
