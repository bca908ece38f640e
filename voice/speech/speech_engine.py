"""The voices of this machine behind one engine: texts in, samples out."""

from __future__ import annotations

import ctypes
import os
import sys
from importlib.util import find_spec
from pathlib import Path

from voice.sound.ports import Samples
from voice.speech import clear_voice
from voice.speech.levels import at_one_level, trimmed
from voice.speech.opened_driver import OpenedDriver


def _load_bundled_espeak() -> None:
    """Make the library bundled with `espeakng-loader` the one that is found by its short name.

    The folder of its data must be set first, since the library otherwise ends the process.
    """
    if not sys.platform.startswith("linux") or find_spec("espeakng_loader") is None:
        return
    import espeakng_loader  # type: ignore[import-untyped]

    os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
    ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)


class Engine:
    """Every driver of pyttsx3 that can be opened here; the first speaks unless told otherwise."""

    def __init__(self, folder: Path | None) -> None:
        """Open the clear voice where it is installed, and the voices of the system.

        Raises whatever the system's driver raises where nothing else speaks.
        """
        self.lacks = ""
        self._drivers: list[OpenedDriver] = []
        variable, value = clear_voice.SYSTEM_ONLY
        if os.environ.get(variable) != value:
            self._open_clear(folder)
        _load_bundled_espeak()
        try:
            self._drivers.append(OpenedDriver(None, folder))
        except Exception:
            if not self._drivers:
                raise
        self._of_voice = {
            voice["id"]: driver for driver in reversed(self._drivers) for voice in driver.voices()
        }

    def _open_clear(self, folder: Path | None) -> None:
        if not clear_voice.is_here():
            self.lacks = clear_voice.lacking("")
            return
        clear_voice.register()
        try:
            self._drivers.append(OpenedDriver(clear_voice.NAME, folder))
        except Exception as error:  # of any kind: the voices of the system speak then
            self.lacks = clear_voice.lacking(f"{type(error).__name__}: {error}")

    def voices(self) -> list[dict[str, str]]:
        """The voices of all drivers, the one that speaks by itself first."""
        return [voice for driver in self._drivers for voice in driver.voices()]

    def render(
        self, text: str, rate_wpm: int, volume: float, voice: str | None
    ) -> tuple[Samples, int]:
        """The text as speech, with silence trimmed, at one level, and its sampling rate in Hz."""
        driver = self._drivers[0] if voice is None else self._of_voice[voice]
        driver.speak_as(rate_wpm, voice)
        sound, rate_hz = driver.write(text)
        return at_one_level(trimmed(sound, rate_hz), rate_hz, volume), rate_hz
