"""Hearing that is ready before the first words come."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from voice.hearing.attention import Attention, AttentionUnheard
from voice.sound.ports import RATE_HZ

if TYPE_CHECKING:
    from voice.hearing.listening import Hearing
    from voice.recognisers.recogniser import Recogniser


def ready_to_hear(opens_recogniser: Callable[[], Recogniser], attention: Attention) -> Hearing:
    """Hearing, warmed up. Raises: the errors of opening the recogniser and of `warm_up`."""
    from voice.hearing.listening import Hearing
    from voice.words.free.word_order import learnt_order

    hearing = Hearing(opens_recogniser())
    warm_up(hearing, attention)
    learnt_order()  # counted once, which the first free wording need not wait for
    return hearing


def warm_up(hearing: Hearing, attention: Attention | None = None) -> None:
    """Load the engines and build their grammar before the first words come.

    Raises: AttentionUnheard for attention words that no engine knows; BadGrammar for others.
    """
    from voice.recognisers.engine import BadGrammar

    hiss = np.random.default_rng(1).normal(0, 10, RATE_HZ // 2).astype(np.int16)
    try:
        hearing.decide(hiss, attention=attention)
    except BadGrammar as refused:
        if attention and set(refused.words) <= set(attention.words.split()):
            raise AttentionUnheard(attention.words, refused.words) from refused
        raise
