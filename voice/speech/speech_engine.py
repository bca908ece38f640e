"""The system's text-to-speech engine: texts in, samples out."""

from __future__ import annotations

import ctypes
import os
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np

from voice.sound.ports import FULL_SCALE, Samples

_FILES = Path("/proc/self/fd")
_NAME = "speech.aiff" if sys.platform == "darwin" else "speech.wav"
"""The macOS voices always write AIFF, whatever the file name."""
_AUDIBLE = 30
"""Samples above this (-61 dBFS) are speech; the engines' silence is exact zeros."""
_LEAD_S, _TAIL_S = 0.005, 0.1


def _load_bundled_espeak() -> None:
    """Make the library bundled with `espeakng-loader` the one that is found by its short name.

    The folder of its data must be set first, since the library otherwise ends the process.
    """
    if not sys.platform.startswith("linux") or find_spec("espeakng_loader") is None:
        return
    import espeakng_loader  # type: ignore[import-untyped]

    os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
    ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)


def _memory() -> Path:
    """A file in memory, which goes away with this process. Source: memfd_create(2)."""
    return _FILES / str(os.memfd_create("speech"))


def _empty(file: Path) -> None:
    """Empty the file, so that old speech cannot be taken for new."""
    if file.parent == _FILES:
        os.truncate(file, 0)
    else:
        file.unlink(missing_ok=True)


class Engine:
    """pyttsx3, used only to write files, from one thread."""

    def __init__(self, folder: Path | None) -> None:
        """Start the engine; without a folder, it uses files in memory, which only Linux has."""
        _load_bundled_espeak()
        import pyttsx3  # type: ignore[import-untyped]

        self._errors: list[Exception] = []
        self._set: dict[str, Any] = {}
        self._file = _memory() if folder is None else folder / _NAME
        self._engine = pyttsx3.init()
        self._engine.connect("error", self._collect)
        self._write("ready")  # properties set before the first run would only apply after it

    def voices(self) -> list[dict[str, str]]:
        """The voices, each with its id, name and language."""
        found = self._engine.getProperty("voices")
        return [
            {"id": str(v.id), "name": str(v.name), "language": str((v.languages or [""])[0])}
            for v in found
        ]

    def render(
        self, text: str, rate_wpm: int, volume: float, voice: str | None
    ) -> tuple[Samples, int]:
        """The text as speech, with silence trimmed, and its sampling rate in Hz."""
        wanted = {"voice": voice, "rate": rate_wpm, "volume": volume}
        if voice is None:
            del wanted["voice"]
        if wanted != self._set:
            self._apply(wanted)
        return self._write(text)

    def _apply(self, wanted: dict[str, Any]) -> None:
        """Set all properties, voice first, since choosing a voice may reset the others."""
        self._set = {}
        for name, value in wanted.items():
            self._engine.setProperty(name, value)
        if espeak := sys.modules.get("pyttsx3.drivers._espeak"):
            espeak.Synchronize()  # it sets them in another thread, and may otherwise lose them
        self._raise_collected()
        self._set = wanted

    def _write(self, text: str) -> tuple[Samples, int]:
        import soundfile  # type: ignore[import-untyped]

        _empty(self._file)
        self._engine.save_to_file(text, str(self._file))
        self._engine.runAndWait()
        self._raise_collected()
        sound, rate_hz = soundfile.read(self._file, dtype="float32", always_2d=True)
        scaled = np.round(sound.mean(axis=1) * FULL_SCALE)
        samples = np.clip(scaled, -FULL_SCALE, FULL_SCALE - 1).astype(np.int16)
        return _trimmed(samples, rate_hz), rate_hz

    def _collect(self, exception: Exception, **_: object) -> None:
        self._errors.append(exception)

    def _raise_collected(self) -> None:
        if self._errors:
            first = self._errors[0]
            self._errors.clear()
            raise first


def _trimmed(sound: Samples, rate_hz: int) -> Samples:
    """Trim the engine's silence at both ends, with a short margin for soft sounds."""
    audible = np.flatnonzero(np.abs(sound.astype(np.int32)) > _AUDIBLE)
    if not len(audible):
        return sound[:0]
    first = max(0, int(audible[0]) - round(_LEAD_S * rate_hz))
    return sound[first : int(audible[-1]) + round(_TAIL_S * rate_hz)]
