"""The source without the known sound: times, losses and conditions are those of the source."""

from __future__ import annotations

from collections import deque

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.known_sound import across, film, level_db, room, samples
from voice.sound.canceller_settings import CancellerSettings
from voice.sound.known_sound import LOST_S, NotTakenOut, Played, WithoutKnown
from voice.sound.ports import RATE_HZ, AudioBlock, Condition, DeviceBack, DeviceLost

BLOCK = 320


class Given:
    """A source and a known sound, both given beforehand."""

    def __init__(self, items: list[AudioBlock | Condition], known: NDArray[np.float64]) -> None:
        self._items, self._known = deque(items), known
        self._at, self._until_s = 0, 100.0
        self.gone, self.held, self.run = False, False, 1

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:  # noqa: ARG002
        item = self._items.popleft() if self._items else None
        self._at += BLOCK * isinstance(item, AudioBlock)
        if isinstance(item, DeviceBack):
            self._at += round(item.away_s * RATE_HZ)
        return item

    def take(self) -> Played | None:
        if self.gone:
            return None
        if self.held:
            return Played(np.zeros((1, 0), np.float32), self._until_s, self.run)
        part, self._known = self._known[: self._at], self._known[self._at :]
        self._until_s += self._at / RATE_HZ
        self._at = 0
        return Played(part[np.newaxis].astype(np.float32), self._until_s, self.run)


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


def test_without_the_known_sound_every_sample_comes_through_in_its_order() -> None:
    played = film(4)
    heard = samples(across(played, room(1)))
    given = Given(blocks(heard), 0 * played)
    source, found = WithoutKnown(given, given), []
    for at in range(len(heard) // BLOCK):
        given.gone = at % 50 > 30
        given.run = 1 + at // 70
        if isinstance(item := source.read(0.0), AudioBlock):
            found.append(item.samples)
    whole = np.concatenate(found)
    np.testing.assert_array_equal(whole, heard[: len(whole)])
    assert len(heard) - len(whole) < 0.2 * RATE_HZ


def test_a_backlog_of_the_microphone_is_matched_by_its_time() -> None:
    """The known sound had come for three seconds when the first block was read."""
    played = film(14)
    heard = blocks(samples(across(played, room(1))))
    given = Given(heard, played)
    given._at = 3 * RATE_HZ
    source = WithoutKnown(given, given)
    found = [item for item in all_of(source, 10 * 50) if isinstance(item, AudioBlock)]
    left = np.concatenate([block.samples for block in found])
    assert level_db(left[-RATE_HZ:]) <= level_db(across(played, room(1))[-RATE_HZ:]) - 20


@pytest.mark.parametrize("late_s", [0.3, 1.2, 3.0, 12.0])
def test_where_the_known_sound_comes_late_and_all_at_once_it_is_soon_taken_out_as_before(
    late_s: float,
) -> None:
    played = film(15 + late_s)
    heard = across(played, room(1))
    given = Given(blocks(samples(heard)), played)
    source, left = WithoutKnown(given, given), list[NDArray[np.int16]]()
    for at in range(len(heard) // BLOCK):
        given.held = 8.0 <= at * BLOCK / RATE_HZ < 8.0 + late_s
        if isinstance(item := source.read(0.0), AudioBlock):
            left.append(item.samples)
    whole = np.concatenate(left)
    begun_anew_s = 5.0 if late_s > CancellerSettings().lost_s else 0.0
    begin = round((8.0 + late_s + 0.2 + begun_anew_s) * RATE_HZ)
    there = slice(begin, begin + RATE_HZ)
    assert level_db(whole[there]) <= level_db(heard[there]) - 20


@pytest.mark.parametrize("burst_s", [0.2, 0.5, 0.9])
def test_where_the_known_sound_comes_in_bursts_all_is_taken_out_later(burst_s: float) -> None:
    """A busy computer hands it on seldom, and much at once."""
    played = film(16)
    heard = across(played, room(1))
    given = Given(blocks(samples(heard)), played)
    source, found = WithoutKnown(given, given), list[AudioBlock]()
    for at in range(len(heard) // BLOCK):
        given.held = at % round(burst_s * RATE_HZ / BLOCK) > 0
        if isinstance(item := source.read(0.0), AudioBlock):
            found.append(item)
    whole = np.concatenate([block.samples for block in found])
    assert len(heard) - len(whole) < (burst_s + 0.1) * RATE_HZ
    for begin in range(8 * RATE_HZ, len(whole), RATE_HZ // 2):
        there = slice(begin, begin + RATE_HZ // 2)
        assert level_db(whole[there]) <= level_db(heard[there]) - 15
    sizes = np.cumsum([len(block.samples) for block in found])
    assert found[-1].time_s == pytest.approx(100 + sizes[-1] / RATE_HZ)


def test_while_the_known_sound_is_not_there_it_is_not_told_to_be_taken_out() -> None:
    played = film(16)
    given = Given(blocks(samples(across(played, room(1)))), played)
    source = WithoutKnown(given, given)
    for at in range(16 * RATE_HZ // BLOCK):
        at_s = at * BLOCK / RATE_HZ
        given.held = 8.0 <= at_s < 9.4
        source.read(0.0)
        if at_s > 8.0:
            gone = 8.0 + CancellerSettings().waits_s + 0.1 < at_s < 9.4
            there = at_s < 8.0 + CancellerSettings().waits_s - 0.1 or at_s > 9.6
            assert (source.steady_gain_db > 15) >= there
            assert (source.steady_gain_db == 0) >= gone


def test_that_nothing_is_taken_out_any_more_is_told_once() -> None:
    played = film(12 + 2 * LOST_S)
    heard = across(played, room(1))
    heard[10 * RATE_HZ :] = np.random.default_rng(1).normal(0, 300, len(heard) - 10 * RATE_HZ)
    given = Given(blocks(samples(heard)), played)
    found = all_of(WithoutKnown(given, given), len(heard) // BLOCK)
    told = [at for at, item in enumerate(found) if isinstance(item, NotTakenOut)]
    assert len(told) == 1
    at_s = [item.time_s for item in found[: told[0]] if isinstance(item, AudioBlock)][-1] - 100
    assert at_s == pytest.approx(10 + LOST_S, abs=5)
