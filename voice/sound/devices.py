"""Loads PortAudio, chooses formats, and calls it with time limits."""

import atexit
import ctypes
import os
import queue
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import ModuleType

from voice.sound.ports import RATE_HZ
from voice.sound.sound_errors import (
    Kind,
    NoSoundDeviceError,
    PortAudioMissingError,
    SoundNotStartingError,
    SoundStuckError,
)


@dataclass(frozen=True, slots=True)
class Format:
    """Format in which a stream is opened."""

    device: int | None
    """PortAudio's number; None for the system's choice."""
    rate_hz: int
    channels: int


@contextmanager
def native_messages_hidden() -> Iterator[None]:
    """Hide the sound libraries' native error output; Python's own errors stay visible.

    PortAudio and ALSA print many lines when a device is lost, and have no option against it.
    """
    visible, python_errors = os.dup(2), sys.stderr
    python_errors.flush()
    with Path(os.devnull).open("wb") as nowhere:
        os.dup2(nowhere.fileno(), 2)
    with os.fdopen(os.dup(visible), "w", buffering=1, errors="backslashreplace") as errors:
        sys.stderr = errors
        try:
            yield
        finally:
            sys.stderr = python_errors
            os.dup2(visible, 2)
            os.close(visible)


def load_portaudio() -> ModuleType:
    """Import the module sounddevice, which starts PortAudio.

    Raises PortAudioMissingError, SoundNotStartingError.
    """
    named = os.environ.get("ALSA_CONFIG_PATH", "").split(":")
    if lacking := [file for file in named if file and not Path(file).exists()]:
        # PortAudio crashes the process if ALSA has no configuration.
        raise SoundNotStartingError(f"ALSA_CONFIG_PATH names {lacking[0]}, which is not there")
    try:
        import sounddevice  # type: ignore[import-untyped]
    except (ImportError, OSError) as error:
        raise PortAudioMissingError(str(error)) from error
    except Exception as error:  # PortAudioError, a class of the module that failed to load
        raise SoundNotStartingError(str(error)) from error
    # Its own clean-up at exit hangs if the sound service is frozen.
    atexit.unregister(sounddevice._exit_handler)
    # Keeps the library loaded to the end (ctypes never unloads): the thread of a hung stream may
    # still run in it after Python has released it, and would crash the process.
    ctypes.CDLL(sounddevice._libname)
    module: ModuleType = sounddevice
    return module


def restart_portaudio(sounddevice: ModuleType) -> None:
    """Restart PortAudio to refresh its list of devices.

    Ends every stream of this process. Raises SoundNotStartingError; the call can be repeated.
    """
    try:
        if sounddevice._initialized:  # not if the last start failed
            sounddevice._terminate()
        sounddevice._initialize()
    except sounddevice.PortAudioError as error:
        raise SoundNotStartingError(str(error)) from error


def choose_format(
    sounddevice: ModuleType, kind: Kind, device: int | None, rate_hz: int | None
) -> Format:
    """Return 16 kHz mono if the device accepts it, else its own rate, else two channels.

    If `rate_hz` is given, only that rate is tried. Raises NoSoundDeviceError.
    """
    try:
        own_hz = round(sounddevice.query_devices(device, kind)["default_samplerate"])
    except (ValueError, sounddevice.PortAudioError) as error:
        raise NoSoundDeviceError(kind, None, str(error)) from error
    check = getattr(sounddevice, f"check_{kind}_settings")
    reason = ""
    for channels in (1, 2):
        for rate in (rate_hz,) if rate_hz else (RATE_HZ, own_hz):
            try:
                check(device=device, samplerate=rate, channels=channels, dtype="int16")
            except sounddevice.PortAudioError as error:
                reason = str(error)
            else:
                return Format(device, rate, channels)
    raise NoSoundDeviceError(kind, None, reason)


class BoundedCaller:
    """Makes calls one at a time in its own thread, with a time limit for each.

    A call that hangs is left alone. No other call is started until it has returned, since two
    threads inside PortAudio at once can crash the process.
    """

    def __init__(self) -> None:
        """Start the thread, as a daemon, so that it does not keep the program running."""
        self._calls: queue.SimpleQueue[tuple[Callable[[], object], list[BaseException]]]
        self._calls = queue.SimpleQueue()
        self._idle = threading.Event()
        self._idle.set()
        threading.Thread(target=self._run, name="sound-calls", daemon=True).start()

    def call(self, work: Callable[[], object], limit_s: float) -> None:
        """Run `work`, and raise its exception if it raises one.

        Raises SoundStuckError if this call or the one before it does not return in time.
        """
        name = getattr(work, "__name__", "call")
        if not self._idle.wait(limit_s):
            raise SoundStuckError(name, limit_s)
        raised: list[BaseException] = []
        self._idle.clear()
        self._calls.put((work, raised))
        if not self._idle.wait(limit_s):
            raise SoundStuckError(name, limit_s)
        if raised:
            raise raised[0]

    def _run(self) -> None:
        while True:
            work, raised = self._calls.get()
            try:
                work()
            except BaseException as error:  # raised again in the calling thread
                raised.append(error)
            self._idle.set()


@cache
def portaudio_caller() -> BoundedCaller:
    """Return the single caller of this process, since PortAudio's state is global."""
    return BoundedCaller()
