"""What is told from the samples alone; the same is seen through a virtual card elsewhere."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sound_helpers import noise
from voice.sound.ports import (
    RATE_HZ,
    AllZeros,
    AudioBlock,
    Clipping,
    HearsLoudspeaker,
    Samples,
    TooQuiet,
)
from voice.sound.sound_watch import LevelWatch, SourceWatch, utterance_condition


def blocks(sound: Samples) -> list[AudioBlock]:
    return [AudioBlock(sound[start : start + 320]) for start in range(0, len(sound), 320)]


def watched(watch: LevelWatch | SourceWatch, sound: Samples) -> list[type]:
    return [type(c) for block in blocks(sound) for c in watch.feed(block)]


ZEROS, WEAK, GOOD, LOUD = (noise(1.0, level) for level in (0.0, 3.0, 3000.0, 30_000.0))


@given(st.lists(st.tuples(st.sampled_from([ZEROS, WEAK, GOOD, LOUD]), st.booleans()), max_size=40))
def test_each_wrong_thing_is_said_once_and_never_by_what_the_program_says(
    seconds: list[tuple[Samples, bool]],
) -> None:
    watch = LevelWatch()
    found = [
        [type(c) for b in blocks(sound) for c in watch.feed(b, ours=ours)]
        for sound, ours in seconds
    ]
    told = [kind for kinds in found for kind in kinds]
    assert len(told) == len(set(told))
    for (_, ours), kinds in zip(seconds, found, strict=True):
        assert not ours or set(kinds) <= {AllZeros}
    others = [sound for sound, ours in seconds if not ours]
    begin = [sound for sound, _ in seconds[:2]]
    assert (AllZeros in told) == (len(begin) == 2 and not np.any(begin))
    assert (Clipping in told) == any(sound is LOUD for sound in others)
    if TooQuiet in told:
        assert not any(sound is GOOD or sound is LOUD for sound in others[:10])


def test_a_level_too_low_is_said_after_ten_seconds() -> None:
    assert watched(LevelWatch(), noise(9.9, 3.0)) == []
    assert watched(LevelWatch(), noise(25.0, 3.0)) == [TooQuiet]
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
