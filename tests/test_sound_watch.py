"""What is told from the samples alone; the same is seen through a virtual card elsewhere."""

import numpy as np
import pytest

from tests.sound_helpers import noise
from voice.ports import (
    RATE_HZ,
    AllZeros,
    AudioBlock,
    Clipping,
    HearsLoudspeaker,
    Samples,
    TooQuiet,
)
from voice.sound_watch import LevelWatch, SourceWatch, utterance_condition


def watched(watch: LevelWatch | SourceWatch, sound: Samples) -> list[type]:
    found = list[type]()
    for start in range(0, len(sound), 320):
        found += [type(c) for c in watch.feed(AudioBlock(sound[start : start + 320]))]
    return found


def test_levels_are_said_once_each_and_again_after_they_were_right() -> None:
    zeros, good = np.zeros(5 * RATE_HZ, np.int16), noise(1.0)
    assert watched(LevelWatch(), np.concatenate([zeros, good, zeros])) == [AllZeros, AllZeros]
    assert watched(LevelWatch(), zeros[: 2 * RATE_HZ - 320]) == []
    assert watched(LevelWatch(), noise(25.0, 3.0)) == [TooQuiet]
    assert watched(LevelWatch(), noise(5.0, 30_000.0)) == [Clipping]
    assert watched(LevelWatch(), noise(25.0)) == []


def test_levels_of_an_utterance() -> None:
    assert utterance_condition(noise(0.5)) is None
    assert isinstance(utterance_condition(noise(0.5, 60_000.0)), Clipping)
    weak = utterance_condition(noise(0.5, 32.768))
    assert isinstance(weak, TooQuiet)
    assert weak.level_db == pytest.approx(-60.0, abs=0.5)


def test_a_room_is_not_taken_for_a_cable() -> None:
    """Played sound through echoes of a room (decaying noise, common model) does not count."""
    played = noise(1.2)
    decay = np.random.default_rng(6).normal(size=3200) * np.exp(-np.arange(3200) / 800)
    room = np.convolve(played, decay) / np.abs(decay).sum()
    for heard, wanted in ((played // 4, [HearsLoudspeaker]), (room, []), (noise(2.0, seed=7), [])):
        watch = SourceWatch()
        watch.played(played)
        quiet = np.zeros(3 * RATE_HZ, np.int16)
        delayed = np.concatenate([quiet[:4000], heard.astype(np.int16), quiet])
        assert watched(watch, delayed) == wanted
