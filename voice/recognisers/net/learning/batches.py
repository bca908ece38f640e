"""Batches of utterances to learn from."""

from __future__ import annotations

import math
import os
import random
from collections.abc import Iterable
from itertools import chain
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from voice.models.models import verify
from voice.recognisers.net.learning import spelling
from voice.recognisers.net.learning.mixing import Mixer, faster, rooms, whole
from voice.recognisers.net.learning.noises import Sound
from voice.recognisers.net.learning.said import Said
from voice.recognisers.net.learning.speaking import SOURCES, said_by
from voice.recognisers.net.learning.texts import as_written
from voice.recognisers.net.moonshine_net import MODEL
from voice.recognisers.net.tokens import read_vocabulary
from voice.sound.ports import RATE_HZ

_TOGETHER, _LONGEST_S, _MOST_TOKENS = 6, 6.5, 28
"""So many batches are drawn at once and cut by length; longer utterances are left out."""
_STEP_S, _STEP_TOKENS = 0.5, 4
"""Lengths are multiples of these: few different ones are faster."""
_ROOMS_SEED = 3


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
    """Utterances with their texts, of about one length each time; the same for the same number."""

    def __init__(self, folder: Path, seed: int, size: int) -> None:
        """Read what was spoken."""
        said = said_by(folder)
        self._spoken = [[one for one in said[name] if _short(one)] for name in SOURCES]
        self._everybody = [*chain(*self._spoken)]
        self._seed, self._size = seed, size
        self._rooms = rooms(_ROOMS_SEED)
        self._words = read_vocabulary((verify(MODEL) / "tokenizer.bin").read_bytes())

    def __getitem__(self, number: int) -> Batch:
        """The batch of a number from 0 on."""
        together, part = divmod(number, _TOGETHER)
        rng = random.Random(f"{self._seed} {together}")
        shares = [source.share for source in SOURCES.values()]
        sources = rng.choices(self._spoken, shares, k=_TOGETHER * self._size)
        drawn = [rng.choice(source) for source in sources]
        drawn.sort(key=lambda said: len(said.samples))
        parts = [drawn[n : n + self._size] for n in range(0, len(drawn), self._size)]
        rng.shuffle(parts)
        own = random.Random(f"{self._seed} batch {number}")
        return self._batch(parts[part], own)

    def _batch(self, group: list[Said], rng: random.Random) -> Batch:
        mixer = Mixer(self._everybody, self._rooms, rng.getrandbits(32))
        sounds: list[Sound] = [whole(said) for said in group]
        sounds = [faster(s, 0.82, 1.2, rng) if rng.random() < 0.6 else s for s in sounds]
        size = max(map(len, sounds)) + int(rng.uniform(0.25, 0.9) * RATE_HZ)
        size = min(max(_up(size, int(_STEP_S * RATE_HZ)), RATE_HZ), int(_LONGEST_S * RATE_HZ))
        pairs = [mixer.pair(sound[:size], size) for sound in sounds]
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
        """As the net writes it, or nothing."""
        if words is None:
            return ()
        tokens = (1, *self._words.cut(as_written(words)), 2)
        return tokens if len(tokens) < _MOST_TOKENS else ()


def _short(said: Said) -> bool:
    return len(said.samples) < _LONGEST_S * RATE_HZ


def _up(size: int, step: int) -> int:
    """The least multiple that is not smaller, and not 0."""
    return step * max(1, math.ceil(size / step))


def beside(batches: Batches, numbers: range) -> Iterable[Batch]:
    """Batches of these numbers, made by other processes while one is learnt from."""
    from torch.utils.data import DataLoader, Dataset

    class Made(Dataset):  # type: ignore[misc]  # torch is there only to learn
        def __len__(self) -> int:
            return len(numbers)

        def __getitem__(self, place: int) -> Batch:
            return batches[numbers[place]]

    workers = max(1, (os.cpu_count() or 2) - 1)
    made: Iterable[Batch] = DataLoader(
        Made(), batch_size=None, num_workers=workers, prefetch_factor=2
    )
    return made
