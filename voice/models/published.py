"""Libraries that pyproject.toml leaves out where no wheel is published, and the way to do without.

Wheels looked at on 2026-11-28: moonshine-voice 0.1.0 for Linux (x86_64, aarch64), Windows (AMD64)
and macOS 15 on arm64 (pip's markers cannot see the 15); soxr 1.1.0 for all of these, for older
macOS and for Intel Macs.
"""

from __future__ import annotations

import platform
import sys
import sysconfig
from dataclasses import dataclass
from importlib.util import find_spec

LISTENING = ("onnxruntime", "moonshine_voice")
"""Modules that the net needs for listening."""
SOUND = "soxr"
"""Module that every command with sound needs."""
_FIRST_MACOS = 15
_EXTRA = "run pip install '.[listening]' in this program's folder"
_TYPED = "type instead: rounds-aloud call --typed"


@dataclass(frozen=True, slots=True)
class Machine:
    """The machine as the running Python sees it: a wheel must fit this."""

    system: str
    """Name of the system, as in `sys.platform`."""
    processor: str
    """Name of the processor, in small letters."""
    bits: int
    """Width of an address in the running Python: 32 or 64."""
    macos: int = 0
    """First number of the version of macOS; 0 on other systems."""

    @property
    def listens(self) -> bool:
        """True where wheels of all modules for listening are published for it."""
        if self.system == "darwin":
            return self.processor == "arm64" and self.macos >= _FIRST_MACOS
        fits = {"linux": ("x86_64", "aarch64"), "win32": ("amd64",)}.get(self.system, ())
        return self.bits == 64 and self.processor in fits

    def __str__(self) -> str:
        """The machine as a person would name it."""
        name = {"darwin": f"macOS {self.macos}", "win32": "Windows"}.get(
            self.system, self.system.capitalize()
        )
        return f"{name} on {self.processor}, {self.bits} bits"


def this_machine() -> Machine:
    """The machine that this runs on."""
    # On Windows on Arm a Python for x86-64 runs too; only its build tells which one this is.
    processor = (
        sysconfig.get_platform().removeprefix("win-")
        if sys.platform == "win32"
        else (platform.machine())
    )
    macos = int(platform.mac_ver()[0].partition(".")[0] or 0)
    bits = 64 if sys.maxsize > 2**32 else 32
    return Machine(sys.platform, processor.lower(), bits, macos)


def remedy(machine: Machine, lacks: str = "a library for listening") -> str:
    """Advice where something is missing, in words that follow a colon."""
    if machine.listens:
        return f"{_EXTRA}, or {_TYPED}."
    return f"{lacks} is not published for {machine}; {_TYPED}."


def missing() -> str | None:
    """One sentence that names the modules missing for listening; None where none is."""
    names = [name for name in LISTENING if find_spec(name) is None]
    return f"no {' and no '.join(names)}: {remedy(this_machine())}" if names else None


def without_sound(machine: Machine) -> str:
    """One sentence for a person who runs a command with sound where there is no soxr."""
    return f"Speaking and listening need {SOUND}: {remedy(machine, SOUND)}"
