"""What an engine is that hears an utterance whole, and the recogniser made of one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping, Sequence
from typing import Protocol, TypeVar, runtime_checkable

import numpy as np

from pattern.errors import RoundsAloudError
from voice.grammar import Grammar
from voice.phrases import read
from voice.ports import RATE_HZ, Samples
from voice.recognisers.calibration import Calibration, Evidence

_Key = TypeVar("_Key")
_Graph = TypeVar("_Graph")
SHORTEST_S = 0.15
"""Shorter sound holds no word; engines need a few frames."""
LONGEST_S = 12.0
"""Longer sound is no phrase of ours, however slowly spoken: not worth the work."""


_HISS = 1 / 200
"""Of the loudest sample. Of 0, 1/200 and 1/100, taken after a look at 55 phrases of tuning voices
and 40 digits of one person, recorded at 8 kHz between exact zeros: without it a third more of the
digits were misheard; with 1/100, phrases were."""


def hissed(samples: Samples) -> Samples:
    """The sound with a faint hiss, always the same one.

    Exact zeros, and bands in which a telephone or a codec leaves nothing, lie far from all sound
    that engines were trained on; in a real room there is always some.
    """
    loudest = float(np.abs(samples.astype(np.int32)).max(initial=0))
    hiss = np.random.default_rng(0).normal(0.0, loudest * _HISS, len(samples))
    top = np.iinfo(np.int16)
    return np.clip(samples + hiss, top.min, top.max).round().astype(np.int16)


def whole_phrases(grammar: Grammar) -> Callable[[str], bool]:
    """Tells the phrases of a grammar, and its lead alone, from what only begins like one."""

    def whole(words: str) -> bool:
        return read(grammar.bare(words)) is not None or (words != "" and words == grammar.lead)

    return whole


GRAPHS_KEPT = 3
"""Grammars an engine keeps ready; one more is made in a moment, and each takes megabytes."""


def keep_last(graphs: MutableMapping[_Key, _Graph]) -> None:
    """Forget the graphs that were made first, until few enough are left."""
    while len(graphs) > GRAPHS_KEPT:
        del graphs[next(iter(graphs))]


class BadGrammar(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A grammar that an engine cannot hear."""

    def __init__(self, engine: str, words: Sequence[str], reason: str) -> None:
        """Name the words that are the reason, where some are."""
        named = f" ({', '.join(words)})" if words else ""
        super().__init__(
            f"{engine} cannot listen for these phrases, as {reason}{named}; choose another engine."
        )
        self.engine = engine
        self.words = tuple(words)
        self.reason = reason


class EngineMissing(RoundsAloudError):  # noqa: N818
    """An engine whose library or model is not there."""

    def __init__(self, engine: str, what_to_do: str) -> None:
        """Say what to do in words that follow a colon."""
        super().__init__(f"{engine} cannot be used here: {what_to_do}")
        self.engine = engine
        self.what_to_do = what_to_do


class UtteranceOpen(RuntimeError):  # noqa: N818
    """The grammar was to change while an utterance was being heard."""

    def __init__(self, engine: str) -> None:
        """Name the engine."""
        super().__init__(f"{engine} is in the middle of an utterance; finish it first.")
        self.engine = engine


class NoGrammar(RuntimeError):  # noqa: N818
    """Sound came before the engine was told what may be said."""

    def __init__(self, engine: str) -> None:
        """Name the engine."""
        super().__init__(f"{engine} was not told what may be said; set a grammar first.")
        self.engine = engine


class Witness(Protocol):
    """What measures utterances."""

    @property
    def name(self) -> str:
        """What the engine is called in settings."""

    @property
    def calibration(self) -> Calibration:
        """From its evidence to odds."""


class Engine(Witness, Protocol):
    """Hears one utterance whole."""

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar."""

    def decode(self, samples: Samples) -> Evidence:
        """Listen to an utterance: int16 at 16 kHz, `SHORTEST_S` to `LONGEST_S`."""


@runtime_checkable
class SecondOpinion(Protocol):
    """An engine that can also judge phrases which another engine heard."""

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that cannot fit in it."""


class Utterance:
    """The blocks of one utterance, until it is heard whole."""

    def __init__(self, name: str) -> None:
        """Name the recogniser for errors."""
        self._name = name
        self._blocks: list[Samples] = []
        self._ready = False

    def allow(self) -> None:
        """Say that the grammar may change now. Raises: UtteranceOpen."""
        if self._blocks:
            raise UtteranceOpen(self._name)

    def open(self) -> None:
        """Say that there is a grammar."""
        self._ready = True

    def add(self, block: Samples) -> None:
        """Keep a block. Raises: NoGrammar."""
        if not self._ready:
            raise NoGrammar(self._name)
        self._blocks.append(np.array(block, dtype=np.int16))

    def take(self) -> Samples | None:
        """The whole utterance, which is then forgotten; None when it is no phrase by its length.

        Raises: NoGrammar.
        """
        if not self._ready:
            raise NoGrammar(self._name)
        blocks, self._blocks = self._blocks, []
        samples = np.concatenate(blocks) if blocks else np.zeros(0, np.int16)
        # Digital silence has no spectrum, and holds no word.
        fits = SHORTEST_S <= len(samples) / RATE_HZ <= LONGEST_S and bool(np.ptp(samples))
        return samples if fits else None
