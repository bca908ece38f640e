"""A call by voice on the screen, and recordings of the maker where they were asked for."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from voice.sentences import hearing as words
from voice.sound.endpoint import Segment
from voice.sound.ports import Condition
from voice.sound.sound_watch import utterance_condition
from voice.sound.wav import as_wav

if TYPE_CHECKING:
    from voice.hearing.evidence import Verdict


@dataclass(frozen=True, slots=True)
class KeepsNoMore:
    """Recordings of the maker can no longer be written."""

    sentence: str


def _for_owner(path: str, flags: int) -> int:
    """Open a new file that only its owner can read."""
    return os.open(path, flags, 0o600)


class Screen:
    """Prints what is said and heard, and keeps recordings only if asked to."""

    def __init__(
        self, keep_in: Path | None = None, beside: Callable[[str], None] | None = None
    ) -> None:
        """`keep_in` is the folder for recordings of the maker; `beside` shows the words too."""
        self._beside = beside
        self._keep_in = keep_in
        self._kept = 1
        self._level: type[Condition] | None = None

    def said(self, text: str) -> None:
        """Print the program's words."""
        print(text, flush=True)
        if self._beside is not None:
            self._beside(text)

    def heard(self, segment: Segment, what: Verdict) -> Condition | None:
        """Print the maker's words, and a new level problem; returns a failure to keep the sound."""
        if what.text:
            print(f"> {what.text}", flush=True)
        condition = utterance_condition(segment.samples)
        if condition is not None and type(condition) is not self._level:
            self.trouble(condition)
        self._level = type(condition) if condition is not None else None
        return self._kept_no_more(segment) if self._keep_in is not None else None

    def trouble(self, condition: Condition) -> None:
        """Print a condition of the sound."""
        print(f"[{condition.sentence}]", flush=True)

    def _kept_no_more(self, segment: Segment) -> Condition | None:
        """Keep the recording; if that fails, stop keeping and return a condition to tell."""
        assert self._keep_in is not None
        while (file := self._keep_in / f"{self._kept:05d}.wav").exists():
            self._kept += 1
        try:
            # x: never write to an existing file or a link
            with open(file, "xb", opener=_for_owner) as kept:
                kept.write(as_wav(segment.samples))
        except OSError as error:
            self._keep_in = None
            return KeepsNoMore(words.keeps_no_more(file, error))
        return None
