"""Where speech cannot be rendered a call goes on, and every text is at least heard as a sign."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from tests.test_conversation import BreakingRoom, Watch
from voice.caller.caller import Caller
from voice.cli.voice_call import speak_as
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.hearing.listening import Hearing
from voice.sound.earcons import Earcon
from voice.sound.endpoint import Endpointer
from voice.sound.ports import Samples
from voice.speech.delivery import Delivery
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer

ASKED = ("again", "slower", "another voice", "quieter", "next")


class KeepingRoom(BreakingRoom):
    """A room that keeps what the program lets be heard."""

    def __init__(self) -> None:
        super().__init__()
        self.played: list[Samples] = []

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        self.played.append(samples)
        super().play(samples, goes_on=goes_on)


@pytest.fixture(scope="module")
def maker() -> Iterator[dict[str, Samples]]:
    with Renderer(Delivery(rate_wpm=150)) as renderer:
        yield {words: renderer.render(words) for words in ASKED}


def test_without_speech_every_command_is_taken_and_answered_by_a_sign(
    hearing: Hearing, maker: dict[str, Samples], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pyttsx3.py").write_text("raise ImportError('no library')\n", encoding="utf-8")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    room, watch, sign = KeepingRoom(), Watch(), Earcon.UNSPOKEN.samples()
    with Journal.open(tmp_path, "x", CODEC) as journal, Renderer() as ours:
        caller = Caller(journal)
        caller.open()
        caller.hear("begin")
        mouth = Mouth(PlayedSpeaker(ours, room), room)
        talk = Conversation(
            caller,
            Ears(room, hearing, Endpointer()),
            mouth,
            watch,
            clock=room.now,
            speak_as=partial(speak_as, ours),
        )
        talk.tell(caller.again().say)
        for words in ASKED:
            end_s = room.now() + 1.5
            while room.playing or room.now() < end_s:
                talk.step()
            room.speak(maker[words])
            end_s = room.now() + 3.0
            while room.now() < end_s:
                talk.step()
    assert watch.taken == list(ASKED)
    texts = [text for text in watch.spoken if not text.startswith("Speaking does not work")]
    assert len(watch.spoken) == len(texts) + 1, "why is told once"
    assert len(texts) == len(room.played) == 1 + len(ASKED)
    assert all(np.array_equal(played, sign) for played in room.played)
    speech = caller.state.speech
    assert ours.delivery == Delivery(speech.rate_wpm, speech.volume), "but for the voice, as chosen"
    assert speech.voice == 1
