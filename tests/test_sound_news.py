"""What is wrong with the sound is told in a computed room: once, and when nobody speaks."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from tests.test_conversation import BreakingRoom, Call, taking_up
from voice.hearing.listening import Hearing
from voice.sound.ports import (
    AllZeros,
    Clipping,
    Condition,
    DeviceBack,
    DeviceLost,
    OnlyMicrophoneLost,
    Samples,
    TooQuiet,
)
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

LOUD, QUIET, ZEROS = Clipping(0.0).sentence, TooQuiet(0.0).sentence, AllZeros(0.0).sentence


@pytest.fixture(scope="module")
def words() -> Iterator[Samples]:
    with Renderer(Delivery(rate_wpm=150)) as maker:
        yield maker.render("tell me more")


@pytest.fixture
def call(
    request: pytest.FixtureRequest, hearing: Hearing, ours: Renderer, tmp_path: Path
) -> Iterator[Call]:
    """A call in a room whose echo is as strong as the test says."""
    room = BreakingRoom(echo_db=getattr(request, "param", None))
    with Journal.open(tmp_path, "x", CODEC) as journal:
        yield taking_up(hearing, ours, journal, room)


def told(call: Call, sentence: str) -> int:
    return call.watch.spoken.count(sentence)


@pytest.mark.parametrize("call", [-12.0, 0.0, 5.0, 12.0], indirect=True)
def test_its_own_voice_tells_nothing_of_the_level(call: Call, words: Samples) -> None:
    for _ in range(4):
        call.talk.tell("Round eight: two in one, six in the next six, one each. Sixty four.")
        call.silent()
        call.wait(1.0)
        call.room.speak(words)
        call.wait(3.0)
        call.silent()
    assert call.watch.taken.count("tell me more") == 4
    assert LOUD not in call.watch.spoken
    assert QUIET not in call.watch.spoken


def test_a_quiet_floor_is_told_once_for_each_opening(call: Call, words: Samples) -> None:
    for _ in range(3):
        call.wait(25.0)
    assert call.watch.spoken == [f"[{QUIET}]", QUIET]
    call.room.next = [DeviceLost("unplugged"), DeviceBack(1.0)]
    call.wait(30.0)
    assert told(call, QUIET) == 2
    call.room.next = [DeviceLost("unplugged"), DeviceBack(1.0)]
    call.wait(1.0)
    call.silent()
    call.wait(1.0)
    call.room.speak(words)
    call.wait(60.0)
    assert told(call, QUIET) == 2, "a microphone that suppresses noise is well, once it heard"


@pytest.mark.parametrize(("heard_first", "times"), [(False, 1), (True, 0)])
def test_zeros_are_told_only_where_nothing_else_ever_came(
    call: Call, words: Samples, monkeypatch: pytest.MonkeyPatch, *, heard_first: bool, times: int
) -> None:
    monkeypatch.setattr("voice.rehearsal.room.HISS", 0.0)
    for _ in range(3):
        if heard_first:
            call.room.speak(words)
        call.wait(20.0)
    assert told(call, ZEROS) == times
    assert told(call, QUIET) == 0


@pytest.mark.parametrize("begin_s", [2.0, 2.3, 2.6, 2.9])
def test_a_loud_maker_is_heard_out_and_answered_first(
    call: Call, words: Samples, begin_s: float
) -> None:
    loud = np.clip(words.astype(float) * 2.6, -32768, 32767).astype(np.int16)
    call.wait(begin_s)
    for _ in range(3):
        call.room.speak(loud)
        call.wait(3.0)
        for _ in range(2):  # the news may come a moment after the answer
            call.silent()
            call.wait(1.0)
    assert call.watch.taken == ["tell me more"] * 3
    assert told(call, LOUD) == 1
    assert call.watch.spoken[0] != f"[{LOUD}]"


def test_news_that_comes_while_someone_speaks_waits(call: Call, words: Samples) -> None:
    news: Condition = OnlyMicrophoneLost()
    call.talk.tell("A few words.")
    call.room.next = [news]
    call.wait(0.1)
    assert call.watch.spoken == ["A few words."]
    call.silent()
    call.wait(0.1)
    assert call.watch.spoken[1:] == [f"[{news.sentence}]", news.sentence]
    call.silent()
    call.wait(1.0)
    call.room.speak(words)
    call.wait(0.4)
    call.room.next = [news]
    call.wait(3.0)
    call.silent()
    call.wait(0.1)
    assert call.watch.taken == ["tell me more"]
    assert told(call, news.sentence) == 2
    assert call.watch.spoken[-1] == news.sentence
