"""Hears what this machine plays, or a second microphone, through the package soundcard.

PortAudio cannot open the monitor of a loudspeaker by name on Linux; soundcard can, and on Windows
through WASAPI. It is used from one thread of its own, since its calls have no time limits.
"""

from __future__ import annotations

import atexit
import sys
import threading
import warnings
from time import monotonic
from types import ModuleType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.sound.known_sound import Played
from voice.sound.ports import FULL_SCALE, RATE_HZ

BLOCK = RATE_HZ // 50
HELD = RATE_HZ // 2
"""Samples that Windows keeps for a thread that is late; there no sound waits for it."""
CHANNELS = 2
KEPT_S = 15.0
"""Sound kept while nobody takes it; older sound is dropped."""
LOOKS_S = 1.0
"""Time between looks at which loudspeaker is the default."""
_FIRST_PAUSE_S, _LONGEST_PAUSE_S = 0.5, 5.0


class NoMonitorError(Exception):
    """Nothing that this machine plays can be heard; the text says why."""


class PlayedHere:
    """A `KnownSound`: what the default loudspeaker plays, or what a second microphone hears.

    It follows the default, and comes back after a loss by itself.
    """

    def __init__(self, microphone: str | None = None) -> None:
        """Hear the microphone of that name, or part of it; None for the default loudspeaker."""
        self._microphone = microphone
        self._lock = threading.Lock()
        self._blocks: list[NDArray[np.float32]] = []
        self._until_s, self._run = 0.0, 0
        self._running = False
        self._quit, self._opened = threading.Event(), threading.Event()
        self.why_not = ""
        """Reason why nothing is heard, after the last attempt; empty while it is."""
        self._thread = threading.Thread(target=self._own, name="known-sound", daemon=True)

    def open(self, limit_s: float) -> None:
        """Start, and wait for the first attempt. Raises: NoMonitorError if it fails."""
        self._thread.start()
        self._opened.wait(limit_s)
        with self._lock:
            running = self._running
        if not running:
            self._quit.set()
            raise NoMonitorError(self.why_not or "the sound service does not answer")

    def close(self) -> None:
        """Stop; a call that hangs is left alone."""
        self._quit.set()
        self._thread.join(2 * LOOKS_S)

    def take(self) -> Played | None:
        """Return all that came since the last call; None while nothing can be heard."""
        with self._lock:
            blocks, self._blocks = self._blocks, []
            if not self._running:
                return None
            frames = np.concatenate([np.zeros((CHANNELS, 0), np.float32), *blocks], axis=1)
            return Played(frames, self._until_s, self._run)

    def _own(self) -> None:
        pause_s, again = _FIRST_PAUSE_S, True
        while not self._quit.is_set():
            try:
                if self._microphone is None and sys.platform == "darwin":
                    raise NoMonitorError("macOS gives no program what another one plays")
                library = _library(again=again)
                pause_s, again = _FIRST_PAUSE_S, False
                self._hear(library)
            except Exception as error:  # soundcard raises AssertionError, IndexError and others
                self.why_not = str(error) or type(error).__name__
                pause_s, again = min(1.5 * pause_s, _LONGEST_PAUSE_S), True
            with self._lock:
                self._running, self._blocks = False, []
            self._opened.set()
            self._quit.wait(pause_s if self.why_not else 0.0)

    def _hear(self, library: ModuleType) -> None:
        """Take blocks until it is closed or another loudspeaker is the default."""
        name, looked_s = self._wanted(library), monotonic()
        source = library.get_microphone(name, include_loopback=sys.platform != "darwin")
        held = HELD if sys.platform == "win32" else BLOCK
        with source.recorder(samplerate=RATE_HZ, channels=CHANNELS, blocksize=held) as recorder:
            self.why_not = ""
            self._flush(recorder)
            while not self._quit.is_set():
                self._put(recorder.record(numframes=BLOCK))
                if self._microphone is None and monotonic() - looked_s > LOOKS_S:
                    looked_s = monotonic()
                    if self._wanted(library) != name:
                        return

    def _flush(self, recorder: Any) -> None:  # noqa: ANN401 - soundcard has no types
        recorder.record(numframes=BLOCK)
        with self._lock:
            self._run += 1

    def _put(self, frames: NDArray[np.float32]) -> None:
        with self._lock:
            self._blocks.append(frames.T * np.float32(FULL_SCALE))
            del self._blocks[: -round(KEPT_S * RATE_HZ / BLOCK)]
            self._until_s = monotonic()
            self._running = True
        self._opened.set()

    def _wanted(self, library: ModuleType) -> str:
        if self._microphone is not None:
            return self._microphone
        name = str(library.default_speaker().id)
        return f"{name}.monitor" if sys.platform.startswith("linux") else name


def _library(*, again: bool) -> ModuleType:
    """The package soundcard; `again` to connect to the sound service anew.

    On Linux it connects when it is loaded, and never after; on Windows only the thread that loads
    it may use it. Raises whatever that raises.
    """
    loaded = "soundcard" in sys.modules
    import soundcard

    if sys.platform == "win32":  # a gap is found by the sound, and nobody can do anything about it
        warnings.simplefilter("ignore", soundcard.SoundcardRuntimeWarning)
    if not sys.platform.startswith("linux"):
        return soundcard  # type: ignore[no-any-return]
    if again and loaded:
        backend = soundcard.pulseaudio
        backend._pulse = backend._PulseAudio()
    # Its own clean-up at exit hangs if the sound service is frozen.
    atexit.unregister(soundcard.pulseaudio._pulse._shutdown)
    return soundcard  # type: ignore[no-any-return]
