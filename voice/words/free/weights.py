"""The learnt classifier, as it is applied: one sparse product and a softmax, in numpy."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from voice.words.free.features import features

FILE = Path(__file__).with_name("weights.npz")
WORDINGS = Path(__file__).with_name("wordings.txt")
"""The wordings that the weights are learnt from."""
NOTHING = "none"
"""The meaning of what is said to somebody else."""


@dataclass(frozen=True)
class Weights:
    """Weights of features for meanings: those far from 0 alone, in eight bits.

    Row `slot` of the matrix is `meanings[rows[slot]:rows[slot + 1]]` with the values there.
    """

    names: tuple[str, ...]
    rarity: npt.NDArray[np.float32]
    """Weight of each slot by how few wordings have it."""
    rows: npt.NDArray[np.int64]
    meanings: npt.NDArray[np.uint8]
    values: npt.NDArray[np.int8]
    scale: float
    bias: npt.NDArray[np.float32]

    def chances(self, text: str) -> dict[str, float]:
        """The chance of every meaning, by its name; they add up to 1."""
        found = features(text)
        slots = np.fromiter(found, np.int64)
        times = np.fromiter(found.values(), np.float64)
        strength = times * self.rarity[slots]
        strength /= max(float(np.linalg.norm(strength)), 1e-9)
        begins, counts = self.rows[slots], self.rows[slots + 1] - self.rows[slots]
        at = np.repeat(begins - np.cumsum(counts) + counts, counts) + np.arange(counts.sum())
        score = self.bias.astype(np.float64)
        weighed = np.repeat(strength * self.scale, counts) * self.values[at]
        np.add.at(score, self.meanings[at], weighed)
        likely = np.exp(score - score.max())
        return dict(zip(self.names, (likely / likely.sum()).tolist(), strict=True))

    def save(self, file: Path) -> None:
        """Write the weights to a file."""
        np.savez_compressed(
            file,
            names=np.array(self.names),
            rarity=self.rarity.astype(np.float16),
            counts=np.diff(self.rows).astype(np.uint8),
            meanings=self.meanings,
            values=self.values,
            scale=np.float64(self.scale),
            bias=self.bias,
            wordings_sha256=np.str_(hashlib.sha256(WORDINGS.read_bytes()).hexdigest()),
        )


def load(file: Path = FILE) -> Weights:
    """Read the weights of a file."""
    with np.load(file, allow_pickle=False) as kept:
        parts: dict[str, Any] = {name: kept[name] for name in kept.files}
    rows = np.concatenate(([0], np.cumsum(parts["counts"], dtype=np.int64)))
    return Weights(
        tuple(map(str, parts["names"])),
        parts["rarity"].astype(np.float32),
        rows,
        parts["meanings"],
        parts["values"],
        float(parts["scale"]),
        parts["bias"],
    )


@cache
def learnt() -> Weights:
    """The weights that come with the program."""
    return load()
