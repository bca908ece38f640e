"""A whole call on virtual cards while this machine plays a film, louder than the maker: another
loudspeaker becomes the default, the sound server is started anew, the film stops and begins.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from pattern.journal.journal import Journal
from pattern.session.history import CODEC, state_after
from tests.known_sound import Floats, across, film, level_db, room, samples
from tests.properties import alone
from tests.running_program import LIMIT_S, Program, calling, round_one_done
from tests.sound_helpers import wait_until_heard
from tests.virtual_audio import VirtualAudio
from tests.virtual_film import playing
from voice.dialogue.talk_over import NotOver
from voice.sentences.hearing import TAKES_OUT
from voice.sound.known_sound import NotTakenOut
from voice.sound.ports import RATE_HZ, DeviceBack, DeviceLost
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

pytestmark = [
    alone,
    pytest.mark.skipif(find_spec("soundcard") is None, reason="soundcard is not installed"),
]
NEAR, FAR = 0.6 * room(1), 0.5 * room(2, 300)
LOUDER_DB = 6.0
LONG_S = 300
"""Of the film: longer than any of these calls."""
TRIES, ANSWERED_S = 8, 20.0
"""A maker who is not answered says it again; how patient that is decides nothing."""
TOLD = (DeviceLost("").sentence, DeviceBack(0).sentence)
GOES_BACK = {NotTakenOut().sentence, NotOver().sentence}
"""What may be told where something is not taken out any more."""


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    return round_one_done(tmp_path)


class Scene:
    """A maker, and a film that is louder at the microphone."""

    def __init__(self, card: VirtualAudio, said: Floats) -> None:
        self.card = card
        self.said = samples(np.concatenate([said, np.zeros(RATE_HZ * 3 // 4)]) / 4)
        sound = film(LONG_S)
        heard_db = level_db(across(sound, NEAR))
        self.film = sound * 10 ** ((level_db(said) + LOUDER_DB - heard_db) / 20) / 4

    def film_plays(self) -> AbstractContextManager[None]:
        return playing(self.card, self.film, None)

    def next(self, program: Program) -> None:
        """Say "next" until it is answered."""
        for _ in range(TRIES):
            self.card.feed(self.said)
            if program.comes("> next", limit_s=ANSWERED_S):
                program.wait_for("Round ")
                return
        pytest.fail(f"it does not hear: {program.seen}")


@pytest.fixture
def scene(card: VirtualAudio, monkeypatch: pytest.MonkeyPatch) -> Iterator[Scene]:
    monkeypatch.delenv("PULSE_SINK")  # the default is followed
    monkeypatch.delitem(card.variables, "PULSE_SINK")
    card.stand("near", NEAR)
    with Renderer(Delivery(rate_wpm=150)) as maker:
        yield Scene(card, maker.render("next").astype(np.float64))


@contextmanager
def called(scene: Scene, folder: Path, *told: str) -> Iterator[Program]:
    """A call that hears one "next" under the film, before and after what happens; no answered turn
    is lost, nothing else is heard, and nothing is told but this.
    """
    with calling(folder) as program:
        program.wait_for(TAKES_OUT)
        program.wait_for("Round two")
        scene.next(program)
        yield program
        scene.next(program)
        program.process.kill()
        program.process.wait(LIMIT_S)
        program.comes("no such line", limit_s=1.0)
    heard = [line for line in program.seen if line.startswith(">")]
    assert set(heard) == {"> next"}
    with Journal.open(folder, "x", CODEC, create=False) as journal:
        state = state_after(journal.turns)
    assert state.offered is not None
    assert state.offered.number == 2 + len(heard)
    sentences = [line[1:-1] for line in program.seen if line.startswith("[")]
    assert [each for each in sentences if each not in GOES_BACK] == list(told), program.seen
    assert len(sentences) == len(set(sentences)), "each is told once"


def test_another_loudspeaker_becomes_the_default(scene: Scene, begun: Path) -> None:
    with scene.film_plays(), called(scene, begun):
        scene.card.stand("far", FAR)
        with scene.card.listen("far") as ear:
            wait_until_heard(ear)


def test_the_sound_server_is_started_anew(scene: Scene, begun: Path) -> None:
    with ExitStack() as films:
        films.enter_context(scene.film_plays())
        with called(scene, begun, *TOLD) as program:
            scene.card.kill()
            program.wait_for(DeviceLost("").sentence)
            scene.card.start()
            scene.card.hiss()
            scene.card.stand("near", NEAR)
            films.enter_context(scene.film_plays())
            program.wait_for(DeviceBack(0).sentence)


def test_the_film_stops_and_begins_again(scene: Scene, begun: Path) -> None:
    with ExitStack() as first, ExitStack() as second:
        first.enter_context(scene.film_plays())
        with called(scene, begun) as program:
            first.close()
            scene.next(program)
            second.enter_context(scene.film_plays())
