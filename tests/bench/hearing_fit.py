"""Fits the constants that turn what the engines measure into probabilities.

Least mean negative logarithm of the probability given to what was really said (to "no phrase" for
prose), by quasi-Newton steps, with a small pull of every scaled constant to 0 so that separable
data do not run away. First each engine for itself, then the rule that adds the engines up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize  # type: ignore[import-untyped]
from scipy.special import logsumexp  # type: ignore[import-untyped]

from tests.bench.hearing_cases import Case
from voice.hearing.session_expectation import reader_in
from voice.recognisers.calibration import FARTHEST, Calibration
from voice.recognisers.fusion import Rule

Floats = NDArray[np.float64]

PROSE_WEIGHT = 0.01
"""How much all prose counts against all phrases: how rare talk is that the program must
ignore. Of 0.01, 0.03, 0.1 and 0.3 taken after a look at the tuning data that it was fitted on: with
0.03 one of 100 phrases in rooms less is right, and one piece of prose less changes the piece."""
_PULL = 1e-3
_SCALES: Mapping[str, tuple[float, ...]] = {
    "moonshine": (1.0, 1.0, 0.1, 0.3, 1.0),
    "letters": (1.0, 1.0, 0.1, 0.3, 1.0),
}
"""Rough sizes of the constants, by engine, so that one pull serves all."""


@dataclass(frozen=True, slots=True)
class Table:
    """Cases as arrays: a row for each, a column for each phrase any engine found in it."""

    gaps: Mapping[str, Floats]
    """By engine; minus infinity for a phrase it did not find."""
    lengths: Mapping[str, Floats]
    right: NDArray[np.bool_]
    weights: Floats


def table(cases: Sequence[Case]) -> Table:
    """The cases as arrays."""
    phrases = [sorted({w for e in case.evidence.values() for w in e.gaps}) for case in cases]
    shape = (len(cases), max(map(len, phrases)))
    gaps = {name: np.full(shape, -np.inf) for name in cases[0].evidence}
    right = np.zeros(shape, np.bool_)
    for row, (case, found) in enumerate(zip(cases, phrases, strict=True)):
        reader = reader_in(case.state)
        said = case.saying.command if case.saying else None
        for column, words in enumerate(found):
            right[row, column] = said is not None and reader(words) == said
            for name, evidence in case.evidence.items():
                gaps[name][row, column] = evidence.gaps.get(words, -np.inf)
    lengths = {
        name: np.array([max(1.0, case.evidence[name].length) for case in cases]) for name in gaps
    }
    talk = sum(case.saying is None for case in cases)
    share = PROSE_WEIGHT * (len(cases) - talk) / max(1, talk)
    weights = np.array([1.0 if case.saying else share for case in cases])
    return Table(gaps, lengths, right, weights / weights.sum())


def fit_engine(engine: str, data: Table) -> Calibration:
    """The constants of one engine."""
    scales = np.array(_SCALES[engine])
    x = _least(lambda x: _loss(_odds(x * scales, engine, data), data), [1.0, 1.0, 0.0, 1.0, 1.0])
    return Calibration(*(float(f"{value:.4g}") for value in x * scales))


def _odds(constants: Floats, engine: str, data: Table) -> Floats:
    """As Calibration.log_odds, for all rows at once."""
    among, bias, per_length, per_gap, per_density = constants
    gaps, length = data.gaps[engine], data.lengths[engine]
    best = gaps.max(axis=1)
    best = np.where(np.isfinite(best), best, 0.0)
    any_phrase = bias + per_length * length + per_gap * best + per_density * best / length
    odds: Floats = np.minimum(any_phrase[:, None] + among * (gaps - best[:, None]), FARTHEST)
    return odds


def fit_rule(calibrations: Mapping[str, Calibration], data: Table) -> Rule:
    """How the odds of the engines add up."""
    odds = [
        _odds(np.array([c.among, c.bias, c.per_length, c.per_gap, c.per_density]), name, data)
        for name, c in calibrations.items()
    ]
    known = np.any([np.isfinite(mine) for mine in odds], axis=0)
    first = np.any([_first(mine) for mine in odds], axis=0)

    def joint(x: Floats) -> Floats:
        bias, absent, favoured = x[-3:]
        total = np.where(known, bias + favoured * first, -np.inf)
        for weight, mine in zip(x, odds, strict=False):
            worst = np.where(np.isfinite(mine), mine, np.inf).min(axis=1)
            unheard = np.where(np.isfinite(worst), worst, 0.0) - abs(absent)
            total = total + abs(weight) * np.where(np.isfinite(mine), mine, unheard[:, None])
        return np.asarray(total)

    x = _least(lambda x: _loss(joint(x), data), [*[0.7] * len(odds), 0.0, 4.0, 0.0])
    rounded = [float(f"{value:.4g}") for value in x]
    weights = {name: abs(w) for name, w in zip(calibrations, rounded, strict=False)}
    bias, absent, favoured = rounded[-3:]
    return Rule(weights, bias, abs(absent), favoured)


def _first(odds: Floats) -> NDArray[np.bool_]:
    """Which phrase of each row an engine puts first, if it found any."""
    found = np.isfinite(odds).any(axis=1)
    best = np.where(np.isfinite(odds), odds, -np.inf).argmax(axis=1)
    first = np.zeros(odds.shape, np.bool_)
    first[np.flatnonzero(found), best[found]] = True
    return first


def _loss(log_odds: Floats, data: Table) -> float:
    """Mean negative logarithm of the probability of what was said."""
    total = np.logaddexp(0.0, logsumexp(log_odds, axis=1))
    with np.errstate(divide="ignore"):
        said = logsumexp(np.where(data.right, log_odds, -np.inf), axis=1)
    said = np.where(np.isfinite(said), said, 0.0)
    return float((data.weights * (total - said)).sum())


def _least(loss: Callable[[Floats], float], start: list[float]) -> Floats:
    result = minimize(lambda x: loss(x) + _PULL * float(x @ x), np.array(start), method="L-BFGS-B")
    return np.asarray(result.x, dtype=np.float64)
