"""Fits the bounds of free wording by voice: `python -m tests.bench words --fit`.

Wordings of tests/wordings/looked_at.txt by the tuning voices, each where it is said, and talk by
the tuning readers, each piece at some places. Of those wordings neither the classifier nor the
order of words has learnt any here, nor what is written down like one of them. Least mean negative
logarithm of the probability that a wording is taken for what it means, and talk for nothing; both
count alike. Learning takes some minutes, and scikit-learn.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np
from scipy.optimize import minimize  # type: ignore[import-untyped]

from tests.bench.prose import LEARNT_TITLES, TUNING_TEXT, segments, sentences
from tests.wordings.heard import asked, done
from tests.wordings.judging import NOBODY, Outcome
from tests.wordings.places import Case, caller_at, cases
from voice.hearing.evidence import Context, Evidence
from voice.hearing.free_wording import Bounds, Meant, meanings, measures
from voice.recognisers.engine import hissed
from voice.recognisers.net.learning.speakers import (
    TUNING,
    TUNING_READERS,
    Voice,
    available,
    speak,
)
from voice.recognisers.net.moonshine import Moonshine
from voice.recognisers.recogniser import Opinion
from voice.words.free.learning import learn
from voice.words.free.spoken import match_spoken
from voice.words.free.weights import NOTHING, Weights
from voice.words.free.word_order import WordOrder
from voice.words.free.wordings import HEARD, WORDINGS, wordings
from voice.words.typed_text import normalise

SPOKEN, TALK = 300, 240
"""Wordings, and pieces of talk."""
PLACES = ("R", "M", "A", "S", "Q", "B", "I-head", "I-yarn", "I-brim", "I-start")
"""Where talk may fall: in the work, and where something is asked."""
_PLACES_EACH = 4
_ALIKE = 0.4
"""So large a share of groups of four letters in common makes a text like a wording."""
_PULL = 1e-3
BARS = (-1.0, -0.5, 0.0, 0.2, 0.5, 1.0, 1.5, 2.0)


@dataclass(frozen=True, slots=True)
class Measured:
    """A wording or a piece of talk: its measures, and whether it was meant as it is taken."""

    measures: tuple[float, ...]
    right: bool


def fit(file: Path) -> int:
    """Print the bounds, and what they do to what they were fitted on."""
    looked = [case for case in cases(file) if case.phrase != NOBODY]
    weights, order = _without({normalise(case.said) for case in looked})
    ear = _Ear(Moonshine(order=order), weights, order)
    drawn = random.Random(5).sample(looked, min(SPOKEN, len(looked)))
    voices, readers = (list(filter(available, some)) for some in (TUNING, TUNING_READERS))
    meant = [ear.meant(case, voices[turn % len(voices)]) for turn, case in enumerate(drawn)]
    talk = [
        found
        for turn, text in enumerate(_talk())
        for found in ear.talk(text, readers[turn % len(readers)], turn)
    ]
    bounds = _fitted(meant, talk)
    print(f"fitted on {len(meant)} wordings and {len(talk)} pieces of talk\n{bounds}")
    for bar in BARS:
        right = np.mean([one.right and bounds.log_odds(one.measures) >= bar for one in meant])
        taken = np.mean([bounds.log_odds(one.measures) >= bar for one in talk])
        print(f"from {bar:4.1f}: {right:6.1%} of the wordings rightly, {taken:5.1%} of the talk")
    return 0


class _Ear:
    """The net, with a classifier and an order of words that did not learn what is spoken."""

    def __init__(self, net: Moonshine, weights: Weights, order: WordOrder) -> None:
        self._net, self._weights, self._order = net, weights, order

    def meant(self, case: Case, voice: Voice) -> Measured:
        """A wording, where it is said."""
        best = self._likeliest(self._written(case.said, voice), case.place)
        if best is None:
            return self._measured(None, right=False)
        came = asked(case, (best.command,)) if best.asks else done(case, best.command)
        return self._measured(best, right=came in {Outcome.UNDERSTOOD, Outcome.ASKED})

    def talk(self, text: str, voice: Voice, turn: int) -> Iterator[Measured]:
        """A piece of talk, at some places."""
        written = self._written(text, voice)
        for place in random.Random(turn).sample(PLACES, _PLACES_EACH):
            yield self._measured(self._likeliest(written, place), right=False)

    def _written(self, text: str, voice: Voice) -> Evidence:
        texts = self._net.write(hissed(speak(voice, [text])[text]))
        return Evidence(Opinion((), ""), texts=texts)

    def _likeliest(self, written: Evidence, place: str) -> Meant | None:
        free = partial(match_spoken, state=caller_at(place).state, weights=self._weights)
        found = meanings(written, Context(free=free))
        return max(found, key=lambda one: one.chance, default=None)

    def _measured(self, meant: Meant | None, *, right: bool) -> Measured:
        chance, text, expected = (
            (meant.chance, meant.text, meant.expected) if meant is not None else (0.0, "", False)
        )
        return Measured(measures(chance, text, self._order, expected=expected), right)


def _talk() -> list[str]:
    """Sentences of the tuning text of more than two words, and of the short texts by others."""
    text = [piece for piece in segments(TUNING_TEXT) if len(piece.split()) > 2]
    others = sentences(LEARNT_TITLES)
    rng = random.Random(3)
    rng.shuffle(text)
    rng.shuffle(others)
    return [*text[: TALK * 5 // 8], *others[: TALK * 3 // 8]]


def _without(left_out: set[str]) -> tuple[Weights, WordOrder]:
    """A classifier and an order of words that did not learn some wordings, nor the like."""
    groups = [_groups(text) for text in left_out]
    pairs = [
        pair for pair in wordings(WORDINGS.read_text("utf-8")) if normalise(pair[1]) not in left_out
    ]
    heard = [
        pair
        for pair in wordings(HEARD.read_text("utf-8"))
        if not any(_alike(_groups(normalise(pair[1])), each) for each in groups)
    ]
    order = WordOrder(text for meaning, text in pairs if meaning != NOTHING)
    return learn([*pairs, *heard]), order


def _groups(text: str) -> frozenset[str]:
    return frozenset(text[at : at + 4] for at in range(len(text) - 3))


def _alike(one: frozenset[str], other: frozenset[str]) -> bool:
    return len(one & other) > _ALIKE * max(1, len(one | other))


def _fitted(meant: Sequence[Measured], talk: Sequence[Measured]) -> Bounds:
    """The bounds; a piece of talk counts so much that all talk counts as all wordings do."""
    both = [*meant, *talk]
    measured = np.array([one.measures for one in both])
    right = np.array([one.right for one in both])
    weight = np.array([1.0] * len(meant) + [len(meant) / len(talk)] * len(talk))
    signs = 2 * right - 1

    def loss(x: np.ndarray) -> float:
        each = np.logaddexp(0, -signs * (measured @ x))
        return float((weight * each).sum() / weight.sum() + _PULL * x @ x)

    found = minimize(loss, np.zeros(measured.shape[1])).x
    return Bounds(*(float(f"{value:.3g}") for value in found))
