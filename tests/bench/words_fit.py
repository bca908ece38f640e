"""Fits the constants of free wording by voice: `python -m tests.bench words --fit`.

Wordings of tests/wordings/looked_at.txt, each where it is said, and sentences that are not meant
for the program (others.txt and those of looked_at.txt, tuning talk, short texts), each at some
places, all by `VOICES`. Of these wordings and sentences neither the classifier nor the order of
words has learnt any here, nor what is written down like one of them. Least mean negative logarithm
of the probability that a wording is taken for what it means, and talk for nothing; both count
alike. Learning takes some minutes, and scikit-learn.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

import numpy as np
from scipy.optimize import minimize  # type: ignore[import-untyped]

from tests.bench.prose import LEARNT_TITLES, TUNING_TEXT, segments, sentences
from tests.wordings.heard import asked, done
from tests.wordings.judging import NOBODY, Outcome
from tests.wordings.places import Case, caller_at, cases, others
from voice.hearing.evidence import Context, Evidence
from voice.hearing.free_meanings import Meant, meanings
from voice.hearing.free_odds import Constants, Measures, measures
from voice.hearing.session_expectation import expectation_of
from voice.recognisers.engine import hissed
from voice.recognisers.net.learning.speakers import Voice, available, speak
from voice.recognisers.net.moonshine import Moonshine
from voice.recognisers.recogniser import Opinion
from voice.words.free.learning import learn
from voice.words.free.spoken import match_spoken
from voice.words.free.weights import NOTHING, Weights
from voice.words.free.word_order import WordOrder
from voice.words.free.wordings import HEARD, WORDINGS, wordings
from voice.words.typed_text import normalise

SPOKEN = 240
"""Wordings, and sentences for others."""
VOICES = (
    Voice("kokoro", "af_nova"),
    Voice("flite", "rms"),
    Voice("kokoro", "bm_daniel"),
    Voice("festival", "ked_diphone"),
    Voice("espeak", "en-us+m3"),
    Voice("kokoro", "am_echo"),
    Voice("flite", "rms", 1.1),
    Voice("kokoro", "bf_alice"),
    Voice("espeak", "en-gb-x-gbclan+f4"),
    Voice("festival", "ked_diphone", 1.1),
)
"""None of their speakers says anything that figures are told of; from rms the net has learnt."""
_OTHERS, _MEANT_FOR_NONE, _TALK, _TITLES = 190, 90, 90, 50
"""Of the sentences for others, so many of each kind are drawn from."""
PLACES = ("R", "M", "A", "S", "Q", "B", "I-head", "I-yarn", "I-brim", "I-start")
"""Where talk may fall: in the work, and where something is asked."""
_PLACES_EACH = 4
_ALIKE = 0.4
"""So large a share of groups of four letters in common makes a text like a wording."""
_PULL = 1e-3
_Said = TypeVar("_Said")
BARS = (-3.0, -2.5, -2.0, -1.5, -1.0, -0.5, 0.0, 0.5, 1.0)


@dataclass(frozen=True, slots=True)
class Measured:
    """A wording or a sentence for others: its measures, and whether it is taken as it was meant."""

    measures: Measures
    right: bool


def fit(file: Path) -> int:
    """Print the constants, and what they do to what they were fitted on."""
    looked = [*cases(file)]
    weights, order = _without({normalise(said) for said in (*others(), *(c.said for c in looked))})
    ear = _Ear(Moonshine(order=order), weights, order)
    meant = [ear.meant(case, voice) for case, voice in _meant(looked)]
    talk = [
        found
        for turn, (text, voice) in enumerate(_talk(looked))
        for found in ear.talk(text, voice, turn)
    ]
    constants = _fitted(meant, talk)
    print(f"fitted on {len(meant)} wordings and {len(talk)} places of talk\n{constants}")
    for bar in BARS:
        right = np.mean([one.right and constants.log_odds(one.measures) >= bar for one in meant])
        taken = np.mean([constants.log_odds(one.measures) >= bar for one in talk])
        print(f"from {bar:4.1f}: {right:6.1%} of the wordings rightly, {taken:5.1%} of the talk")
    return 0


class _Ear:
    """A net and a classifier that did not learn what is spoken."""

    def __init__(self, net: Moonshine, weights: Weights, order: WordOrder) -> None:
        self._net, self._weights, self._order = net, weights, order

    def meant(self, case: Case, voice: Voice) -> Measured:
        """A wording, where it is said."""
        best = self._likeliest(self._written(case.said, voice), case.place)
        if best is None:
            return self._measured(None, case.place, right=False)
        came = asked(case, (best.command,)) if best.asks else done(case, best.command)
        right = came in {Outcome.UNDERSTOOD, Outcome.ASKED}
        return self._measured(best, case.place, right=right)

    def talk(self, text: str, voice: Voice, turn: int) -> Iterator[Measured]:
        """A sentence for others, at some places."""
        written = self._written(text, voice)
        for place in random.Random(turn).sample(PLACES, _PLACES_EACH):
            yield self._measured(self._likeliest(written, place), place, right=False)

    def _written(self, text: str, voice: Voice) -> Evidence:
        texts = self._net.write(hissed(speak(voice, [text])[text]))
        return Evidence(Opinion((), ""), texts=texts)

    def _likeliest(self, written: Evidence, place: str) -> Meant | None:
        free = partial(match_spoken, state=caller_at(place).state, weights=self._weights)
        found = meanings(written, Context(free=free))
        return max(found, key=lambda one: one.chance, default=None)

    def _measured(self, meant: Meant | None, place: str, *, right: bool) -> Measured:
        if meant is None:
            return Measured(measures(0.0, 1.0, "", 0.0, self._order), right=False)
        weigh = expectation_of(caller_at(place).state)
        return Measured(meant.measured(weigh, self._order), right)


def _meant(looked: Sequence[Case]) -> list[tuple[Case, Voice]]:
    """Wordings, and who says them."""
    meant = [case for case in looked if case.phrase != NOBODY]
    return _with_voices(random.Random(5).sample(meant, 400))[:SPOKEN]


def _talk(looked: Sequence[Case]) -> list[tuple[str, Voice]]:
    """Sentences for others, and who says them."""
    rng = random.Random(3)
    to_others, none = [*others()], [case.said for case in looked if case.phrase == NOBODY]
    text = [piece for piece in segments(TUNING_TEXT) if len(piece.split()) > 2]
    titles = sentences(LEARNT_TITLES)
    for some in (to_others, none, text, titles):
        rng.shuffle(some)
    drawn = _with_voices([*to_others[:_OTHERS], *none[:_MEANT_FOR_NONE]])
    drawn += _with_voices([*text[:_TALK], *titles[:_TITLES]])
    rng.shuffle(drawn)
    return drawn[:SPOKEN]


def _with_voices(said: Sequence[_Said]) -> list[tuple[_Said, Voice]]:
    voices = [*filter(available, VOICES)]
    return [(each, voices[turn % len(voices)]) for turn, each in enumerate(said)]


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


def _fitted(meant: Sequence[Measured], talk: Sequence[Measured]) -> Constants:
    """The constants; talk counts so much that all talk counts as all wordings do."""
    both = [*meant, *talk]
    measured = np.array([(1.0, *astuple(one.measures)) for one in both])
    right = np.array([one.right for one in both])
    weight = np.array([1.0] * len(meant) + [len(meant) / len(talk)] * len(talk))
    signs = 2 * right - 1

    def loss(x: np.ndarray) -> float:
        each = np.logaddexp(0, -signs * (measured @ x))
        return float((weight * each).sum() / weight.sum() + _PULL * x[1:] @ x[1:])

    found = minimize(loss, np.zeros(measured.shape[1])).x
    return Constants(*(float(f"{value:.3g}") for value in found))
