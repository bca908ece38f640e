"""What the loudspeaker is given is known, and so is how much of it is left."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.known_sound import Floats, across, film, room, samples
from tests.test_canceller import run
from voice.sound.canceller import Canceller
from voice.sound.endpoint import Endpointer
from voice.sound.movement import likeness
from voice.sound.own_voice import KEPT_S, OwnVoice
from voice.sound.ports import RATE_HZ
from voice.sound.remainder import REACH
from voice.sound.waiting_sound import Waiting


@given(st.lists(st.integers(1, 400), min_size=1, max_size=12), st.integers(0, 11))
def test_all_that_the_loudspeaker_was_given_is_known_silence_included(
    sizes: list[int], taken_after: int
) -> None:
    waiting, given_, found = Waiting(), list[Floats](), list[Floats]()
    waiting.open(RATE_HZ)
    waiting.add(np.arange(1, 1000, dtype=np.int16))
    for place, size in enumerate(sizes):
        out = np.empty((size, 2), np.int16)
        waiting.fill(out, heard_until_s=1.0 + place)
        given_.append(out[:, 0].astype(np.float64))
        if place == taken_after:
            found.append(_taken(waiting.own))
    found.append(_taken(waiting.own))
    np.testing.assert_array_equal(np.concatenate(found), np.concatenate(given_))


def _taken(own: OwnVoice) -> Floats:
    played = own.take()
    assert played is not None
    samples_: Floats = played.frames[0].astype(np.float64)
    return samples_


def test_before_there_is_anything_nothing_is_known_and_another_device_begins_another_run() -> None:
    own = OwnVoice()
    assert own.take() is None
    own.begin(RATE_HZ)
    own.hand_over(np.ones(320, np.int16), 1.0)
    first = own.take()
    own.hand_over(np.ones(320, np.int16), 1.1)
    own.begin(48_000)
    for place in range(50):
        own.hand_over(np.ones(960, np.int16), 2.0 + place / 50)
    second = own.take()
    assert first is not None
    assert second is not None
    assert second.run != first.run
    assert second.frames.shape[1] == pytest.approx(RATE_HZ, abs=400), "a second at the inner rate"


def test_what_nobody_takes_is_dropped_and_that_is_another_run() -> None:
    own = OwnVoice()
    own.begin(RATE_HZ)
    own.hand_over(np.ones(RATE_HZ, np.int16), 1.0)
    before = own.take()
    for second in range(round(KEPT_S) + 5):
        own.hand_over(np.full(RATE_HZ, second, np.int16), second)
    after = own.take()
    assert before is not None
    assert after is not None
    assert after.frames.shape[1] == KEPT_S * RATE_HZ
    assert after.frames[0, -1] == KEPT_S + 4
    assert after.run != before.run


def test_dropped_sound_is_heard_no_more_but_the_stream_goes_on() -> None:
    waiting = Waiting()
    waiting.open(RATE_HZ)
    waiting.add(np.ones(1000, np.int16))
    out = np.empty((100, 1), np.int16)
    waiting.fill(out, 1.0)
    waiting.drop()
    waiting.fill(out, 1.1)
    assert not out.any()
    waiting.add(np.ones(50, np.int16))
    waiting.fill(out, 1.2)
    assert out[:50].all()


@settings(max_examples=2)
@given(st.integers(0, 99))
def test_what_is_left_stays_below_its_level_and_a_voice_as_loud_stands_out(seed: int) -> None:
    """The voice takes less than a quarter of the sound that the gain is taken from."""
    played = film(10, seed)
    echo = across(played, room(seed))
    said, size = np.zeros(len(echo)), round(0.7 * RATE_HZ)
    said[-size:] = across(film(0.7, seed + 200), room(seed + 1))
    canceller, over, under = Canceller(), 0, 0
    heard = samples(echo + said)
    for at in range(0, len(heard), 512):
        left = canceller.feed(heard[at : at + 512], played[np.newaxis, at : at + 512])
        if len(left) == 0 or at < 6 * RATE_HZ:
            continue
        power = np.mean((left / 32_768.0) ** 2)
        stands_out = 10 * math.log10(power + 1e-12) > canceller.left_db
        over += stands_out and at >= len(heard) - size
        under += stands_out and at < len(heard) - size - 512
    assert canceller.steady_gain_db >= 15, "though somebody speaks"
    assert under <= 3, "of a hundred blocks"
    assert over >= 10, "of 22 blocks"


@settings(max_examples=10)
@given(st.integers(0, 99), st.integers(0, REACH - 1))
def test_a_sound_is_known_along_any_path_and_another_is_not(seed: int, late: int) -> None:
    size = 8000
    known = film(1.2, seed)[: REACH + size]
    echo = across(known, np.concatenate([np.zeros(late), [1.0], 0.1 * room(seed)[161:]]))
    assert likeness(echo[REACH:], known) >= 14
    assert likeness(film(0.5, seed + 200), known) < 14


def test_the_known_sound_along_a_path_that_changed_is_told_from_a_voice() -> None:
    played = film(10)
    echo = across(played, room(1))
    moved = np.concatenate([echo[: -RATE_HZ // 2], across(played, room(2, 300))[-RATE_HZ // 2 :]])
    said = np.zeros(len(echo))
    said[-RATE_HZ // 2 :] = across(film(0.5, 9), room(3))
    for heard, own in ((moved, True), (echo + said, False)):
        canceller = Canceller()
        run(canceller, samples(heard), played)
        assert canceller.lately.is_known(RATE_HZ // 2, 0) is own
        assert not canceller.lately.is_left_over(RATE_HZ // 2, 0)
    canceller = Canceller()
    run(canceller, samples(echo), played)
    assert canceller.lately.is_left_over(RATE_HZ // 2, 1024), "nobody spoke"
    assert not Canceller().lately.is_left_over(RATE_HZ // 2, 0), "nothing played"


@settings(max_examples=10)
@given(st.floats(-60, 0), st.integers(0, 9))
def test_nothing_quieter_than_what_may_be_left_begins_an_utterance(
    level_db: float, seed: int
) -> None:
    sound = samples(film(0.4, seed))
    loudest_db = max(
        10 * math.log10(np.var(frame.astype(float)) / 32_768**2 + 1e-12)
        for frame in sound.reshape(-1, 320)
    )
    quiet, cutter = np.full(RATE_HZ, 1, np.int16), Endpointer()
    cutter.feed(quiet)
    cutter.feed(sound, level_db)
    if level_db >= loudest_db:
        assert not cutter.waiting


@pytest.mark.parametrize("jump", [-150, 4000])
def test_a_jump_of_the_delay_costs_two_looks_and_not_what_was_learnt(jump: int) -> None:
    """A sound service that was late once stays later."""
    played = film(12)
    path = room(1, 1200)
    heard = across(played, path)
    later = across(np.roll(played, jump), path)
    whole = samples(np.concatenate([heard[: 8 * RATE_HZ], later[8 * RATE_HZ :]]))
    left = run(Canceller(), whole, played).astype(float)
    end = slice(11 * RATE_HZ, 12 * RATE_HZ)
    assert np.mean(left[end] ** 2) <= np.mean(whole[end].astype(float) ** 2) / 10**2


@settings(max_examples=10)
@given(st.integers(0, 99), st.sampled_from([6.0, 11.0, 13.0, 20.0]))
def test_a_beginning_stands_out_where_it_is_louder_than_all_that_may_be_left(
    seed: int, over_db: float
) -> None:
    """Three blocks with so much more in them than is usually left."""
    played, size = film(6, seed), 3 * 512
    canceller = Canceller()
    run(canceller, samples(across(played, room(seed + 1))), played)
    lately, usual = canceller.lately, float(canceller.lately._blocks[-20][2].mean())
    assert not lately.stands_out(RATE_HZ, RATE_HZ // 2), "nobody spoke"
    said = film(0.1, seed + 300)[:size]
    said *= np.sqrt(usual * 10 ** (over_db / 10) / np.mean(said**2))
    for block in said.reshape(3, 512):
        lately.add(block, np.zeros(512), usual)
    assert lately.stands_out(size, 0) is (over_db > 12)
    assert lately.is_left_over(size, 0) is (over_db < 15), "shorter than any word"


@given(st.lists(st.integers(1, 400), min_size=1, max_size=8), st.integers(0, 400))
def test_from_when_on_what_was_added_last_is_heard(sizes: list[int], before: int) -> None:
    """It begins with the first block that holds some of it; then what follows belongs to it."""
    waiting = Waiting()
    waiting.open(RATE_HZ)
    for begun_s in (-100.0, -50.0):
        waiting.add(np.ones(sum(sizes), np.int16))
        assert waiting.heard_from_s == math.inf, "all of it waits"
        at_s = begun_s
        for size in sizes:
            at_s += size / RATE_HZ
            waiting.fill(np.empty((size, 1), np.int16), at_s)
            assert waiting.heard_from_s == pytest.approx(begun_s)
        waiting.fill(np.empty((before + 1, 1), np.int16), at_s + 1.0)
        assert waiting.heard_from_s == pytest.approx(begun_s), "silence is not heard"
        waiting.add(np.ones(1, np.int16), goes_on=True)
        waiting.fill(np.empty((1, 1), np.int16), at_s + 2.0)
        assert waiting.heard_from_s == pytest.approx(begun_s), "a gap in it is not its end"
