"""The conversation in a computed room, with the real voice and the real recogniser: early words,
speech that fails, sound that goes and comes back, weak sound.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from pattern.journal.journal import Journal
from pattern.session.commands import Kind, Signs
from pattern.session.events import Event
from pattern.session.history import CODEC
from pattern.session.state import FINISHING_STEPS
from pattern.shape.rounds import Stage
from tests.properties import together
from tests.talk_in_room import TalkInRoom
from voice.caller.caller import Caller
from voice.cli.call_screen import Screen
from voice.dialogue.conversation import Conversation
from voice.dialogue.done_silence import DONE_SILENCE_S
from voice.dialogue.echo import LONGEST_S
from voice.dialogue.protocols import Ears, Mouth
from voice.dialogue.trouble import Trouble
from voice.dialogue.turn_state import Manners
from voice.hearing.attention import QUIET_AFTER_S, Attention, Switch, When
from voice.hearing.evidence import Action, Reason, Verdict
from voice.hearing.listening import Hearing
from voice.rehearsal.room import Room
from voice.sentences.hearing import attention as told_of_attention
from voice.sound.earcons import Earcon
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.ports import (
    RATE_HZ,
    AudioBlock,
    Condition,
    DeviceBack,
    DeviceLost,
    Samples,
    TooQuiet,
)
from voice.speech.delivery import Delivery
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer
from voice.words.attention_words import CHOICES
from voice.words.spoken_numbers import say_integer


class Watch:
    """Keeps what goes on."""

    def __init__(self) -> None:
        self.spoken: list[str] = []
        self.taken: list[str] = []

    def said(self, text: str) -> None:
        self.spoken.append(text)

    def heard(self, segment: Segment, what: Verdict) -> None:
        assert len(segment.samples)
        self.taken.append(what.text)

    def trouble(self, condition: Condition) -> None:
        self.spoken.append(f"[{condition.sentence}]")


class BreakingRoom(Room):
    """A room in which conditions come between the blocks."""

    def __init__(self, *, echo_db: float | None = None) -> None:
        super().__init__(echo_db=echo_db)
        self.next: list[Condition] = []

    def read(self, timeout_s: float) -> AudioBlock | Condition | None:
        return self.next.pop(0) if self.next else super().read(timeout_s)


class Call(TalkInRoom[BreakingRoom]):
    """A piece at its second round, called in a room."""

    def __init__(
        self,
        caller: Caller,
        hearing: Hearing,
        ours: Renderer,
        room: BreakingRoom,
        attention: Attention | None = None,
        *,
        manners: Manners | None = None,
    ) -> None:
        self.caller, self.room, self.watch = caller, room, Watch()
        ears = Ears(self.room, hearing, Endpointer())
        mouth = Mouth(PlayedSpeaker(ours, self.room), self.room)
        self.talk = Conversation(
            caller,
            ears,
            mouth,
            self.watch,
            clock=self.room.now,
            attention=attention,
            manners=manners,
        )

    @property
    def round(self) -> int:
        assert self.caller.state.offered is not None
        return self.caller.state.offered.number


@pytest.fixture(scope="module")
def maker() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


def taking_up(
    hearing: Hearing,
    ours: Renderer,
    journal: Journal[Event],
    room: BreakingRoom,
    attention: Attention | None = None,
    *,
    manners: Manners | None = None,
) -> Call:
    """A call of the piece at its second round."""
    caller = Caller(journal)
    caller.open()
    for words in ("begin", "next", "brief"):
        caller.hear(words)
    return Call(caller, hearing, ours, room, attention, manners=manners)


@pytest.fixture
def call(hearing: Hearing, maker: Renderer, ours: Renderer, tmp_path: Path) -> Iterator[Call]:
    with Journal.open(tmp_path, "x", CODEC) as journal:
        assert maker.delivery.rate_wpm == 150
        yield taking_up(hearing, ours, journal, BreakingRoom())


def begins(call: Call, words: Samples, before_end_s: float, ours: str) -> None:
    """Let the maker begin so long before the end of what the program says."""
    call.talk.tell(ours)
    end_s = call.room.now()
    while call.room.playing:  # how long it takes is not known beforehand
        call.talk.step()
    length_s = call.room.now() - end_s
    call.wait(2.0)
    call.talk.tell(ours)
    call.wait(length_s - before_end_s)
    call.room.speak(words)
    call.wait(4.0)


def test_words_begun_under_its_speech_are_not_taken_for_their_end(
    call: Call, maker: Renderer
) -> None:
    """Of "count sixty two" what is left may be "sixty two", or "two"."""
    for _ in range(2):
        begins(call, maker.render("count sixty two"), 0.45, "A few words.")
        call.silent()
    assert set(call.watch.taken) == {""}
    assert call.watch.spoken[-1] == Trouble.EARLY.value
    assert call.round == 2


def test_words_begun_in_the_time_of_the_echo_are_taken_whole(call: Call, maker: Renderer) -> None:
    begins(call, maker.render("where am i"), -0.25, "A few words.")
    assert call.watch.taken == ["where am i"]


def until_around(call: Call) -> None:
    """Work on until the hat is to be measured around."""
    while (want := call.caller.state.want) is None or want.kind is not Kind.AROUND:
        call.caller.hear("next")


def of_two(maker: Renderer, number: str, pause_s: float) -> Samples:
    """A count, with a pause after its first word besides what silence the voice leaves there."""
    pause = np.zeros(round(pause_s * RATE_HZ), np.int16)
    return np.concatenate([maker.render("count"), pause, maker.render(number)])


@pytest.mark.parametrize(("pause_s", "before_end_s"), together([0.08, 0.13], [0.4, 0.3, 0.1]))
def test_a_number_whose_first_word_fell_under_its_speech_is_asked_about(
    call: Call, maker: Renderer, before_end_s: float, pause_s: float
) -> None:
    until_around(call)
    begins(call, of_two(maker, "eleven", pause_s), before_end_s, "A few words.")
    assert call.watch.spoken[-1] == "Eleven around?"
    assert call.caller.state.taken is None, "no reading"
    call.silent()
    call.wait(1.0)
    counted = f"count {say_integer(call.caller.state.piece.stitches)}"
    call.room.speak(maker.render(counted))
    call.wait(4.0)
    assert call.watch.taken == ["eleven", counted]
    assert call.caller.state.taken is None


def test_a_number_begun_soon_after_its_speech_is_a_reading_at_once(
    call: Call, maker: Renderer
) -> None:
    until_around(call)
    begins(call, maker.render("twenty"), -0.35, "A few words.")
    assert call.watch.spoken[-1].startswith("Twenty around.")


def test_a_sign_into_the_pause_of_a_maker_is_no_word_begun_early(
    call: Call, maker: Renderer
) -> None:
    call.wait(1.0)
    call.room.speak(of_two(maker, "thirty one", 0.25))
    call.wait(4.0)
    assert call.watch.taken == ["", ""], "the pause was heard as the end"
    assert call.watch.spoken == [], "signs only"


def test_a_shape_is_named_aloud_once_the_ring_is_to_be_worked_again(
    call: Call, maker: Renderer
) -> None:
    for words in ("a beret", "ripped back one round", "a beret"):
        call.silent()
        call.wait(1.0)
        call.room.speak(maker.render(words))
        call.wait(4.0)
    assert [words for words in call.watch.taken if words] == ["ripped back one round", "a beret"]
    assert call.caller.state.settings.shape.name == "beret"


def says_at_once(call: Call, words: Samples, replies: int) -> list[str]:
    """Words taken of those begun 0.2 s after the last of so many replies."""
    for _ in range(replies):
        call.talk.tell("A few words.")
        call.silent()
        call.wait(1.5)
    call.talk.tell("A few words.")
    call.silent()
    call.wait(0.2)
    call.room.speak(words)
    call.wait(3.0)
    return call.watch.taken


@pytest.mark.parametrize(("replies", "taken"), [(3, ["set"]), (1, [])])
def test_a_fast_short_answer_is_taken_once_no_echo_is_known_to_come(
    call: Call, replies: int, taken: list[str]
) -> None:
    with Renderer(Delivery(rate_wpm=220)) as fast:
        words = fast.render("set")
    assert 0.2 + len(words) / RATE_HZ < LONGEST_S + 0.05, "it sounds as long as an echo may"
    assert says_at_once(call, words, replies) == taken
    assert call.caller.state.sets == len(taken)


@pytest.mark.parametrize("echo_s", [0.06, 0.2, 0.3])
def test_where_a_short_echo_is_learned_it_still_leads_to_no_command(
    hearing: Hearing,
    ours: Renderer,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    echo_s: float,
) -> None:
    """Rounds, answers and refusals of the crown come back into the microphone, 6 dB down."""
    monkeypatch.setattr("voice.rehearsal.room.ECHO_DELAY", round(echo_s * RATE_HZ))
    asked = ("next", "where am i", "how many more", "again", "count forty", "help", "undo")
    with Journal.open(tmp_path, "x", CODEC) as journal:
        call = taking_up(hearing, ours, journal, BreakingRoom(echo_db=-6.0))
        for words in asked * 3:
            call.talk.tell(call.caller.hear(words).say)
            call.silent()
            call.wait(1.5)
    assert set(call.watch.taken) <= {""}
    assert call.talk._turns.echo.deaf_s < LONGEST_S


def test_signs_in_words_are_asked_for_by_voice_and_kept(call: Call, maker: Renderer) -> None:
    call.room.speak(maker.render("say it in words"))
    call.wait(3.0)
    assert call.watch.spoken == ["Signs in words."]
    assert call.caller.state.signs is Signs.WORDS
    call.silent()
    call.wait(1.0)
    for _ in range(2):
        begins(call, maker.render("count sixty two"), 0.45, "A few words.")
        call.silent()
    assert call.watch.spoken.count(Earcon.NOT_CAUGHT.words) == 1, "the second time it is told why"


def test_the_time_of_a_reminder_chosen_by_voice_counts_in_the_call(
    call: Call, maker: Renderer
) -> None:
    while call.caller.state.want is None:
        call.caller.hear("next")
    call.room.speak(maker.render("ask again after thirty seconds"))
    call.wait(6.0)
    assert call.watch.spoken == ["I ask again, once, after thirty seconds of silence."]
    call.wait(150.0)
    asked = call.caller.again().say
    assert call.watch.spoken[1:] == [asked], "once, and then silence is left alone"


def test_a_done_piece_can_be_talked_about_until_the_maker_leaves(
    call: Call, maker: Renderer
) -> None:
    while call.caller.state.step < len(FINISHING_STEPS) - 1:
        call.caller.hear("skip")
        call.caller.hear("next")
    for words, done, ended in (
        ("next", True, False),
        ("slower", True, False),
        ("brief", True, False),
        ("leave", True, True),
    ):
        call.room.speak(maker.render(words))
        call.wait(3.0)
        assert call.watch.taken[-1] == words
        assert (call.caller.state.stage is Stage.DONE, call.talk.ended) == (done, ended)
        call.silent()
        call.wait(1.0)


def test_the_call_of_a_done_piece_ends_after_two_minutes_of_silence(
    call: Call, maker: Renderer
) -> None:
    while call.caller.state.step < len(FINISHING_STEPS) - 1:
        call.caller.hear("skip")
        call.caller.hear("next")
    call.room.speak(maker.render("next"))
    call.wait(60.0)
    assert (call.caller.state.stage, call.talk.ended) == (Stage.DONE, False)
    call.room.speak(maker.render("how many rounds"))
    call.wait(DONE_SILENCE_S - 10.0)
    assert not call.talk.ended, "the maker spoke"
    call.wait(30.0)
    assert call.talk.ended


def test_where_speech_fails_it_is_told_once_and_the_screen_goes_on(
    hearing: Hearing, maker: Renderer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    next_, again = maker.render("next"), maker.render("again")
    (tmp_path / "sitecustomize.py").write_text(
        "import sys\nif 'voice.speech.speech_child' in sys.orig_argv:\n    sys.exit(3)\n", "utf-8"
    )
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    with Journal.open(tmp_path, "x", CODEC) as journal, Renderer() as fails:
        call = taking_up(hearing, fails, journal, BreakingRoom())
        for words in (next_, again):
            call.room.speak(words)
            call.wait(2.5)
        assert call.round == 3
    assert call.watch.taken == ["next", "again"]
    failures = [said for said in call.watch.spoken if said.startswith("Speaking does not work")]
    assert len(failures) == 1
    assert len([said for said in call.watch.spoken if said.startswith("Round three")]) == 2


def test_after_a_loss_it_asks_for_the_last_words_and_says_what_is_due(call: Call) -> None:
    call.room.next = [DeviceLost("unplugged"), DeviceBack(2.0)]
    call.wait(0.1)
    back = DeviceBack(2.0).sentence
    assert call.watch.spoken[0] == f"[{DeviceLost('').sentence}]"
    assert call.watch.spoken[1:3] == [f"[{back}]", back]
    assert call.watch.spoken[3].startswith("Round two")
    assert call.room.playing


def test_a_word_that_the_loss_cut_off_is_forgotten(call: Call, maker: Renderer) -> None:
    words = maker.render("next")
    call.room.speak(words)
    call.wait(len(words) / RATE_HZ)
    call.room.next = [DeviceLost("unplugged")]
    call.wait(1.5)
    assert call.watch.taken == []


def test_a_weak_voice_is_told_once_until_it_is_right(
    capsys: pytest.CaptureFixture[str], maker: Renderer
) -> None:
    screen, sound = Screen(), maker.render("next")
    silent = Verdict("", None, Action.SILENT, Reason.NO_PHRASE)
    for gain in (0.005, 0.005, 1.0, 0.005):
        screen.heard(Segment(0.0, 1.0, 1.0, (sound * gain).astype(np.int16)), silent)
    assert capsys.readouterr().out.splitlines() == [f"[{TooQuiet(0.0).sentence}]"] * 2


def test_sound_that_can_no_longer_be_kept_is_told_once_and_the_call_goes_on(
    call: Call, maker: Renderer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(call.watch, "heard", Screen(tmp_path / "gone").heard)
    for _ in range(2):
        call.room.speak(maker.render("next"))
        call.wait(3.0)
        call.silent()
        call.wait(1.0)
    assert call.round == 4
    told = [said for said in call.watch.spoken if "00001.wav could not be written" in said]
    assert told == [f"[{told[-1]}]", told[-1]], "on the screen and aloud"


@pytest.fixture
def addressed(hearing: Hearing, ours: Renderer, tmp_path: Path) -> Iterator[Call]:
    """A call in which the attention words are always needed."""
    with Journal.open(tmp_path, "x", CODEC) as journal:
        yield taking_up(hearing, ours, journal, BreakingRoom(), Attention(when=When.ALWAYS))


@pytest.mark.parametrize(("kind", "pause_s"), together(["addressed", "call"], [0.0, 0.6, 1.2]))
def test_the_maker_may_pause_after_the_attention_words_and_say_them_unasked(
    request: pytest.FixtureRequest, maker: Renderer, kind: str, pause_s: float
) -> None:
    addressed: Call = request.getfixturevalue(kind)
    lead, words = (maker.render(text) for text in (CHOICES[0], "where am i"))
    pause = np.zeros(round(pause_s * RATE_HZ), np.int16)
    addressed.wait(1.0)
    addressed.room.speak(np.concatenate([lead, pause, words]))
    addressed.wait(6.0)
    assert addressed.watch.taken == ["where am i"]


def test_nothing_is_told_into_the_pause_after_the_attention_words(
    addressed: Call, maker: Renderer
) -> None:
    lead, words = (maker.render(text) for text in (CHOICES[0], "where am i"))
    pause = np.zeros(round(1.2 * RATE_HZ), np.int16)
    addressed.wait(1.0)
    began_s = addressed.room.now()
    addressed.room.speak(np.concatenate([lead, pause, words]))
    addressed.wait(len(lead) / RATE_HZ + 0.6)
    addressed.room.next.append(TooQuiet(-70.0))
    addressed.wait(began_s + (len(lead) + len(pause) + len(words)) / RATE_HZ - addressed.room.now())
    assert addressed.watch.spoken == []
    addressed.wait(3.0)
    addressed.silent()
    addressed.wait(1.0)
    assert addressed.watch.taken == ["where am i"]
    assert f"[{TooQuiet(-70.0).sentence}]" in addressed.watch.spoken


def test_attention_words_that_nothing_follows_are_answered_with_a_sign(
    addressed: Call, maker: Renderer
) -> None:
    for _ in range(2):
        addressed.wait(1.0)
        addressed.room.speak(maker.render(CHOICES[0]))
        addressed.wait(4.0)
    assert addressed.watch.taken == ["", ""]
    assert addressed.watch.spoken == [Trouble.NO_PHRASE.value]
    addressed.silent()
    addressed.wait(1.0)
    addressed.room.speak(maker.render("where am i"))
    addressed.wait(4.0)
    assert addressed.watch.taken[2:] == [""], "without the words nothing is taken"
    assert len(addressed.watch.spoken) == 1, "and nothing said"


@pytest.mark.parametrize("pause_s", [0.0, 0.2, 0.3])
def test_a_pause_within_a_reading_leaves_it_whole(
    call: Call, maker: Renderer, pause_s: float
) -> None:
    """Besides what silence the voice leaves at the end of its words and before them."""
    while (want := call.caller.state.want) is None or want.kind is Kind.LOOK:
        call.caller.hear("next")
    call.wait(1.0)
    pause = np.zeros(round(pause_s * RATE_HZ), np.int16)
    call.room.speak(
        np.concatenate([maker.render("across eight"), pause, maker.render("and a half")])
    )
    call.wait(5.0)
    assert call.watch.taken == ["across eight and a half"]


def test_in_a_pause_what_is_clearly_said_is_answered_with_how_to_go_on(
    call: Call, maker: Renderer
) -> None:
    for words in ("pause", "next", "help"):
        call.silent()
        call.wait(1.0)
        call.room.speak(maker.render(words))
        call.wait(4.0)
    paused = "Paused. Say resume to go on."
    assert call.watch.spoken[:2] == [paused, paused]
    assert "resume" in call.watch.spoken[2]
    assert call.round == 2


def test_a_maker_alone_who_leaves_the_attention_words_out_is_told_and_let_go(
    hearing: Hearing, maker: Renderer, ours: Renderer, tmp_path: Path
) -> None:
    on = Attention(on=True, others_s=(0.0,))
    with Journal.open(tmp_path, "x", CODEC) as journal:
        call = taking_up(hearing, ours, journal, BreakingRoom(), on)
        for _ in range(2):
            call.silent()
            call.wait(QUIET_AFTER_S / 3)
            call.room.speak(maker.render("next"))
            call.wait(4.0)
        assert call.round == 2, "nothing is done without them"
        call.wait(QUIET_AFTER_S / 3)
        left_out, off = (
            told_of_attention(which, on.words) for which in (Switch.LEFT_OUT, Switch.OFF)
        )
        told = [said for said in call.watch.spoken if on.words in said]
        assert told == [left_out, left_out, off]


def test_with_headphones_a_clink_costs_no_words_and_a_phrase_still_stops_it(
    hearing: Hearing, maker: Renderer, ours: Renderer, tmp_path: Path
) -> None:
    clink = np.random.default_rng(1).normal(0, 3000, RATE_HZ // 10).astype(np.int16)
    with Journal.open(tmp_path, "x", CODEC) as journal:
        call = taking_up(hearing, ours, journal, BreakingRoom(), manners=Manners(talk_over=True))
        long = "Round two: two in the next stitch, one in each of the next three, six times."
        call.talk.tell(long)
        call.wait(1.0)
        call.room.speak(clink)
        call.wait(3.0)
        assert call.watch.spoken == [long, long], "it was cut off, and is said again"
        call.room.speak(clink)
        call.wait(0.6)
        assert call.room.playing, "this time it is heard out"
        call.silent()
        call.talk.tell(long)
        call.wait(1.0)
        call.room.speak(maker.render("where am i"))
        call.wait(4.0)
        assert [words for words in call.watch.taken if words] == ["where am i"]
        assert call.watch.spoken[2:3] == [long]
        assert call.watch.spoken[3].startswith("Round two, the crown")
