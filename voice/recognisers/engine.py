"""Shared by the engines: preparing sound and grammars, and the errors that they raise."""

from __future__ import annotations

from collections.abc import Callable, MutableMapping, Sequence
from typing import TypeVar

import numpy as np

from pattern.errors import RoundsAloudError
from voice.sound.ports import RATE_HZ, Samples
from voice.words.grammar import Grammar
from voice.words.phrases import read

_Key = TypeVar("_Key")
_Graph = TypeVar("_Graph")

_SHORTEST_S = 0.15
"""Shorter sound holds no word; engines need a few frames."""
LONGEST_S = 12.0
"""Longer sound is no phrase of ours, however slowly spoken: not worth the work."""
_HISS = 1 / 200
"""Level of the hiss, as a share of the loudest sample. Chosen from 0, 1/200 and 1/100 after a look
at 55 phrases of tuning voices and 40 digits of one person, recorded at 8 kHz between exact zeros:
without hiss a third more of the digits were misheard; with 1/100, phrases were."""


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
    """A test that is true for whole phrases of a grammar, and for its lead alone."""

    def whole(words: str) -> bool:
        return read(grammar.bare(words)) is not None or (words != "" and words == grammar.lead)

    return whole


_GRAPHS_KEPT = 3
"""Grammars an engine keeps ready; one more is made in a moment, and each takes megabytes."""


def keep_last(graphs: MutableMapping[_Key, _Graph]) -> None:
    """Forget the graphs that were made first, until few enough are left."""
    while len(graphs) > _GRAPHS_KEPT:
        del graphs[next(iter(graphs))]


_NAMED = 8
"""Most words that a refusal names."""


class BadGrammar(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A grammar that an engine cannot hear."""

    def __init__(self, engine: str, words: Sequence[str], reason: str) -> None:
        """Name the words that are the reason, or the first of many."""
        more = f" and {len(words) - _NAMED} more" if len(words) > _NAMED else ""
        named = f" ({', '.join(words[:_NAMED])}{more})" if words else ""
        super().__init__(
            f"{engine} cannot listen for these phrases, as {reason}{named}; choose another engine."
        )
        self.words = tuple(words)


class EngineMissing(RoundsAloudError):  # noqa: N818
    """An engine whose library or model is not there."""

    def __init__(self, engine: str, what_to_do: str) -> None:
        """Say what to do in words that follow a colon."""
        super().__init__(f"{engine} cannot be used here: {what_to_do}")


class NothingListens(EngineMissing):
    """Neither the net nor a model for vosk is on this machine."""

    def __init__(self, command: str) -> None:
        """Name the command that brings a model."""
        RoundsAloudError.__init__(self, f"I cannot listen yet: run {command} once.")


def may_be_a_phrase(samples: Samples) -> bool:
    """True for sound as long as a phrase and not all of one value, which has no spectrum."""
    return _SHORTEST_S <= len(samples) / RATE_HZ <= LONGEST_S and bool(np.ptp(samples))
