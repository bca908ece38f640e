"""Learning: what the half that hears makes of a room is to be what it made of clean speech.

Three errors are added: that of the text which the other half, left as it was, writes from it, where
the words are known; that of the letters which a small net on top of it tells there; and the
distance from what the published net hears without the room.
"""

from __future__ import annotations

import math
import random
import re
import time
from collections.abc import Iterable, Iterator
from itertools import chain
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from voice.models.models import verify
from voice.recognisers.net.learning import net, spelling
from voice.recognisers.net.learning.mixing import Mixer, faster, whole
from voice.recognisers.net.learning.noises import Sound
from voice.recognisers.net.learning.said import Said
from voice.recognisers.net.learning.speaking import spoken
from voice.recognisers.net.moonshine_net import MODEL
from voice.recognisers.net.tokens import read_vocabulary
from voice.sound.ports import RATE_HZ
from voice.words.spoken_numbers import ONES, TENS

WEIGHTS = "learnt.pt"
_SIZE, _LONGEST_S, _MOST_TOKENS = 16, 6.5, 28
_STEP_S, _STEP_TOKENS = 0.5, 4
"""Lengths are multiples of these: few different ones are faster."""
_COMPARED = 6
"""So many of a batch are compared with what the published net hears."""
_PEAK = 2e-4
_SPELLS_FASTER, _SPELLS_COUNTS = 5.0, 0.4
"""How much larger the steps are of what tells letters, and how much its error counts."""
_SPELLS_ALONE = 150
"""So many steps its error changes nothing but itself."""
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
_AVERAGED = 0.015
_FIXED = ("conv1", "groupnorm")
"""The first steps stay as published: to learn them takes as long as all others."""
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


def learn(folder: Path, minutes: float, begin: Path | None = None) -> None:
    """Learn for so long, from the published weights or a state; the mean of the last is written."""
    import torch

    model, published = net.published(), net.published().model.encoder
    model.requires_grad_(requires_grad=False)
    published.requires_grad_(requires_grad=False)
    hears = model.model.encoder
    spells = spelling.spells()
    if begin is not None:
        known = {name: torch.tensor(value) for name, value in net.learnt(begin).items()}
        kept = {name: value for name, value in known.items() if name.startswith(spelling.PREFIX)}
        hears.load_state_dict({name: known[name] for name in known.keys() - kept.keys()})
        if kept:
            spells.load_state_dict({n.removeprefix(spelling.PREFIX): kept[n] for n in kept})
    for name, weight in hears.named_parameters():
        weight.requires_grad_(not name.startswith(_FIXED))
    learnt = [weight for weight in hears.parameters() if weight.requires_grad]
    for layer in (*hears.layers, *published.layers):
        layer.compile(dynamic=True)
    steps = torch.optim.AdamW(
        [
            {"params": learnt, "times": 1.0},
            {"params": spells.parameters(), "times": _SPELLS_FASTER},
        ],
        lr=_PEAK,
        weight_decay=0.01,
        betas=(0.9, 0.98),
    )
    mean = {name: value.clone() for name, value in _state(hears, spells).items()}
    began = time.monotonic()
    for number, batch in enumerate(_beside(Batches(folder, 1)), 1):
        done = (time.monotonic() - began) / 60 / minutes
        if done > 1:
            break
        rate = _PEAK * min(1, number / 200) * (0.485 * (1 + math.cos(math.pi * done)) + 0.03)
        for group in steps.param_groups:
            group["lr"] = rate * group["times"]
        error, distance, heard = _errors(model, published, batch)
        found = spells(heard if number > _SPELLS_ALONE else heard.detach())
        misspelled = spelling.loss(found, batch.letters, batch.lengths)
        steps.zero_grad()
        (error + distance + _SPELLS_COUNTS * misspelled).backward()
        torch.nn.utils.clip_grad_norm_([*learnt, *spells.parameters()], 1.0)
        steps.step()
        for name, value in _state(hears, spells).items():
            mean[name].lerp_(value, _AVERAGED)
        if number % 100 == 0:
            errors = ", ".join(
                f"{name} {float(value):.3f}"
                for name, value in (("text", error), ("sound", distance), ("letters", misspelled))
            )
            print(f"{done:.0%}: step {number}, {errors}", flush=True)
    torch.save(mean, folder / WEIGHTS)


def _beside(batches: Batches) -> Iterable[Batch]:
    """The same, made by another process while one is learnt from."""
    from torch.utils.data import DataLoader, IterableDataset

    class Made(IterableDataset):  # type: ignore[misc]  # torch is there only to learn
        def __iter__(self) -> Iterator[Batch]:
            return iter(batches)

    made: Iterable[Batch] = DataLoader(Made(), batch_size=None, num_workers=1, prefetch_factor=4)
    return made


def _state(hears: Any, spells: Any) -> dict[str, Any]:
    own = {spelling.PREFIX + name: value for name, value in spells.state_dict().items()}
    return {**hears.state_dict(), **own}


def _errors(model: Any, published: Any, batch: Batch) -> tuple[Any, Any, Any]:
    """Cross entropy of the next token, mean square distance as a share of the variance, and what
    was heard.
    """
    import torch

    text = batch.tokens
    known = (text >= 0).any(dim=1)
    compared = torch.argsort(known + 0.5 * torch.rand(len(known)))[:_COMPARED]
    with torch.autocast("cpu", dtype=torch.bfloat16):
        with torch.no_grad():
            wanted = published(batch.clean[compared]).last_hidden_state
        found = model.model.encoder(batch.heard).last_hidden_state
        fed, following = text[:, :-1].clamp(min=0), text[:, 1:]
        written = model.model.decoder(input_ids=fed, encoder_hidden_states=found)
        scores = model.proj_out(written.last_hidden_state)
    wanted, alike = wanted.float(), found[compared].float()
    distance = ((alike - wanted) ** 2).mean() / ((wanted - wanted.mean((0, 1))) ** 2).mean()
    error = torch.nn.functional.cross_entropy(
        scores.float().flatten(0, 1), following.flatten(), ignore_index=-1, reduction="sum"
    )
    return error / max(1, int((following >= 0).sum())), distance, found.float()
