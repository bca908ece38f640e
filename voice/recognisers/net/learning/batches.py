"""Batches of utterances to learn from."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterable, Iterator
from itertools import chain
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from voice.models.models import verify
from voice.recognisers.net.learning import spelling
from voice.recognisers.net.learning.mixing import Mixer, faster, whole
from voice.recognisers.net.learning.noises import Sound
from voice.recognisers.net.learning.said import Said
from voice.recognisers.net.learning.speaking import spoken
from voice.recognisers.net.moonshine_net import MODEL
from voice.recognisers.net.tokens import read_vocabulary
from voice.sound.ports import RATE_HZ
from voice.words.spoken_numbers import ONES, TENS

_SIZE, _LONGEST_S, _MOST_TOKENS = 16, 6.5, 28
_STEP_S, _STEP_TOKENS = 0.5, 4
"""Lengths are multiples of these: few different ones are faster."""
_SHARES = {
    "kokoro": 0.30,
    "warped": 0.16,
    "mbrola": 0.15,
    "named": 0.10,
    "prompts": 0.08,
    "pico": 0.07,
    "espeak": 0.06,
    "festival": 0.05,
    "flite": 0.05,
}
"""How often an utterance of each source is taken; people come beside them."""
_PEOPLE = 0.11
_TENS = re.compile(rf"\b({'|'.join(TENS)}) ({'|'.join(ONES)})\b")


class Batch(NamedTuple):
    """Utterances; of sounds the samples, of texts the tokens and the letters."""

    clean: Any
    heard: Any
    """In a room."""
    tokens: Any
    """-1 where there is none."""
    letters: Any
    lengths: Any
    """Of the letters of each."""


class Batches:
    """Utterances with their texts, of about one length each time."""

    def __init__(self, folder: Path, seed: int) -> None:
        """Read what was spoken."""
        said = spoken(folder)
        self._people = said["people"]
        self._spoken = [said[name] for name in _SHARES]
        self._rng = random.Random(seed)
        self._mixer = Mixer([*self._people, *chain(*self._spoken)], seed)
        self._words = read_vocabulary((verify(MODEL) / "tokenizer.bin").read_bytes())

    def __iter__(self) -> Iterator[Batch]:
        """One after the other."""
        while True:
            drawn = [self._drawn() for _ in range(6 * _SIZE)]
            drawn.sort(key=lambda said: len(said.samples))
            for first in range(0, len(drawn), _SIZE):
                yield self._batch(drawn[first : first + _SIZE])

    def _drawn(self) -> Said:
        rng = self._rng
        if rng.random() < _PEOPLE:
            return rng.choice(self._people)
        (source,) = rng.choices(self._spoken, tuple(_SHARES.values()))
        return rng.choice(source)

    def _batch(self, group: list[Said]) -> Batch:
        rng = self._rng
        sounds: list[Sound] = [whole(said) for said in group]
        sounds = [faster(s, 0.82, 1.2, rng) if rng.random() < 0.6 else s for s in sounds]
        size = max(map(len, sounds)) + int(rng.uniform(0.25, 0.9) * RATE_HZ)
        size = min(max(_up(size, int(_STEP_S * RATE_HZ)), RATE_HZ), int(_LONGEST_S * RATE_HZ))
        pairs = [self._mixer.pair(sound[:size], size) for sound in sounds]
        texts = [self._tokens(said.words) for said in group]
        table = np.full((len(texts), _up(max(map(len, texts)), _STEP_TOKENS) + 1), -1)
        for row, text in zip(table, texts, strict=True):
            row[: len(text)] = text
        spelled = [
            spelling.letters(said.words or "") if text else []
            for said, text in zip(group, texts, strict=True)
        ]
        lengths = np.array([*map(len, spelled)])
        letters = np.zeros((len(spelled), max(1, lengths.max())), np.int64)
        for row, word in zip(letters, spelled, strict=True):
            row[: len(word)] = word
        clean, heard = (np.stack(side).astype(np.float32) for side in zip(*pairs, strict=True))
        return Batch(clean, heard, table, letters, lengths)

    def _tokens(self, words: str | None) -> tuple[int, ...]:
        """As the net writes it: a capital, a full stop, hyphens in numbers; or nothing."""
        if words is None:
            return ()
        if not re.search("[A-Z.?!]", words):
            words = re.sub(r"\bi\b", "I", _TENS.sub(r"\1-\2", words))
            words = words[0].upper() + words[1:] + "."
        tokens = (1, *self._words.cut(words), 2)
        return tokens if len(tokens) < _MOST_TOKENS else ()


def _up(size: int, step: int) -> int:
    """The least multiple that is not smaller, and not 0."""
    return step * max(1, math.ceil(size / step))


def beside(batches: Batches) -> Iterable[Batch]:
    """The same, made by another process while one is learnt from."""
    from torch.utils.data import DataLoader, IterableDataset

    class Made(IterableDataset):  # type: ignore[misc]  # torch is there only to learn
        def __iter__(self) -> Iterator[Batch]:
            return iter(batches)

    made: Iterable[Batch] = DataLoader(Made(), batch_size=None, num_workers=1, prefetch_factor=4)
    return made
