"""The program under strace: which sockets it asks for, which names it looks up, what it writes."""

from __future__ import annotations

import os
import re
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

import pytest

_NET = re.compile(r"AF_(?!UNIX\b)\w+|sin6?_port")
"""Of socket(2) too, with which every connection begins, so that what is sent afterwards need not be
written down: that would hold up each block of sound."""
_NAMES = re.compile(r'"/etc/(?:resolv\.conf|hosts)"')
"""What the C library reads to look up a name. Source: resolv.conf(5), hosts(5)."""
_WRITES = re.compile(
    r"\b(?:(?:open|openat|openat2)\(.*\b(?:O_WRONLY|O_RDWR|O_CREAT)\b"
    r"|creat\(|mkdir|mknod|rename|link\(|linkat\(|symlink|truncate\()"
)
_PLACE = re.compile(r'\((?:[\w-]+<(?P<at>[^>]*)>, )?"(?P<name>[^"]*)"')
_ANONYMOUS = re.compile(r'O_TMPFILE|"/dev/(?!shm/)|"/proc/self/fd/\d+"')
"""Files without a name, and devices."""


def _skip_or_fail(reason: str) -> NoReturn:
    """Skip the test for `reason`, or fail it where RA_REQUIRE_TRACE=1 promises strace."""
    if os.environ.get("RA_REQUIRE_TRACE") == "1":
        pytest.fail(reason)
    pytest.skip(reason)


def tracer(into: Path) -> list[str]:
    """The beginning of a command line that writes down what the rest of it does."""
    if shutil.which("strace") is None:
        _skip_or_fail("strace is not installed (apt-get install strace)")
    calls = "trace=socket,socketpair,connect,bind,listen,accept,accept4,"
    calls += "open,openat,openat2,creat,mkdir,mkdirat,mknod,mknodat,rename,renameat,"
    calls += "renameat2,link,linkat,symlink,symlinkat,truncate"
    options = ("-f", "--seccomp-bpf", "-qq", "-y", "-s", "4096")
    return ["strace", *options, "-e", calls, "-o", str(into)]


@dataclass(frozen=True)
class Trace:
    """The calls of a program and its children; failed ones too, as they show what it tried."""

    lines: tuple[str, ...]

    def reaching_out(self) -> list[str]:
        """Calls with another socket than one of this machine's files, and names looked up."""
        return [line for line in self.lines if _NET.search(line) or _NAMES.search(line)]

    def written(self, cwd: Path) -> set[Path]:
        """Named files and folders made, or opened to be written to; anonymous files are none."""
        found = [
            _PLACE.search(line)
            for line in self.lines
            if _WRITES.search(line) and not _ANONYMOUS.search(line)
        ]
        return {cwd / (match["at"] or "") / match["name"] for match in found if match}


def trace_of(file: Path) -> Trace:
    """What was written down; at least that the program did something."""
    lines = tuple(file.read_text("utf-8", errors="replace").splitlines())
    assert any('"/' in line for line in lines), "nothing was traced"
    return Trace(lines)
