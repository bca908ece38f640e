"""What is left when all is over: files in the temporary folder, processes, and peaks of memory."""

from __future__ import annotations

import random
import time
import uuid
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.attack.field import Field

MARK = "ROUNDS_ATTACK"
MOST_MB = 350
GRACE_S = 10.0
"""A child of a killed process may take so long to see that it is alone."""


class Watch:
    """Marks all processes of the attack, and gives them a temporary folder to leave things in."""

    def __enter__(self) -> Watch:
        """Begin with an empty folder."""
        self._folder = TemporaryDirectory(prefix="attack tmp ")
        self._mark = uuid.uuid4().hex
        self.marked = {MARK: self._mark, "TMPDIR": self._folder.name}
        return self

    def __exit__(self, *_: object) -> None:
        """Take the folder away."""
        self._folder.cleanup()

    def afterwards(self, place: Path) -> Iterator[tuple[str, Field]]:
        """A row for each thing that may be left."""
        import resource

        fields = [Field(random.Random(0), place, {}, 0.0) for _ in range(3)]
        until_s = time.monotonic() + GRACE_S
        while (alive := list(self._alive())) and time.monotonic() < until_s:
            time.sleep(0.1)
        left = sorted(path.name for path in Path(self._folder.name).iterdir())
        fields[0].check(f"{len(left)} files left" if left else None, left[:5])
        fields[1].check(f"{len(alive)} processes left" if alive else None, alive[:5])
        peak_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        fields[2].check("too much" if peak_mb > MOST_MB else None, f"{peak_mb:.0f} MB")
        yield "files left", fields[0]
        yield "processes left", fields[1]
        yield f"peak memory ({peak_mb:.0f} MB)", fields[2]

    def _alive(self) -> Iterator[str]:
        """The command lines of marked processes."""
        for process in Path("/proc").glob("[0-9]*"):
            try:
                if f"{MARK}={self._mark}".encode() in (process / "environ").read_bytes():
                    words = (process / "cmdline").read_bytes().split(b"\0")
                    yield f"{process.name} {b' '.join(words)[:200]!r}"
            except OSError:  # it ended meanwhile, or is another user's
                continue
