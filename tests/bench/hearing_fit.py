"""Fits the constants that turn what the engines measure into probabilities.

Least mean negative logarithm of the probability given to what was really said (to "no phrase" for
prose), with a small pull of every constant to 0 so that separable data do not run away.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize  # type: ignore[import-untyped]

from tests.bench.hearing_cases import Case
from voice.phrases import read
from voice.ports_hearing import Hypothesis
from voice.recognisers.agreement import Rule, joint
from voice.recognisers.calibration import Calibration, hypotheses

PROSE_WEIGHT = 3.0
"""How much an utterance of prose counts against a phrase: a false action is worse than a miss."""
_PULL = 1e-3
_LEAST = 1e-6
_SCALES: Mapping[str, tuple[float, ...]] = {
    "sphinx": (0.01, 1.0, 0.01, 0.001, 0.1), "ctc": (1.0, 1.0, 0.1, 0.1, 10.0)
}  # fmt: skip
"""Rough sizes of the constants, by engine, so that one pull serves all."""


def fit_engine(engine: str, cases: Sequence[Case]) -> Calibration:
    """The constants of one engine."""

    def made(x: NDArray[np.float64]) -> Calibration:
        return Calibration(*(float(v * s) for v, s in zip(x, _SCALES[engine], strict=True)))

    def loss(x: NDArray[np.float64]) -> float:
        calibration = made(x)
        return _loss(cases, lambda c: hypotheses(calibration.log_odds(c.evidence[engine]))) + (
            _PULL * float(x @ x)
        )

    return made(_least(loss, [1.0, 1.0, 0.0, 1.0, 1.0]))


def fit_rule(calibrations: Mapping[str, Calibration], cases: Sequence[Case], needed: int) -> Rule:
    """How the odds of the engines add up."""
    odds = [{name: c.log_odds(case.evidence[name]) for name, c in calibrations.items()}
            for case in cases]  # fmt: skip
    found = dict(zip(map(id, cases), odds, strict=True))

    def made(x: NDArray[np.float64]) -> Rule:
        weights = {name: float(abs(w)) for name, w in zip(calibrations, x, strict=False)}
        return Rule(needed, weights, float(x[-2]), float(abs(x[-1])))

    def loss(x: NDArray[np.float64]) -> float:
        rule = made(x)
        return _loss(cases, lambda c: joint(found[id(c)], rule)) + (_PULL * float(x @ x))

    return made(_least(loss, [*[0.7] * len(calibrations), 0.0, 4.0]))


def _least(loss: Callable[[NDArray[np.float64]], float], start: list[float]) -> NDArray[np.float64]:
    result = minimize(loss, np.array(start), method="Powell", options={"xtol": 1e-2, "ftol": 1e-4})
    return np.atleast_1d(np.asarray(result.x, dtype=np.float64))


def _loss(cases: Sequence[Case], heard: Callable[[Case], Sequence[Hypothesis]]) -> float:
    total = weight = 0.0
    for case in cases:
        counts = PROSE_WEIGHT if case.saying is None else 1.0
        total -= counts * math.log(max(_LEAST, _given_to_truth(case, heard(case))))
        weight += counts
    return total / weight


def _given_to_truth(case: Case, found: Sequence[Hypothesis]) -> float:
    if case.saying is not None:
        said = _COMMANDS.setdefault(case.saying.words, read(case.saying.words))
        right = sum(
            h.score for h in found
            if _COMMANDS.setdefault(h.words, read(h.words)) == said
        )  # fmt: skip
        if right:
            return right
    return 1.0 - sum(h.score for h in found)


_COMMANDS: dict[str, object] = {}
