"""The real sound path, PortAudio included, through a virtual card, sample for sample."""

import threading
import time
from dataclasses import replace

import numpy as np
import pytest

from tests.sound_helpers import (
    UNHURRIED,
    all_heard,
    all_read,
    as_long_as,
    forget_what_came,
    noise,
    read_for,
    wait_until_heard,
    wait_until_played,
)
from tests.virtual_audio import VirtualAudio
from voice.sound.card import Sound
from voice.sound.ports import RATE_HZ, AllZeros, AudioBlock, Overflow, Samples
from voice.sound.sound_errors import NoSoundDeviceError
from voice.sound.sound_settings import SoundSettings
from voice.sound.sound_watch import LevelWatch, likeness


def test_what_is_played_is_heard_bit_for_bit(silent_card: VirtualAudio) -> None:
    first, second = noise(0.7), noise(0.5, seed=1)
    both = np.concatenate([first, second])
    with Sound(UNHURRIED) as sound, silent_card.listen() as ear:
        sound.play(first)
        sound.play(second)
        assert sound.playing
        wait_until_played(sound)
        np.testing.assert_array_equal(all_heard(ear, as_long_as(both)), both)


def test_what_is_spoken_arrives_bit_for_bit(silent_card: VirtualAudio) -> None:
    spoken = noise(1.0, seed=2)
    with Sound(UNHURRIED) as sound:
        forget_what_came(sound)
        threading.Thread(target=silent_card.feed, args=(spoken,)).start()
        heard, conditions = all_read(sound, as_long_as(spoken))
    np.testing.assert_array_equal(heard, spoken)
    assert conditions == []


@pytest.mark.usefixtures("silent_card")
def test_blocks_say_when_they_came_and_are_whole() -> None:
    with Sound() as sound:
        items = [sound.read(3.0) for _ in range(20)]
    blocks = [item for item in items if isinstance(item, AudioBlock)]
    assert len(blocks) == 20
    assert {len(block.samples) for block in blocks} == {RATE_HZ // 50}
    times = [block.time_s for block in blocks]
    assert times == sorted(times)
    assert not any(block.overflowed for block in blocks)


@pytest.mark.parametrize("rate_hz", [48_000, 44_100, 8_000])
def test_a_device_with_a_rate_of_its_own_is_resampled(
    silent_card: VirtualAudio, rate_hz: int
) -> None:
    """Sound below 3 kHz, which every one of these rates can carry, keeps its shape."""
    lines = np.fft.rfft(noise(1.0))
    lines[3_000:] = 0
    spoken: Samples = np.fft.irfft(lines).astype(np.int16)

    def same(heard: Samples) -> bool:
        return likeness(spoken, np.pad(heard, len(spoken))) > 0.99

    with (
        Sound(replace(UNHURRIED, device_rate_hz=rate_hz)) as sound,
        silent_card.listen() as ear,
    ):
        sound.play(spoken)
        wait_until_played(sound)
        assert same(all_heard(ear, same))
        forget_what_came(sound)
        threading.Thread(target=silent_card.feed, args=(spoken,)).start()
        heard, _ = all_read(sound, same)
    assert same(heard)


def test_stop_silences_and_what_is_played_after_it_is_whole(silent_card: VirtualAudio) -> None:
    """Silent within 100 ms of the call, whatever the sound card holds."""
    after = noise(0.3, seed=3)
    with Sound(UNHURRIED) as sound, silent_card.listen() as ear:
        sound.play(noise(5.0))
        wait_until_heard(ear)
        stopped_s = time.monotonic()
        sound.stop()
        time.sleep(0.5)
        assert ear.last_sound_s() < stopped_s + 0.1
        assert not sound.playing
        before = len(ear.heard())
        sound.play(noise(5.0, seed=4))
        time.sleep(0.4)
        sound.stop()
        sound.play(after)
        wait_until_played(sound)
        heard = all_heard(ear, as_long_as(after), before)
    np.testing.assert_array_equal(heard[-len(after) :], after)


@pytest.mark.usefixtures("silent_card")
def test_sound_not_taken_away_is_lost_and_said() -> None:
    with Sound(SoundSettings(kept_blocks=5)) as sound:
        time.sleep(0.6)
        first = [sound.read(1.0) for _ in range(5)]
        assert not any(isinstance(item, AudioBlock) and item.overflowed for item in first)
        block = sound.read(1.0)
        assert isinstance(block, AudioBlock)
        assert block.overflowed
        assert [type(found) for found in LevelWatch().feed(block)] == [Overflow]


@pytest.mark.usefixtures("silent_card")
def test_drain_forgets_blocks() -> None:
    with Sound() as sound:
        time.sleep(0.6)
        sound.drain()
        drained_s = time.monotonic()
        block = sound.read(1.0)
    assert isinstance(block, AudioBlock)
    assert block.time_s > drained_s - 0.3


@pytest.mark.usefixtures("silent_card")
def test_exact_zeros_are_noticed() -> None:
    with Sound() as sound:
        heard, _ = read_for(sound, 3.0)
    assert [type(found) for found in LevelWatch().feed(AudioBlock(heard))] == [AllZeros]


@pytest.mark.usefixtures("silent_card")
def test_a_device_that_is_not_there() -> None:
    with pytest.raises(NoSoundDeviceError, match="no microphone named 'pink'") as missing:
        Sound(SoundSettings(microphone="pink"))
    assert missing.value.kind == "input"
    assert missing.value.wanted == "pink"
    with Sound() as sound:
        assert isinstance(sound.read(3.0), AudioBlock)
