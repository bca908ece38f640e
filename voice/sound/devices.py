"""PortAudio: loading it, choosing devices and formats, and calling it so that it cannot hang us."""

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
from typing import Literal

from pattern.errors import RoundsAloudError
from voice.sound.ports import RATE_HZ

Kind = Literal["input", "output"]
SPOKEN: dict[Kind, str] = {"input": "microphone", "output": "loudspeaker"}
"""What a maker calls a device of that kind."""


class SoundUnavailableError(RoundsAloudError):
    """Sound cannot be used now; the session can go on by typing."""


class PortAudioMissingError(SoundUnavailableError):
    """The sound library is not on this computer."""

    def __init__(self, reason: str) -> None:
        """Keep what loading it said."""
        self.reason = reason
        super().__init__(
            f"The sound library does not load ({reason}); run 'pip install sounddevice' and, on"
            " Debian or Ubuntu, 'sudo apt-get install libportaudio2', or go on by typing."
        )


class SoundNotStartingError(SoundUnavailableError):
    """The sound library is here, but does not start with the computer's sound settings."""

    def __init__(self, reason: str) -> None:
        """Keep what starting it said."""
        self.reason = reason
        super().__init__(
            f"The computer's sound does not start ({reason}); mend its settings (on Linux, the file"
            " .asoundrc in your home folder), or go on by typing."
        )


class NoSoundDeviceError(SoundUnavailableError):
    """There is no such device, or none at all."""

    def __init__(self, kind: Kind, wanted: str | None, reason: str, listed: str = "") -> None:
        """Name what was looked for, why that is none, and the devices there are, with numbers."""
        self.kind = kind
        self.wanted = wanted
        self.reason = reason
        what = f"no {SPOKEN[kind]} named '{wanted}'" if wanted else f"no {SPOKEN[kind]}"
        remedy = f"choose one of {listed}" if listed else "plug one in"
        super().__init__(f"I find {what} ({reason}); {remedy}, or go on by typing.")


class SoundStuckError(SoundUnavailableError):
    """The system's sound service does not answer."""

    def __init__(self, call: str, limit_s: float) -> None:
        """Name the call that did not return and how long it was waited for."""
        self.call = call
        self.limit_s = limit_s
        super().__init__(
            f"The computer's sound service did not answer in {limit_s:g} seconds ({call}); restart"
            " it (on Linux: 'systemctl --user restart pipewire pulseaudio'), or go on by typing."
        )


@dataclass(frozen=True, slots=True)
class Format:
    """What a stream is opened with."""

    device: int | None
    """PortAudio's number; None for the system's choice."""
    rate_hz: int
    channels: int


@contextmanager
def native_messages_hidden() -> Iterator[None]:
    """Hide what the sound libraries print past Python; Python's own errors stay visible.

    PortAudio and ALSA write pages of lines when a device is lost, and have no switch for it.
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
    """Return the module sounddevice; imported here because its import starts PortAudio.

    Raises PortAudioMissingError, SoundNotStartingError.
    """
    named = os.environ.get("ALSA_CONFIG_PATH", "").split(":")
    if lacking := [file for file in named if file and not Path(file).exists()]:
        # PortAudio takes the whole process down when ALSA has no settings.
        raise SoundNotStartingError(f"ALSA_CONFIG_PATH names {lacking[0]}, which is not there")
    try:
        import sounddevice  # type: ignore[import-untyped]
    except (ImportError, OSError) as error:
        raise PortAudioMissingError(str(error)) from error
    except Exception as error:  # PortAudioError, whose class only a module that loads has
        raise SoundNotStartingError(str(error)) from error
    # Its own clean-up at exit waits for ever when the sound service is frozen.
    atexit.unregister(sounddevice._exit_handler)
    # Held to the very end (ctypes unloads nothing): a hanging stream's thread still runs in it
    # when Python has let go of it, and would take the process down.
    ctypes.CDLL(sounddevice._libname)
    module: ModuleType = sounddevice
    return module


def restart_portaudio(sounddevice: ModuleType) -> None:
    """Forget the list of devices, which is otherwise the one of the start.

    Ends every stream of this process. Raises SoundNotStartingError; then it can be tried again.
    """
    try:
        if sounddevice._initialized:  # not where the last start failed
            sounddevice._terminate()
        sounddevice._initialize()
    except sounddevice.PortAudioError as error:
        raise SoundNotStartingError(str(error)) from error


def choose_format(
    sounddevice: ModuleType, kind: Kind, device: int | None, rate_hz: int | None
) -> Format:
    """Return 16 kHz mono where the device takes it, else its own rate, else two channels.

    A given `rate_hz` is the only rate tried. Raises NoSoundDeviceError.
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
    """Makes calls one after another in a thread of its own, waiting only so long for each.

    A call that hangs is left to itself; nothing further is started until it has returned, since
    two threads inside PortAudio at once can end the process.
    """

    def __init__(self) -> None:
        """Start the thread; as a daemon it does not keep the program from ending."""
        self._calls: queue.SimpleQueue[tuple[Callable[[], object], list[BaseException]]]
        self._calls = queue.SimpleQueue()
        self._idle = threading.Event()
        self._idle.set()
        threading.Thread(target=self._run, name="sound-calls", daemon=True).start()

    def call(self, work: Callable[[], object], limit_s: float) -> None:
        """Do `work`, and raise what it raises.

        Raises SoundStuckError when it, or the call before it, does not return in time.
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
            except BaseException as error:  # raised again in the thread that asked
                raised.append(error)
            self._idle.set()


@cache
def portaudio_caller() -> BoundedCaller:
    """Return the one caller of this process: PortAudio's state is the process's."""
    return BoundedCaller()
