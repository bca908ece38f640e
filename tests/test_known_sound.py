"""The source without the known sound: times, losses and conditions are those of the source."""

from __future__ import annotations

from collections import deque

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.known_sound import across, film, level_db, room, samples
from voice.sound.known_sound import WithoutKnown
from voice.sound.ports import RATE_HZ, AudioBlock, Condition, DeviceBack, DeviceLost

BLOCK = 320


class Given:
    """A source and a known sound, both given beforehand."""

    channels = 1

    def __init__(self, items: list[AudioBlock | Condition], known: NDArray[np.float64]) -> None:
        self._items, self._known = deque(items), known
        self._at = 0

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:  # noqa: ARG002
        item = self._items.popleft() if self._items else None
        self._at += BLOCK * isinstance(item, AudioBlock)
        if isinstance(item, DeviceBack):
            self._at += round(item.away_s * RATE_HZ)
        return item

    def take(self) -> NDArray[np.float32]:
        part, self._known = self._known[: self._at], self._known[self._at :]
        self._at = 0
        return part[np.newaxis].astype(np.float32)


def blocks(heard: NDArray[np.int16], begin_s: float = 100.0) -> list[AudioBlock | Condition]:
    return [
        AudioBlock(part, time_s=begin_s + (at + 1) * BLOCK / RATE_HZ)
        for at, part in enumerate(heard[: len(heard) // BLOCK * BLOCK].reshape(-1, BLOCK))
    ]


def all_of(source: WithoutKnown, count: int) -> list[AudioBlock | Condition]:
    return [item for item in (source.read(0.0) for _ in range(count)) if item is not None]


def test_the_film_goes_and_every_block_keeps_its_time() -> None:
    played = film(10)
    given = Given(blocks(samples(across(played, room(1)))), played)
    source = WithoutKnown(given, given)
    found = [item for item in all_of(source, 500) if isinstance(item, AudioBlock)]
    left = np.concatenate([block.samples for block in found])
    assert level_db(left[-RATE_HZ:]) <= level_db(across(played, room(1))[-RATE_HZ:]) - 25
    assert source.gain_db >= 15
    sizes = np.cumsum([len(block.samples) for block in found])
    for size, block in zip(sizes, found, strict=True):
        assert block.time_s == pytest.approx(100 + size / RATE_HZ)


def test_conditions_come_through_and_a_loss_of_sound_is_told_with_the_next_block() -> None:
    lost = DeviceLost("unplugged")
    heard = blocks(np.ones(20 * BLOCK, np.int16))
    heard[3] = AudioBlock(np.ones(BLOCK, np.int16), overflowed=True)
    given = Given([*heard[:8], lost, *heard[8:]], np.zeros(20 * BLOCK))
    found = all_of(WithoutKnown(given, given), 21)
    assert lost in found
    assert sum(isinstance(item, AudioBlock) and item.overflowed for item in found) == 1


def test_after_the_device_is_back_it_begins_anew() -> None:
    """The microphone was away for two seconds in which the film went on."""
    played = film(16)
    heard = blocks(samples(across(played, room(1))))
    gone = slice(6 * RATE_HZ // BLOCK, 8 * RATE_HZ // BLOCK)
    items = [*heard[: gone.start], DeviceBack(2.0), *heard[gone.stop :]]
    given = Given(items, played)
    source = WithoutKnown(given, given)
    found = [item for item in all_of(source, len(items)) if isinstance(item, AudioBlock)]
    left = np.concatenate([block.samples for block in found])
    assert level_db(left[-RATE_HZ:]) <= level_db(across(played, room(1))[-RATE_HZ:]) - 25
