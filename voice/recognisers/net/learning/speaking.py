"""Speech to learn from, and where it comes from."""

from __future__ import annotations

import hashlib
import pickle
import random
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import cpu_count
from pathlib import Path

from voice.recognisers.net.learning import synthesis
from voice.recognisers.net.learning.said import Said
from voice.recognisers.net.learning.synthesis import Line
from voice.recognisers.net.learning.texts import NAME, Texts, read
from voice.sound.ports import RATE_HZ


@dataclass(frozen=True, slots=True)
class Source:
    """An engine that speaks; it has its row in the table of `voice/licences/net.md`."""

    lines: Callable[[Texts, random.Random], Iterator[Line]]
    most: int
    """So many of the lines are said."""
    share: float
    """Of what is learnt from."""


SOURCES = {
    "kokoro": Source(synthesis.kokoro_lines, 2_100, 0.5),
    "espeak": Source(synthesis.espeak_lines, 12_000, 0.3),
    "flite": Source(synthesis.flite_lines, 6_000, 0.2),
}
_AT_ONCE = 6
"""Lines that a process is given together."""


def speak_all(folder: Path, share: float = 1.0) -> None:
    """Write all speech, or a share of each engine's, into the folder: a file for each engine.

    Raises: NoTexts.
    """
    texts = read(folder / NAME)
    with ProcessPoolExecutor(cpu_count()) as workers:
        for name, source in SOURCES.items():
            lines = [*source.lines(texts, random.Random(name))]
            kept = lines[: round(share * source.most)]
            parts = [kept[n : n + _AT_ONCE] for n in range(0, len(kept), _AT_ONCE)]
            spoken_parts = workers.map(synthesis.spoken, parts)
            _keep(folder, name, (one for part in spoken_parts for one in part))


def _keep(folder: Path, name: str, source: Iterable[Said]) -> None:
    said = list(source)
    minutes = sum(len(one.samples) for one in said) / RATE_HZ / 60
    kept = pickle.dumps(said)
    (folder / f"{name}.pickle").write_bytes(kept)
    hashed = hashlib.sha256(kept).hexdigest()[:16]
    print(f"{name}: {len(said)} utterances, {minutes:.0f} minutes, sha256 {hashed}", flush=True)


def said_by(folder: Path) -> dict[str, list[Said]]:
    """Output of `speak_all`, by engine."""
    return {name: pickle.loads((folder / f"{name}.pickle").read_bytes()) for name in SOURCES}
