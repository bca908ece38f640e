"""Speech to learn from, and where it comes from; the noises and rooms that are put around it."""

from __future__ import annotations

import hashlib
import math
import pickle
import random
from collections.abc import Callable, Collection, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import cpu_count, get_context
from pathlib import Path
from typing import Any

import numpy as np

from voice.recognisers.net.learning import kokoro, random_rooms, synthesis
from voice.recognisers.net.learning.noises import NOISES
from voice.recognisers.net.learning.random_rooms import Room
from voice.recognisers.net.learning.said import Said
from voice.recognisers.net.learning.synthesis import Line
from voice.recognisers.net.learning.texts import NAME, Texts, read
from voice.sound.ports import RATE_HZ, Samples


@dataclass(frozen=True, slots=True)
class Source:
    """An engine that speaks; it has its row in the table of `voice/licences/net.md`."""

    lines: Callable[[Texts, random.Random], Iterator[Line]]
    most: int
    """So many of the lines are said."""
    share: float
    """Of what is learnt from."""


SOURCES = {
    "kokoro": Source(synthesis.kokoro_lines, 7_600, 0.55),
    "espeak": Source(synthesis.espeak_lines, 12_000, 0.28),
    "flite": Source(synthesis.flite_lines, 6_000, 0.17),
}
_AT_ONCE = 6
"""Lines that a process is given together."""
_NOISES = {"music": 300, "swell": 200, "white": 40, "clicks": 120, "pink": 140}
"""So many of each."""
_NOISE_S, _NOISE_PEAK = 15, 16_000
_ROOMS = (16, 25)
"""So many groups, and rooms in each."""
PARTS = ("rooms", "noises", *SOURCES)
"""Files that are written."""


def speak_all(folder: Path, parts: Collection[str] = PARTS, share: float = 1.0) -> None:
    """Write rooms, noises and the speech of each engine into the folder, or a share of them.

    Raises: NoTexts.
    """
    texts = read(folder / NAME)
    if "kokoro" in parts:
        kokoro.put_together()
    with ProcessPoolExecutor(cpu_count(), mp_context=get_context("spawn")) as workers:
        for name in parts:
            made: Iterable[Iterable[Any]]
            if name == "rooms":
                made = workers.map(_rooms, range(math.ceil(share * _ROOMS[0])))
            elif name == "noises":
                kinds = [(kind, n) for kind, most in _NOISES.items() for n in range(most)]
                made = workers.map(_noise, kinds[:: round(1 / share)], chunksize=10)
            else:
                source = SOURCES[name]
                lines = [*source.lines(texts, random.Random(name))][: round(share * source.most)]
                groups = [lines[n : n + _AT_ONCE] for n in range(0, len(lines), _AT_ONCE)]
                made = workers.map(synthesis.spoken, groups)
            _keep(folder, name, [one for group in made for one in group])


def _rooms(seed: int) -> list[Room]:
    return random_rooms.rooms(seed, _ROOMS[1])


def _noise(kind_and_seed: tuple[str, int]) -> list[Samples]:
    kind, seed = kind_and_seed
    rng = np.random.default_rng([*kind.encode(), seed])
    sound = NOISES[kind](rng, _NOISE_S * RATE_HZ)
    return [(sound * (_NOISE_PEAK / np.abs(sound).max())).round().astype(np.int16)]


def _keep(folder: Path, name: str, made: list[Any]) -> None:
    kept = pickle.dumps(made)
    (folder / f"{name}.pickle").write_bytes(kept)
    minutes = sum(len(one.samples) for one in made if isinstance(one, Said)) / RATE_HZ / 60
    hashed = hashlib.sha256(kept).hexdigest()[:16]
    print(f"{name}: {len(made)}, {minutes:.0f} minutes of speech, sha256 {hashed}", flush=True)


def said_by(folder: Path) -> dict[str, list[Said]]:
    """The speech that `speak_all` wrote, by engine."""
    return {name: _kept(folder, name) for name in SOURCES}


def noises_in(folder: Path) -> list[Samples]:
    """The noises that it wrote."""
    noises: list[Samples] = _kept(folder, "noises")
    return noises


def rooms_in(folder: Path) -> list[Room]:
    """The rooms that it wrote."""
    rooms: list[Room] = _kept(folder, "rooms")
    return rooms


def _kept(folder: Path, name: str) -> Any:
    return pickle.loads((folder / f"{name}.pickle").read_bytes())
