"""Claps are counted, and nothing else: dying noise in rooms, beside speech and clicks."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.bench.claps import clicks, counted, group
from voice.claps import ClapCounter
from voice.delivery import Delivery
from voice.ports import RATE_HZ
from voice.speaker import Renderer


@pytest.fixture(scope="module")
def voice() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


@settings(max_examples=25)
@given(st.integers(1, 4), st.floats(0.22, 0.6), st.sampled_from([0.0, 0.3, 0.6]),
       st.booleans(), st.integers(0, 999))  # fmt: skip
def test_a_group_of_claps_is_counted_once(
    claps: int, apart_s: float, rt60_s: float, knock: bool, seed: int
) -> None:
    assert counted(group(claps, apart_s, rt60_s, knock=knock, seed=seed)) == [claps]


@settings(max_examples=10)
@given(st.lists(st.integers(1, 5000), min_size=1, max_size=9))
def test_the_count_does_not_depend_on_how_the_sound_is_cut_up(sizes: list[int]) -> None:
    sound, counter, found, at = group(3, 0.3), ClapCounter(), list[int](), 0
    while at < len(sound):
        size = sizes[at % len(sizes)]
        found.append(counter.feed(sound[at : at + size]))
        at += size
    assert [count for count in found if count] == [3]


@pytest.mark.parametrize("words", [
    "next", "set", "back", "it ripples", "count sixty two", "take that back", "cut, cut, cut",
    "tick, tock, tick", "Two in each stitch, and mark the first stitch of the round.",
])  # fmt: skip
def test_speech_is_no_clap(voice: Renderer, words: str) -> None:
    sound = np.pad(voice.render(words), RATE_HZ)
    assert counted(sound) == []


def test_soft_clicks_of_hooks_are_no_claps() -> None:
    assert counted(clicks(60.0, peak=4000.0)) == []


def test_claps_amid_speech_are_no_code(voice: Renderer) -> None:
    claps, speech = group(2, 0.3), voice.render("where am i, and how many more")
    claps[: len(speech)] += speech // 2
    assert 2 not in counted(claps)
