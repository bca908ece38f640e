"""The process that owns the text-to-speech engine; started by `voice.speaker`, ended by it.

Requests come on standard input, one JSON object a line; each answer is a line of JSON on what was
standard output, followed by the samples it announces. Whatever the engine prints goes nowhere.
"""

import ctypes
import json
import os
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np

from voice.ports import FULL_SCALE, Samples

_AUDIBLE = 30
"""Samples above this (-61 dBFS) are speech; the engines' own silence is exact zeros."""
_LEAD_S, _TAIL_S = 0.005, 0.1


def main() -> None:
    """Answer requests until standard input ends; the argument is a folder for sound files."""
    answers = _private_output()
    engine = _Engine(Path(sys.argv[1]))
    _answer(answers, {"ready": True})
    for line in sys.stdin.buffer:
        request = json.loads(line)
        try:
            if request.get("voices"):
                _answer(answers, {"voices": engine.voices()})
            else:
                samples, rate_hz = engine.render(**request)
                _answer(answers, {"rate_hz": rate_hz}, samples)
        except Exception as error:  # told to the parent, which decides
            _answer(answers, {"error": f"{type(error).__name__}: {error}"})


def _private_output() -> BinaryIO:
    """Keep standard output for the answers alone: the engine prints there on every text."""
    answers = os.fdopen(os.dup(1), "wb")
    with Path(os.devnull).open("wb") as nowhere:
        os.dup2(nowhere.fileno(), 1)
    return answers


def _answer(answers: BinaryIO, head: dict[str, Any], samples: Samples | None = None) -> None:
    body = b"" if samples is None else samples.astype("<i2").tobytes()
    answers.write(json.dumps({**head, "bytes": len(body)}).encode() + b"\n" + body)
    answers.flush()


def _load_bundled_espeak() -> None:
    """Make the library that `espeakng-loader` carries the one found by its short name.

    The folder of its data must be known first: without it the library ends the process.
    """
    if not sys.platform.startswith("linux") or find_spec("espeakng_loader") is None:
        return
    import espeakng_loader  # type: ignore[import-untyped]

    os.environ["ESPEAK_DATA_PATH"] = espeakng_loader.get_data_path()
    ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)


class _Engine:
    """pyttsx3, used only to write files, from one thread."""

    def __init__(self, folder: Path) -> None:
        _load_bundled_espeak()
        import pyttsx3  # type: ignore[import-untyped]

        self._errors: list[Exception] = []
        self._set: dict[str, Any] = {}
        # The macOS voices write AIFF, whatever the name says.
        self._file = folder / ("speech.aiff" if sys.platform == "darwin" else "speech.wav")
        self._engine = pyttsx3.init()
        self._engine.connect("error", self._collect)
        self._write("ready")  # properties set before the first run would wait for it

    def voices(self) -> list[dict[str, str]]:
        found = self._engine.getProperty("voices")
        return [
            {"id": str(v.id), "name": str(v.name), "language": str((v.languages or [""])[0])}
            for v in found
        ]

    def render(
        self, text: str, rate_wpm: int, volume: float, voice: str | None
    ) -> tuple[Samples, int]:
        wanted = {"voice": voice, "rate": rate_wpm, "volume": volume}
        if voice is None:
            del wanted["voice"]
        if wanted != self._set:
            self._apply(wanted)
        return self._write(text)

    def _apply(self, wanted: dict[str, Any]) -> None:
        """Set all properties, voice first: choosing one may put the others back."""
        self._set = {}
        for name, value in wanted.items():
            self._engine.setProperty(name, value)
        if espeak := sys.modules.get("pyttsx3.drivers._espeak"):
            espeak.Synchronize()  # it sets them in a thread of its own, and else may lose them
        self._raise_collected()
        self._set = wanted

    def _write(self, text: str) -> tuple[Samples, int]:
        import soundfile  # type: ignore[import-untyped]

        self._file.unlink(missing_ok=True)
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
    """Cut the engine's silence off both ends, but for a moment that keeps soft sounds whole."""
    audible = np.flatnonzero(np.abs(sound.astype(np.int32)) > _AUDIBLE)
    if not len(audible):
        return sound[:0]
    first = max(0, int(audible[0]) - round(_LEAD_S * rate_hz))
    return sound[first : int(audible[-1]) + round(_TAIL_S * rate_hz)]


if __name__ == "__main__":
    main()
