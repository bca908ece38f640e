"""Learns the weights: `python -m voice.words.free.learning`, from the wordings beside it.

Features weighed by their rarity, one logistic regression over all meanings (scikit-learn, which
the program itself does not need), and of its weights those that matter. Nothing is drawn by
chance: the same wordings give the same weights.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from scipy import sparse  # type: ignore[import-untyped]
from sklearn.linear_model import LogisticRegression

from voice.words.free.features import SLOTS, features
from voice.words.free.weights import FILE, WORDINGS, Weights

STRENGTH = 30.0
"""Inverse of the penalty on weights; found on wordings kept apart, see `bench words`."""
LEAST = 0.12
"""Weights nearer to 0 than this are left out: the file gets a fifth of its size, and of wordings
kept apart as many are right."""


def wordings(text: str) -> Iterator[tuple[str, str]]:
    """Meaning and wording of each line; a line in brackets names the meaning of those below it."""
    meaning = ""
    for line in text.splitlines():
        if line.startswith("["):
            meaning = line.strip("[]")
        elif line.strip():
            yield meaning, line


def matrix(texts: Iterable[str]) -> sparse.csr_matrix:
    """Features of texts: a row each, a column a slot."""
    rows = [features(text) for text in texts]
    ends = np.cumsum([0, *map(len, rows)])
    slots = np.fromiter((slot for row in rows for slot in row), np.int64, ends[-1])
    times = np.fromiter((value for row in rows for value in row.values()), np.float64, ends[-1])
    return sparse.csr_matrix((times, slots, ends), (len(rows), SLOTS))


def learn(pairs: list[tuple[str, str]]) -> Weights:
    """The weights from pairs of meaning and wording."""
    counts = matrix(text for _, text in pairs)
    seen = np.bincount(counts.indices, minlength=SLOTS)
    rarity = np.log((1 + len(pairs)) / (1 + seen)) + 1
    weighed = counts.multiply(rarity).tocsr()
    length = np.sqrt(np.asarray(weighed.multiply(weighed).sum(axis=1)).ravel())
    model = LogisticRegression(C=STRENGTH, max_iter=150)
    model.fit(sparse.diags(1 / length) @ weighed, [meaning for meaning, _ in pairs])
    return _pruned(model, rarity)


def _pruned(model: LogisticRegression, rarity: np.ndarray) -> Weights:
    weights = np.where(np.abs(model.coef_.T) >= LEAST, model.coef_.T, 0.0)
    scale = float(np.abs(weights).max()) / 127
    eight_bits = np.round(weights / scale).astype(np.int8)
    slots, meanings = np.nonzero(eight_bits)
    rows = np.concatenate(([0], np.cumsum(np.bincount(slots, minlength=SLOTS))))
    return Weights(
        tuple(map(str, model.classes_)),
        rarity.astype(np.float32),
        rows,
        meanings.astype(np.uint8),
        eight_bits[slots, meanings],
        scale,
        model.intercept_.astype(np.float32),
    )


if __name__ == "__main__":
    learn(list(wordings(WORDINGS.read_text("utf-8")))).save(FILE)
