"""The ear that the other sound tests rely on hears what is said, and nothing in what is spoilt."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.said_back import said_back
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

REPLIES = (
    "Round three: two in one, one plain, six times. Eighteen.",
    "Round three: two in one, two plain, six times. Eighteen.",
    "Round three: two in one, one plain, eight times. Eighteen.",
    "Round three: two in one, one plain, six times. Eighty.",
    "Round two: two in one, one plain, six times. Eighteen.",
    "Round four: two in one, two plain, six times. Twenty four.",
    "Taken back.",
    "Where am I?",
)
"""One reply among others that differ from it by a word."""
Sound = NDArray[np.float64]


def _noisy(sound: Sound) -> Sound:
    level = float(np.sqrt(np.mean(sound**2)))
    return sound + np.random.default_rng(2).normal(0.0, level, len(sound))


SPOILT: dict[str, Callable[[Sound], Sound]] = {
    "backwards": lambda sound: sound[::-1],
    "twice as fast": lambda sound: sound[::2],
    "half as fast": lambda sound: np.repeat(sound, 2),
    "as loud as noise": _noisy,
    "every other tenth of a second": lambda sound: np.where(
        np.arange(len(sound)) // (RATE_HZ // 10) % 2, sound, 0.0
    ),
    "silent": lambda sound: 0.0 * sound,
}


@pytest.fixture(scope="module")
def voice() -> Iterator[Renderer]:
    with Renderer(Delivery()) as shared:
        yield shared


@pytest.mark.parametrize("reply", REPLIES)
def test_each_reply_is_told_from_those_like_it(voice: Renderer, reply: str) -> None:
    assert said_back(voice.render(reply), REPLIES) == reply


@pytest.mark.parametrize("how", SPOILT)
def test_a_spoilt_reply_is_not_the_reply(voice: Renderer, how: str) -> None:
    spoilt = SPOILT[how](voice.render(REPLIES[0]).astype(np.float64))
    sound = np.clip(spoilt, -32768, 32767).astype(np.int16)
    assert said_back(sound, REPLIES) != REPLIES[0]
