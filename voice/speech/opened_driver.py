"""One driver of pyttsx3, used only to write files, from one thread."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

import numpy as np

from voice.speech.levels import Floats

_FILES = Path("/proc/self/fd")
_NAME = "speech.aiff" if sys.platform == "darwin" else "speech.wav"
"""The macOS voices always write AIFF, whatever the file name."""


def _memory() -> Path:
    """A file in memory, which goes away with this process. Source: memfd_create(2)."""
    return _FILES / str(os.memfd_create("speech"))


def _empty(file: Path) -> None:
    """Empty the file, so that old speech cannot be taken for new."""
    if file.parent == _FILES:
        os.truncate(file, 0)
    else:
        file.unlink(missing_ok=True)


class OpenedDriver:
    """A driver that has spoken once, so that it can be counted on."""

    def __init__(self, name: str | None, folder: Path | None) -> None:
        """Open the named driver, or the system's own.

        Without a folder it uses a file in memory, which only Linux has. Raises whatever the driver
        raises.
        """
        import pyttsx3  # type: ignore[import-untyped]

        self._errors: list[Exception] = []
        self._set: dict[str, Any] = {}
        self._file = _memory() if folder is None else folder / _NAME
        self._engine = pyttsx3.init(name)
        self._engine.connect("error", self._collect)
        self._usual = self._engine.getProperty("voice")
        self.write("ready")  # properties set before the first run would only apply after it

    def voices(self) -> list[dict[str, str]]:
        """The voices, each with its id, name and language."""
        found = self._engine.getProperty("voices")
        return [
            {"id": str(v.id), "name": str(v.name), "language": str((v.languages or [""])[0])}
            for v in found
        ]

    def speak_as(self, rate_wpm: int, voice: str | None) -> None:
        """Set the delivery of the next texts, voice first: choosing one may reset the rate."""
        wanted: dict[str, Any] = {"voice": voice or self._usual, "rate": rate_wpm, "volume": 1.0}
        if voice is None and "voice" not in self._set:
            del wanted["voice"]
        if wanted == self._set:
            return
        self._set = {}
        for name, value in wanted.items():
            self._engine.setProperty(name, value)
        if espeak := sys.modules.get("pyttsx3.drivers._espeak"):
            espeak.Synchronize()  # it sets them in another thread, and may otherwise lose them
        self._raise_collected()
        self._set = wanted

    def write(self, text: str) -> tuple[Floats, int]:
        """The text as speech, and its sampling rate in Hz."""
        import soundfile  # type: ignore[import-untyped]

        if espeak := sys.modules.get("pyttsx3.drivers._espeak"):
            espeak.Synchronize()  # else the end of the text before may be taken for that of this
        _empty(self._file)
        self._engine.save_to_file(text, str(self._file))
        self._engine.runAndWait()
        self._raise_collected()
        sound, rate_hz = soundfile.read(self._file, dtype="float32", always_2d=True)
        return np.asarray(sound.mean(axis=1), np.float32), rate_hz

    def _collect(self, exception: Exception, **_: object) -> None:
        self._errors.append(exception)

    def _raise_collected(self) -> None:
        if self._errors:
            first = self._errors[0]
            self._errors.clear()
            raise first
