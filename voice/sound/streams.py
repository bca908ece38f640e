"""One run of the two sound streams, from opening to loss, and what waits to be played."""

import threading
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from time import monotonic
from types import ModuleType
from typing import Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from voice.sound.devices import Format
from voice.sound.ports import Samples

FIRST_BLOCK_S = 3.0
"""A sleeping sound server takes up to two seconds to deliver its first block."""


class Captured(NamedTuple):
    """What the callback hands on: a copy, nothing else done to it."""

    frames: NDArray[np.int16]
    """Shape (samples, channels), at the device's rate."""
    overflowed: bool
    time_s: float
    rate_hz: int


class _Status(Protocol):
    """The flags PortAudio gives with each block."""

    input_overflow: bool


class Waiting:
    """Samples waiting to be played, at the device's rate; safe between threads."""

    def __init__(self) -> None:
        """Start empty, and shut."""
        self._lock = threading.Lock()
        self._pieces: deque[Samples] = deque()
        self._open = self._held = False
        self._heard_until_s = 0.0

    def add(self, samples: Samples) -> None:
        """Put samples behind what waits already; while shut they are forgotten."""
        with self._lock:
            if self._open and len(samples):
                self._pieces.append(samples)

    def open(self) -> None:
        """Streams run that play what is added."""
        with self._lock:
            self._open = True

    def shut(self) -> None:
        """Forget everything, and take nothing until `open`: nobody would ever play it."""
        self.hold()
        with self._lock:
            self._open = self._held = False

    def hold(self) -> None:
        """Forget everything, and give silence until `release`."""
        with self._lock:
            self._pieces.clear()
            self._held = True
            self._heard_until_s = 0.0

    def release(self) -> None:
        """Let waiting samples be played again."""
        with self._lock:
            self._held = False

    def busy(self, now_s: float) -> bool:
        """Tell whether something waits, or is still on its way to the ear."""
        with self._lock:
            return bool(self._pieces) or now_s < self._heard_until_s

    def fill(self, out: NDArray[np.int16], heard_until_s: float) -> None:
        """Fill the frames of `out` in all channels, with silence when nothing is left."""
        done = 0
        with self._lock:
            while self._pieces and not self._held and done < len(out):
                piece = self._pieces.popleft()
                taken = piece[: len(out) - done]
                out[done : done + len(taken)] = taken[:, np.newaxis]
                done += len(taken)
                if len(taken) < len(piece):
                    self._pieces.appendleft(piece[len(taken) :])
            if done:
                self._heard_until_s = heard_until_s
        out[done:] = 0


class Streams:
    """Microphone and loudspeaker opened together; PortAudio's list of devices binds them.

    Without a microphone the loudspeaker is opened alone.
    """

    def __init__(
        self,
        sounddevice: ModuleType,
        microphone: Format | None,
        loudspeaker: Format,
        captured: Callable[[Captured], None],
        waiting: Waiting,
    ) -> None:
        """Open nothing yet."""
        self._sounddevice = sounddevice
        self.microphone = microphone
        self.loudspeaker = loudspeaker
        self._captured = captured
        self._waiting = waiting
        self._streams: list[Any] = []
        self._live = False
        self._silencing = False
        self.ended = threading.Event()
        """Set when PortAudio itself ends a stream."""
        self._last_s = {"output": 0.0} if microphone is None else {"input": 0.0, "output": 0.0}
        self._came = set[str]()

    def open(self, block_s: float, latency_s: float) -> None:
        """Open and start them. May raise PortAudioError; may hang: call it bounded."""
        self._live = True
        library = self._sounddevice
        for kind, form, stream, callback in (
            ("input", self.microphone, library.InputStream, self._on_input),
            ("output", self.loudspeaker, library.OutputStream, self._on_output),
        ):
            if form is None:
                continue
            opened = stream(
                device=form.device,
                samplerate=form.rate_hz,
                channels=form.channels,
                dtype="int16",
                blocksize=round(block_s * form.rate_hz),
                latency=latency_s,
                callback=callback,
                finished_callback=self._on_end,
            )
            self._streams.append(opened)
            self._last_s[kind] = monotonic() + FIRST_BLOCK_S
        for opened in self._streams:
            opened.start()

    def silence(self) -> None:
        """Throw away what the device still holds; may hang: call it bounded."""
        self._silencing = True
        output = self._streams[-1]
        output.abort()
        self._last_s["output"] = monotonic() + FIRST_BLOCK_S
        output.start()
        self._silencing = False

    def close(self) -> None:
        """End the streams; may hang: call it bounded."""
        self._live = False
        for stream in self._streams:
            with suppress(self._sounddevice.PortAudioError):  # it is gone already
                stream.abort(ignore_errors=True)
                stream.close(ignore_errors=True)
        self._streams.clear()

    def abandon(self) -> None:
        """Take nothing more from callbacks, which a frozen service may send when it thaws."""
        self._live = False

    def quiet_for_s(self) -> float:
        """Return how long the quieter of the callbacks has not come; negative at first."""
        return monotonic() - min(self._last_s.values())

    @property
    def flowing(self) -> bool:
        """Whether all callbacks have come: a service that is just starting opens, and no more."""
        return len(self._came) == len(self._last_s)

    def _on_input(
        self, data: NDArray[np.int16], _frames: int, _time: object, status: _Status
    ) -> None:
        if not self._live:
            raise self._sounddevice.CallbackAbort
        self._last_s["input"] = now_s = monotonic()
        self._came.add("input")
        overflowed = bool(status.input_overflow)
        assert self.microphone is not None
        self._captured(Captured(data.copy(), overflowed, now_s, self.microphone.rate_hz))

    def _on_output(
        self, data: NDArray[np.int16], _frames: int, _time: object, _status: object
    ) -> None:
        if not self._live:
            raise self._sounddevice.CallbackAbort
        self._last_s["output"] = now_s = monotonic()
        self._came.add("output")
        length_s = len(data) / self.loudspeaker.rate_hz
        self._waiting.fill(data, now_s + length_s + float(self._streams[-1].latency))

    def _on_end(self) -> None:
        if self._live and not self._silencing:
            self.ended.set()
