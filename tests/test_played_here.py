"""What this machine plays, on a virtual card: taken out, lost and found, followed to another."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from importlib.util import find_spec

import numpy as np
import pytest

from tests.known_sound import across, film, room, samples
from tests.virtual_audio import VirtualAudio
from tests.virtual_film import playing, playing_in_room
from voice.sound.card import Sound
from voice.sound.known_sound import TAKES_DB, Played, WithoutKnown
from voice.sound.played_here import NoMonitorError, PlayedHere

pytestmark = pytest.mark.skipif(find_spec("soundcard") is None, reason="soundcard is not installed")
LIMIT_S = 60.0


@pytest.fixture(autouse=True)
def named_program(monkeypatch: pytest.MonkeyPatch) -> None:
    """A worker of xdist is `python -c` with no name, which soundcard looks for."""
    monkeypatch.setattr(sys, "argv", ["rounds-aloud"])


def wait_until(what: Callable[[], bool]) -> None:
    end_s = time.monotonic() + LIMIT_S
    while not what():
        assert time.monotonic() < end_s
        time.sleep(0.02)


def test_a_film_on_this_machine_is_taken_out_of_the_microphone(card: VirtualAudio) -> None:
    known, played = PlayedHere(), film(LIMIT_S)
    known.open(10.0)
    try:
        with playing_in_room(card, played, across(played, room(1))), Sound() as sound:
            source = WithoutKnown(sound, known)
            end_s = time.monotonic() + LIMIT_S
            while source.gain_db < TAKES_DB:
                source.read(0.1)
                assert time.monotonic() < end_s
    finally:
        known.close()


def test_it_follows_the_default_and_comes_back_after_the_server_died(card: VirtualAudio) -> None:
    known, seen = PlayedHere(), list[Played]()
    known.open(10.0)

    def hears() -> bool:
        if (played := known.take()) is not None:
            seen.append(played)
        return played is not None and bool(np.any(np.abs(played.frames) > 100))

    try:
        with playing(card, film(LIMIT_S)):
            wait_until(hears)
        card._control("load-module", "module-null-sink", "sink_name=other", "rate=16000")
        card._control("set-default-sink", "other")
        before = seen[-1].run
        with playing(card, film(LIMIT_S), "other"):
            wait_until(lambda: hears() and seen[-1].run > before)
        card.kill()
        wait_until(lambda: known.take() is None)
        card.start()
        before = seen[-1].run
        with playing(card, film(LIMIT_S)):
            wait_until(lambda: hears() and seen[-1].run > before)
    finally:
        known.close()


@pytest.mark.usefixtures("card")
def test_a_microphone_that_is_not_there_is_no_known_sound() -> None:
    with pytest.raises(NoMonitorError):
        PlayedHere("no such microphone").open(10.0)


def test_a_second_microphone_is_heard_by_its_name(card: VirtualAudio) -> None:
    known = PlayedHere("microphone")
    known.open(10.0)
    card.feed(samples(film(1)))
    try:
        wait_until(lambda: bool((played := known.take()) and np.any(played.frames)))
    finally:
        known.close()
