"""The program is talked over through its loudspeaker, in a computed room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import cast

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from tests.known_sound import room
from tests.loud_room import LoudRoom
from tests.talk_in_room import TalkInRoom
from tests.test_conversation import Watch
from voice.caller.caller import Caller
from voice.cli.playing import taken_out
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.dialogue.talk_over import BEGINNING_S, ENOUGH_DB, LOST_DB, LOST_S, TalkOver
from voice.dialogue.turn_state import Manners, Turns
from voice.hearing.listening import Hearing
from voice.hearing.utterance_part import Part
from voice.sound.card import Sound
from voice.sound.endpoint import Endpointer
from voice.sound.known_sound import WithoutKnown
from voice.sound.own_voice import OwnVoice
from voice.sound.ports import RATE_HZ, AudioBlock
from voice.speech.delivery import Delivery
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer

LONG = "Round two: two in the next stitch, one in each of the next three, six times. Thirty."


class Own:
    """A source whose gain is as the test says."""

    def __init__(self) -> None:
        self.steady_gain_db = 0.0
        self.known = self.left_over = self.out = self.far = False

    def is_left_over(self, began_s: float, ended_s: float) -> bool:
        assert began_s <= ended_s
        return self.left_over

    def is_known(self, began_s: float, ended_s: float) -> bool:
        assert began_s <= ended_s
        return self.known

    def stands_out(self, began_s: float, spoke_s: float, *, far: bool = False) -> bool:
        assert began_s <= spoke_s <= began_s + BEGINNING_S
        return self.far if far else self.out


@given(st.lists(st.floats(0, 40), max_size=20))
def test_it_listens_under_its_own_voice_from_enough_gain_until_it_is_lost(
    gains_db: list[float],
) -> None:
    own = Own()
    over, before = TalkOver(own, headphones=False), False
    for gain_db in gains_db:
        own.steady_gain_db = gain_db
        now = over.manners(Manners()).talk_over
        assert now or gain_db < (LOST_DB if before else ENOUGH_DB)
        assert not now or gain_db >= (LOST_DB if before else ENOUGH_DB)
        before = now


@given(st.floats(0, 40), st.booleans())
def test_headphones_and_a_source_without_a_gain_leave_the_manners_as_they_are(
    gain_db: float, headphones: bool
) -> None:
    own = Own()
    own.steady_gain_db, own.known = gain_db, True
    given_ = Manners(talk_over=headphones)
    for source in (None, *([own] if headphones else [])):
        over = TalkOver(source, headphones=headphones)
        assert over.manners(given_) == given_
        assert over.left_db(AudioBlock(np.ones(1, np.int16), left_db=0.0), Turns()) == -np.inf
        turns = Turns(speaking=True)
        assert over.part(turns, replace(given_, talk_over=True), 0.0, 1.0) is Part.WHOLE


@given(st.lists(st.tuples(st.booleans(), st.booleans()), max_size=60))
def test_that_it_can_be_talked_over_no_more_is_told_once_after_its_own_speech(
    steps: list[tuple[bool, bool]],
) -> None:
    own, block = Own(), AudioBlock(np.ones(RATE_HZ, np.int16))
    over, could, deaf_s, told = TalkOver(own, headphones=False), False, 0.0, 0
    for good, speaking in steps:
        own.steady_gain_db = ENOUGH_DB if good else 0.0
        over.manners(Manners())
        could |= good
        deaf_s = 0.0 if good else deaf_s + (could and speaking)
        news = over.lost(block, speaking=speaking)
        assert (news is not None) == (deaf_s >= LOST_S and not told)
        told += news is not None


def test_its_own_sound_along_a_path_that_changed_is_an_echo_and_a_longer_one_a_tail() -> None:
    own, manners, turns = Own(), Manners(talk_over=True), Turns(speaking=True)
    over = TalkOver(own, headphones=False)
    own.steady_gain_db = 20.0
    assert over.part(turns, manners, 10.0, 10.4) is Part.WHOLE
    own.known = True
    assert over.part(turns, manners, 10.0, 10.4) is Part.ECHO
    assert over.part(turns, manners, 10.0, 12.0) is Part.TAIL
    silent = Turns(silent_since_s=5.0)
    assert over.part(silent, manners, 10.0, 10.4) is Part.WHOLE, "a film's path is learnt"
    own.steady_gain_db = 0.0
    assert over.part(silent, manners, 10.0, 12.0) is Part.ECHO, "it is not"


@given(st.booleans(), st.booleans(), st.booleans(), st.booleans(), st.floats(0, 5))
def test_while_it_speaks_it_gives_way_to_what_is_surely_not_its_own_sound(
    out: bool, speaking: bool, headphones: bool, talk_over: bool, length_s: float
) -> None:
    own, manners = Own(), Manners(talk_over)
    own.out = out
    over = TalkOver(own, headphones=headphones)
    now = over.giving_way(Turns(speaking=speaking), manners, 10.0, 10.0 + length_s)
    assert now == replace(manners, talk_over=talk_over and (out or headphones or not speaking))


@given(st.booleans(), st.booleans(), st.booleans(), st.integers(1, 2))
def test_what_was_cut_off_for_nothing_gives_way_to_what_stands_out_far_and_is_not_its_own(
    far: bool, known: bool, headphones: bool, insists: int
) -> None:
    own, turns = Own(), Turns(speaking=True, insists=insists)
    own.out, own.far, own.known = True, far, known
    over = TalkOver(own, headphones=headphones)
    now = over.giving_way(turns, Manners(talk_over=True), 10.0, 10.3)
    assert now.talk_over is (far and not known and not headphones)


@given(st.floats(0, 40), st.booleans(), st.floats(0, 20), st.floats(0.1, 5))
def test_what_is_no_louder_than_what_is_left_of_a_film_is_nothing(
    gain_db: float, speaking: bool, began_s: float, length_s: float
) -> None:
    own = Own()
    own.steady_gain_db, own.left_over = gain_db, True
    turns = Turns(speaking=speaking, silent_since_s=5.0)
    for over in (TalkOver(own, headphones=False), TalkOver(None, own, headphones=False)):
        assert over.part(turns, Manners(), began_s, began_s + length_s) is Part.ECHO
    own.left_over = False
    over = TalkOver(None, own, headphones=False)
    assert not over.manners(Manners()).talk_over, "its own voice is not taken out"
    assert over.part(Turns(silent_since_s=-9.0), Manners(), began_s, began_s + 1) is Part.WHOLE


class Card:
    """As much of a sound card as is needed to choose what is taken out."""

    def own_voice(self) -> OwnVoice:
        return OwnVoice()


@pytest.mark.parametrize("headphones", [False, True])
def test_without_a_monitor_its_own_voice_is_taken_out_but_for_headphones(
    headphones: bool,
) -> None:
    card = cast("Sound", Card())
    with taken_out(card, "none", None, headphones=headphones) as heard:
        assert isinstance(heard.source, WithoutKnown) is not headphones
        assert (heard.own is None) is headphones
        assert heard.told == ()


class Call(TalkInRoom[LoudRoom]):
    """A piece at its second round, whose program has spoken until it can be talked over."""

    def __init__(self, caller: Caller, hearing: Hearing, ours: Renderer) -> None:
        self.caller, self.watch = caller, Watch()
        self.room = LoudRoom(0.6 * room(1))
        source = WithoutKnown(self.room, self.room, tells=False)
        mouth = Mouth(PlayedSpeaker(ours, self.room), self.room)
        ears = Ears(source, hearing, Endpointer(), source)
        self.talk = Conversation(caller, ears, mouth, self.watch, clock=self.room.now)
        while source.steady_gain_db < ENOUGH_DB + 5:
            assert self.room.now() < 60
            self.say(LONG)

    def say(self, text: str) -> None:
        self.talk.tell(text)
        self.silent()


@pytest.fixture
def call(hearing: Hearing, tmp_path: Path) -> Iterator[Call]:
    with Journal.open(tmp_path, "x", CODEC) as journal, Renderer() as ours:
        caller = Caller(journal)
        caller.open()
        for words in ("begin", "next", "brief"):
            caller.hear(words)
        yield Call(caller, hearing, ours)


def test_a_command_stops_it_and_is_heard_whole_and_right_after_it_too(call: Call) -> None:
    with Renderer(Delivery(150)) as maker:
        words = maker.render("where am i")
        call.wait(1.0)
        call.watch.taken.clear()
        call.room.stops_s.clear()
        call.talk.tell(LONG)
        call.wait(1.5)
        began_s = call.room.now()
        call.room.speak((words / 3).astype(np.int16))
        call.wait(3.0)
        assert call.watch.taken == ["where am i"]
        assert call.room.stops_s[0] - began_s < 0.3
        assert call.watch.spoken[-1].startswith("Round two, the crown"), "not said again"
        call.silent()
        call.room.speak((words / 3).astype(np.int16))
        call.wait(2.0)
        assert call.watch.taken == ["where am i"] * 2, "there is no deaf half second"


def test_where_the_microphone_is_moved_it_never_acts_on_itself_and_says_all_again(
    call: Call,
) -> None:
    call.watch.taken.clear()
    call.watch.spoken.clear()
    for place in range(3):
        call.talk.tell(LONG)
        call.wait(1.5)
        call.room.path = 0.6 * room(place + 2, 100 + 170 * place)
        call.silent()
        call.wait(1.5)
        call.silent()
    assert not any(call.watch.taken)
    assert call.watch.spoken.count(LONG) == 3 + len(call.room.stops_s)
