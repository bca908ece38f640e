"""Wordings as the net writes them down: `python -m voice.recognisers.net.learning.heard_wordings`.

Some wordings of each meaning are spoken by eSpeak NG and written down freely; what free wording is
learnt from (`voice.words.free.learning`) has them besides, so that it knows how words are misheard.
"""

from __future__ import annotations

import random
import subprocess
import tempfile
import zlib
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from voice.models.model_list import find
from voice.models.models import verify
from voice.recognisers.net.learning.said import read, said
from voice.recognisers.net.moonshine_net import MODEL, Hears, Writes
from voice.recognisers.net.tokens import SPACE, pieces
from voice.sound.ports import RATE_HZ, Samples
from voice.words.free.wordings import HEARD, WORDINGS, wordings

SEED = 7
EACH, OF_NAMES, OF_OTHERS = 30, 120, 300
"""Wordings of a meaning that are spoken; of those that hold names or numbers; of talk."""
NAMES = frozenset({"answer", "yarn", "headof", "stitch", "hook"})
VOICES = ("en-us", "en-gb", "en-gb-x-rp", "en-us+f3", "en-gb+f2", "en-gb-scotland", "en-us+m3")
"""Voices of eSpeak NG; none of them measures free wording by voice."""
_LONGEST_S, _MOST_TOKENS = 12.0, 60


def drawn() -> dict[str, list[str]]:
    """The wordings to be spoken, by meaning."""
    every: dict[str, list[str]] = defaultdict(list)
    for meaning, text in wordings(WORDINGS.read_text("utf-8")):
        every[meaning].append(text)
    rng = random.Random(SEED)
    return {
        meaning: rng.sample(texts, min(_wanted(meaning), len(texts)))
        for meaning, texts in every.items()
    }


def _wanted(meaning: str) -> int:
    return OF_OTHERS if meaning == "none" else OF_NAMES if meaning in NAMES else EACH


def spoken(text: str) -> Samples:
    """A wording by one of the voices, with silence around it."""
    voice = VOICES[zlib.crc32(text.encode()) % len(VOICES)]
    with tempfile.NamedTemporaryFile(suffix=".wav") as file:
        subprocess.run(["espeak-ng", "-v", voice, "-s", "155", "-w", file.name, text], check=True)
        found = [one.samples for one in said(*read(Path(file.name)), text)]
    return np.pad(np.concatenate([*found, np.zeros(0, np.int16)]), (RATE_HZ // 5, RATE_HZ // 4))


class Scribe:
    """Writes down what it hears, a token at a time."""

    def __init__(self) -> None:
        """Load the net."""
        folder = verify(MODEL)
        self._hears, self._writes = Hears(), Writes(folder / find(MODEL).file)
        data = (folder / "tokenizer.bin").read_bytes()
        self._pieces = [piece.decode("utf-8", "replace") for piece in pieces(data)]

    def text(self, samples: Samples) -> str:
        """The words that were said."""
        self._writes.take(self._hears.hear(samples))
        found: list[str] = []
        answer = self._writes.begin()
        while (token := int(answer[0].argmax())) != self._writes.end and len(found) < _MOST_TOKENS:
            found.append(self._pieces[token])
            answer = self._writes.go_on([0], [token])
        return "".join(found).replace(SPACE, " ").strip()


def heard() -> Iterator[str]:
    """Lines of the file: meanings in brackets, and below each what was written down."""
    scribe = Scribe()
    for meaning, texts in drawn().items():
        yield f"[{meaning}]"
        for text in texts:
            sound = spoken(text)
            if len(sound) < _LONGEST_S * RATE_HZ and (line := scribe.text(sound)):
                yield line
        yield ""


if __name__ == "__main__":
    HEARD.write_text("\n".join(heard()), "utf-8")
