"""Something that was said, on its way to the process that draws and serves it."""

from __future__ import annotations

import pickle
from base64 import b64decode, b64encode
from dataclasses import dataclass, replace

from pattern.session.state import State


@dataclass(frozen=True, slots=True)
class Said:
    """Something that was said, and the session that it was said in."""

    text: str
    """Full words, as they are spoken."""
    state: State

    def as_line(self) -> bytes:
        """One line, for a process of this program alone; the page shows nothing of earlier turns,
        so they stay behind: a long piece has many.
        """
        now = replace(self.state, made=None, taken=None, undo=None)
        return b64encode(pickle.dumps(Said(self.text, now))) + b"\n"

    @classmethod
    def of_line(cls, line: bytes) -> Said:
        """The same, from a line of the parent process; never give it anything else."""
        said: Said = pickle.loads(b64decode(line))
        return said
