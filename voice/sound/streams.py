"""One run of the two sound streams, from opening to loss."""

import threading
from collections.abc import Callable
from contextlib import suppress
from time import monotonic
from types import ModuleType
from typing import Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from voice.sound.devices import Format
from voice.sound.waiting_sound import Waiting

FIRST_BLOCK_S = 3.0
"""Time limit for the first block; a suspended sound server takes up to two seconds."""

LOOK_S = 0.1
"""Twice the usual time from one look at the streams to the next."""


class Captured(NamedTuple):
    """An unprocessed copy of the sound that the callback received."""

    frames: NDArray[np.int16]
    """Shape (samples, channels), at the device's rate."""
    overflowed: bool
    time_s: float
    rate_hz: int


class _Status(Protocol):
    """The flags that PortAudio gives with each block."""

    input_overflow: bool


class Streams:
    """Microphone and loudspeaker, opened together with the same list of devices.

    Without a microphone, the loudspeaker is opened alone.
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
        """Set if PortAudio itself ends a stream."""
        self._last_s = {"output": 0.0} if microphone is None else {"input": 0.0, "output": 0.0}
        self._came = set[str]()
        self._looked_s = self._quiet_s = 0.0

    def open(self, block_s: float, latency_s: float) -> None:
        """Open and start the streams. Raises PortAudioError; may hang, so call it with a limit."""
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
        """Drop the sound buffered by the device. May hang, so call it with a limit."""
        self._silencing = True
        output = self._streams[-1]
        output.abort()
        self._last_s["output"] = monotonic() + FIRST_BLOCK_S
        output.start()
        self._silencing = False

    def close(self) -> None:
        """End the streams. May hang, so call it with a limit."""
        self._live = False
        for stream in self._streams:
            with suppress(self._sounddevice.PortAudioError):  # the stream has ended already
                stream.abort(ignore_errors=True)
                stream.close(ignore_errors=True)
        self._streams.clear()

    def abandon(self) -> None:
        """Ignore further callbacks, which a frozen service may send once it resumes."""
        self._live = False

    def quiet_for_s(self) -> float:
        """Time since the less recent callback, in seconds; negative at first."""
        return monotonic() - min(self._last_s.values())

    def seen_quiet_for_s(self) -> float:
        """The same as far as it was looked at: each look counts for `LOOK_S` at most.

        A computer too busy to look is too busy to call back, and has lost no device.
        """
        now_s = monotonic()
        seen_s = self._quiet_s + min(now_s - self._looked_s, LOOK_S)
        self._looked_s = now_s
        self._quiet_s = min(self.quiet_for_s(), seen_s)
        return self._quiet_s

    @property
    def flowing(self) -> bool:
        """Whether all callbacks have come; a service that is just starting opens without them."""
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
