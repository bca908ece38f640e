"""What pip installs on each kind of machine, by the markers of pyproject.toml.

Stands on `packaging`, the library that implements the standard of dependency specifiers
(packaging.python.org/en/latest/specifications/dependency-specifiers): it is pip's own.
"""

from __future__ import annotations

import re
import tomllib
from itertools import chain
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from voice.models.published import Machine, remedy

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
REQUIRED = [Requirement(text) for text in PROJECT["dependencies"]]
EXTRAS = PROJECT["optional-dependencies"]
NET = {"moonshine-voice", "onnxruntime"}
SPEAKS = {"espeakng-loader", "hibari-tts"}
AT_TIMES = {*NET, *SPEAKS, "soxr", "vosk"}
"""Those with a marker; all others are for each machine."""

# Wheels looked at in the index on 2026-11-28: moonshine-voice 0.1.0, onnxruntime 1.20 to 1.32,
# espeakng-loader 0.2.4, hibari-tts 0.2.1 (pure Python), soxr 1.1.0, vosk 0.3.44 and 0.3.45.
LINUX = {*NET, *SPEAKS, "soxr", "vosk"}
# (sys_platform, platform_machine, platform_release, platform_version, those of AT_TIMES).
# The releases are of the form that these systems give, from memory; Darwin 22 is macOS 13, 23 is
# 14, 24 is 15 and 25 is 26.
_DEBIAN, _UBUNTU = "#1 SMP PREEMPT_DYNAMIC Debian 6.1.76-1", "#45-Ubuntu SMP PREEMPT_DYNAMIC"
MACHINES = {
    "linux": ("linux", "x86_64", "6.8.0-45-generic", _UBUNTU, LINUX),
    "cloud": ("linux", "x86_64", "6.1.0-18-cloud-amd64", _DEBIAN, LINUX),
    "wsl": ("linux", "x86_64", "5.15.153.1-microsoft-standard-WSL2", "#1 SMP", LINUX),
    "no-number": ("linux", "x86_64", "custom+", "#1", LINUX),
    "linux-arm": ("linux", "aarch64", "6.6.51+rpt-rpi-2712", "#1 SMP PREEMPT Debian", LINUX),
    "linux-arm32": ("linux", "armv7l", "6.6.51+rpt-rpi-v7", "#1 SMP Raspbian", {"vosk"}),
    "linux-arm32-by-linux32": ("linux", "armv8l", "6.6.51+rpt-rpi-v8", "#1 SMP", set()),
    "linux-32": ("linux", "i686", "6.1.0-18-686-pae", _DEBIAN, set()),
    **{
        f"macos-{system}-{processor}": (
            "darwin",
            processor,
            f"{darwin}.1.0",
            f"Darwin Kernel Version {darwin}.1.0",
            {"soxr", "vosk"},
        )
        for system, darwin in ((13, 22), (14, 23), (15, 24), (26, 25))
        for processor in ("arm64", "x86_64")
    },
    "windows": ("win32", "AMD64", "11", "10.0.22631", LINUX - SPEAKS),
    "windows-10": ("win32", "AMD64", "10", "10.0.19045", LINUX - SPEAKS),
    "windows-arm": ("win32", "ARM64", "11", "10.0.26100", set()),
    "windows-32": ("win32", "x86", "10", "10.0.19045", set()),
}
SYSTEMS = {"linux": ("Linux", "posix"), "darwin": ("Darwin", "posix"), "win32": ("Windows", "nt")}


def environment(name: str, python: str = "3.12") -> dict[str, str]:
    """What pip would say of the machine."""
    platform, processor, release, version, _ = MACHINES[name]
    system, os_name = SYSTEMS[platform]
    return {
        "sys_platform": platform,
        "platform_system": system,
        "os_name": os_name,
        "platform_machine": processor,
        "platform_release": release,
        "platform_version": version,
        "python_version": python,
        "python_full_version": f"{python}.1",
        "extra": "",
        "implementation_name": "cpython",
        "implementation_version": f"{python}.1",
        "platform_python_implementation": "CPython",
    }


@pytest.mark.parametrize("name", MACHINES)
def test_each_machine_gets_what_is_published_for_it(name: str) -> None:
    for python in ("3.11", "3.12", "3.13", "3.14"):
        here = environment(name, python)
        found = {want.name for want in REQUIRED if not want.marker or want.marker.evaluate(here)}
        assert found & AT_TIMES == MACHINES[name][-1], python
        assert found - AT_TIMES == {want.name for want in REQUIRED} - AT_TIMES, python


def test_no_marker_names_the_release_or_version_of_a_system() -> None:
    """pip 24.1 to 25.3 end with InvalidVersion where one is compared and is no version."""
    wanted = [Requirement(text) for text in chain(*EXTRAS.values())]
    markers = [str(want.marker) for want in REQUIRED + wanted if want.marker]
    assert len(markers) == len(AT_TIMES)
    named = set(re.findall(r"[a-z]+_[a-z_]+", " ".join(markers)))
    assert named == {"sys_platform", "platform_machine"}


def test_the_extra_brings_what_a_machine_may_lack() -> None:
    extra = {want.name: want for want in map(Requirement, EXTRAS["listening"])}
    assert set(extra) == {*NET, "soxr"}
    for want in REQUIRED:
        if want.name in extra:
            assert want.specifier == extra[want.name].specifier
            assert extra[want.name].marker is None


@pytest.mark.parametrize("name", MACHINES)
def test_what_is_told_to_do_agrees_with_the_markers(name: str) -> None:
    platform, processor, *_, wanted = MACHINES[name]
    bits = 64 if processor in ("x86_64", "aarch64", "arm64", "AMD64", "ARM64") else 32
    for macos in (12, 13, 14, 15, 26):
        machine = Machine(platform, processor.lower(), bits, macos if platform == "darwin" else 0)
        by_extra = platform == "darwin" and processor == "arm64" and macos >= 15
        told = remedy(machine)
        extra = "pip install '.[listening]'" in told
        assert extra == (wanted >= NET or by_extra) == machine.listens, macos
        assert "call --typed" in told
