"""Batches of utterances to learn from."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from voice.models.models import verify
from voice.recognisers.net.learning import spelling
from voice.recognisers.net.learning.bank import Bank
from voice.recognisers.net.learning.mixing import Drawn, Mixer
from voice.recognisers.net.learning.speaking import SOURCES, noises_in, rooms_in, said_by
from voice.recognisers.net.learning.texts import as_written
from voice.recognisers.net.moonshine_net import MODEL
from voice.recognisers.net.tokens import read_vocabulary
from voice.sound.ports import RATE_HZ

_TOGETHER, _LONGEST_S, _MOST_TOKENS = 6, 6.5, 28
"""So many batches are drawn at once and cut by length; longer utterances are left out."""
_STEP_S, _STEP_TOKENS = 0.5, 4
"""Lengths are multiples of these: few different ones are faster."""
_FASTER, _SPEEDS, _PAUSE_S = 0.6, (0.82, 1.2), (0.25, 0.9)
"""How many are said faster or slower; how much; and the pauses around the longest of a batch."""


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

    def __init__(self, folder: Path, seed: int, size: int, device: str) -> None:
        """Read what was spoken."""
        spoken = {
            name: [one for one in every if len(one.samples) < _LONGEST_S * RATE_HZ]
            for name, every in said_by(folder).items()
        }
        everybody = [one for every in spoken.values() for one in every]
        noises = noises_in(folder)
        self._bank = Bank([*(one.samples for one in everybody), *noises], device)
        last = len(everybody)
        self._mixer = Mixer(self._bank, last, range(last, last + len(noises)), rooms_in(folder))
        self._numbers, first = list[range](), 0
        for every in spoken.values():
            self._numbers.append(range(first, first + len(every)))
            first += len(every)
        self._seed, self._size = seed, size
        words = read_vocabulary((verify(MODEL) / "tokenizer.bin").read_bytes())
        texts = [one.words or "" for one in everybody]
        self._tokens = [(1, *words.cut(as_written(text)), 2) for text in texts]
        self._letters = [spelling.letters(text) for text in texts]

    def __getitem__(self, number: int) -> Batch:
        """The batch of a number from 0 on."""
        together, part = divmod(number, _TOGETHER)
        rng = random.Random(f"{self._seed} {together}")
        shares = [source.share for source in SOURCES.values()]
        sources = rng.choices(self._numbers, shares, k=_TOGETHER * self._size)
        drawn = [(rng.choice(source), self._speed(rng)) for source in sources]
        drawn.sort(key=lambda one: self._bank.lengths[one[0]] / one[1])
        parts = [drawn[n : n + self._size] for n in range(0, len(drawn), self._size)]
        rng.shuffle(parts)
        return self._batch(parts[part], random.Random(f"{self._seed} batch {number}"))

    def _speed(self, rng: random.Random) -> float:
        return rng.uniform(*_SPEEDS) if rng.random() < _FASTER else 1.0

    def _batch(self, group: list[tuple[int, float]], rng: random.Random) -> Batch:
        import torch

        numbers, speeds = np.array([n for n, _ in group]), np.array([speed for _, speed in group])
        lasts = self._bank.lengths[numbers] / speeds
        size = lasts.max() + rng.uniform(*_PAUSE_S) * RATE_HZ
        size = _up(size, int(_STEP_S * RATE_HZ))
        size = min(max(size, RATE_HZ), int(_LONGEST_S * RATE_HZ))
        leads = np.array([rng.uniform(0, max(0.0, size - last)) for last in lasts])
        drawn = Drawn(numbers, speeds, leads)
        clean, heard = self._mixer.pairs(drawn, size, rng.getrandbits(32))
        tokens = [self._tokens[n] if len(self._tokens[n]) < _MOST_TOKENS else () for n in numbers]
        letters = [
            self._letters[n] if text else [] for n, text in zip(numbers, tokens, strict=True)
        ]
        made = (
            _table(tokens, -1, _up(max(map(len, tokens)), _STEP_TOKENS) + 1),
            _table(letters, 0, max(1, *map(len, letters))),
            np.array([*map(len, letters)]),
        )
        return Batch(clean, heard, *(torch.from_numpy(one).to(clean.device) for one in made))


def _table(rows: Sequence[Sequence[int]], nothing: int, width: int) -> Any:
    table = np.full((len(rows), width), nothing)
    for row, numbers in zip(table, rows, strict=True):
        row[: len(numbers)] = numbers
    return table


def _up(size: float, step: int) -> int:
    """The least multiple that is not smaller, and not 0."""
    return step * max(1, math.ceil(size / step))
