"""A reply that is late, since the computer is busy: what the maker says before it is heard, and
what the program says in pieces is not.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from tests.properties import together
from tests.talk_in_room import TalkInRoom
from tests.test_conversation import Watch
from voice.caller.caller import Caller
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.hearing.listening import Hearing
from voice.rehearsal.room import Room
from voice.sound.endpoint import Endpointer
from voice.sound.ports import RATE_HZ, AudioBlock, Condition, Samples
from voice.speech.delivery import Delivery
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer


class BusyRoom(Room):
    """A room in which sound comes while nobody reads it, as on a busy computer."""

    def __init__(self, *, echo_db: float | None = None) -> None:
        super().__init__(echo_db=echo_db)
        self._unread = deque[AudioBlock | Condition | None]()
        self.gap_s = 0.0
        """Silence between the clauses of a reply, which are rendered too late then."""

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        return self._unread.popleft() if self._unread else super().read(timeout_s)

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        if self.gap_s and self.playing:
            self.is_busy((self._playing_until - self._at) / RATE_HZ + self.gap_s)
        super().play(samples, goes_on=goes_on)

    def is_busy(self, length_s: float) -> None:
        end_s = self.now() + length_s
        while self.now() < end_s:
            self._unread.append(super().read(0.0))


class LateSpeaker(PlayedSpeaker):
    """It begins later than it was told to, once: what the maker says meanwhile is not read yet."""

    def __init__(self, renderer: Renderer, room: BusyRoom) -> None:
        super().__init__(renderer, room)
        self._room, self.late_s = room, 0.0
        self.meanwhile: tuple[float, Samples] | None = None

    def say(self, text: str) -> None:
        if self.meanwhile is not None:
            (before_s, words), self.meanwhile = self.meanwhile, None
            self._room.is_busy(self.late_s - before_s)
            self._room.speak(words)
            self._room.is_busy(before_s)
        super().say(text)


class Call(TalkInRoom[BusyRoom]):
    """A piece at its second round, in half-duplex."""

    def __init__(self, caller: Caller, hearing: Hearing, ours: Renderer, room: BusyRoom) -> None:
        self.caller, self.room, self.watch = caller, room, Watch()
        self.speaker = LateSpeaker(ours, room)
        ears, mouth = Ears(room, hearing, Endpointer()), Mouth(self.speaker, room)
        self.talk = Conversation(caller, ears, mouth, self.watch, clock=room.now)
        self.wait(1.0)

    def says_before_a_reply(self, words: Samples, before_s: float) -> None:
        """Let the maker say "next", and something more so long before the late reply begins."""
        self.speaker.late_s, self.speaker.meanwhile = 3.0, (before_s, words)
        self.talk.tell("A few words about the round and its stitches that take a while.")
        self.wait(1.0)
        self.silent()
        self.wait(4.0)
        self.silent()


@pytest.fixture(params=[None, -12.0], ids=["no echo", "echo"])
def call(
    request: pytest.FixtureRequest, hearing: Hearing, ours: Renderer, tmp_path: Path
) -> Iterator[Call]:
    with Journal.open(tmp_path, "x", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        for words in ("begin", "next", "brief"):
            caller.hear(words)
        yield Call(caller, hearing, ours, BusyRoom(echo_db=request.param))


@pytest.fixture(scope="module")
def maker() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


@pytest.mark.parametrize(
    ("said", "before_s"),
    together(["where am i", "next", "how many left"], [0.2, 0.5, 0.8, 1.1, 1.5, 2.5]),
)
def test_what_was_begun_before_the_reply_is_heard(
    call: Call, maker: Renderer, said: str, before_s: float
) -> None:
    call.says_before_a_reply(maker.render(said), before_s)
    assert [words for words in call.watch.taken if words] == [said]


def test_a_sound_that_was_no_word_costs_no_reply(call: Call) -> None:
    """A cough just before the reply: what was cut off is said again, to its end."""
    cough = (np.random.default_rng(4).normal(0, 2500, RATE_HZ * 2 // 5)).astype(np.int16)
    call.says_before_a_reply(cough, 0.2)
    assert not any(call.watch.taken)
    told = call.watch.spoken
    assert told[0] == told[-1], "said again"
    assert len(told) <= 2


@pytest.mark.parametrize("gap_s", [0.1, 0.4, 1.0])
def test_what_it_said_before_a_gap_in_its_own_reply_is_not_heard(call: Call, gap_s: float) -> None:
    call.room.gap_s = gap_s
    call.talk.tell("Next round. Count them, and measure across. Where are you?")
    call.wait(1.0)
    call.silent()
    call.wait(3.0)
    assert not any(call.watch.taken)
    assert len(call.watch.spoken) == 1, "it did not stop for itself, and said nothing again"
