"""How words sound, from the file that comes with pocketsphinx: without its decoder around it.

Source: the CMU Pronouncing Dictionary in that package, a line an entry: the word, its sounds in
ARPABET; further ways to say it stand under "word(2)", "word(3)".
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from pathlib import Path

import pocketsphinx


class Dictionary:
    """Looks words up in the file, and keeps those alone."""

    def __init__(self, file: Path | None = None) -> None:
        """Use the file of the package, or another one."""
        self._file = file or Path(pocketsphinx.get_model_path("en-us")) / "cmudict-en-us.dict"
        self._asked: set[str] = set()
        self._entries: dict[str, str] = {}

    def lookup(self, words: Collection[str]) -> Callable[[str], str | None]:
        """What answers for these words, and "word(2)" and so on. Raises: OSError."""
        if not self._asked.issuperset(words):
            self._asked.update(words)
            with self._file.open(encoding="utf-8") as lines:
                for line in lines:
                    entry, _, sounds = line.partition(" ")
                    if entry.partition("(")[0] in self._asked:
                        self._entries[entry] = sounds.strip()
        return self._entries.get
