"""The whole program on a virtual sound card: spoken words in, spoken replies out, a loss."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from pattern.journal.journal import Journal
from pattern.session.decide_asides import STEP_WPM
from pattern.session.history import CODEC, state_after
from tests.known_sound import across, film, level_db, room, samples
from tests.running_program import HAT, LIMIT_S, Program, calling, round_one_done
from tests.said_back import said_back
from tests.sound_helpers import Listener
from tests.test_page_beside import news, reader
from tests.test_said_back import REPLIES
from tests.test_sound_loss import BROKEN
from tests.virtual_audio import VirtualAudio
from tests.virtual_film import playing_in_room
from voice.sentences.hearing import KEEPS_AUDIO, TAKES_OUT, TYPING
from voice.sound.earcons import Earcon
from voice.sound.ports import RATE_HZ, DeviceBack, DeviceLost, Samples
from voice.sound.sound_watch import likeness
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

ROUND_TWO, ROUND_THREE = "Round two: ", "Round three: two in one, one plain, six times. Eighteen."
STRANGE = "Not one of these words belongs to this conversation, nor will it ever."


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    return round_one_done(tmp_path)


def rounds_kept(folder: Path) -> int:
    """The number of the round called last, by the journal, which is whole."""
    with Journal.open(folder, "x", CODEC, create=False) as journal:
        assert not journal.dropped_tail
        state = state_after(journal.turns)
    assert state.offered is not None
    return state.offered.number


@pytest.fixture(scope="module")
def maker() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


def say(card: VirtualAudio, maker: Renderer, words: str) -> None:
    """Speak into the microphone, after and before a silence that ends the utterance."""
    pause = np.zeros(RATE_HZ * 3 // 4, np.int16)
    card.feed(np.concatenate([pause, maker.render(words), pause]))


def all_said(ear: Listener) -> Samples:
    """What the loudspeaker says since the ear was opened, or since this was asked last.

    It has begun, which takes its time on a busy machine, and has been silent for two seconds.
    """
    end_s = time.monotonic() + LIMIT_S
    while time.monotonic() < end_s:
        time.sleep(0.1)
        heard = ear.heard()
        if heard.any() and not heard[-2 * RATE_HZ :].any():
            ear.forget()
            return heard
    pytest.fail("it does not speak, or never falls silent")


def without_silence(sound: Samples) -> Samples:
    """The sound without what lies among exact zeros, a few milliseconds on either side."""
    near = np.convolve(sound != 0, np.ones(RATE_HZ // 200), "same") > 0
    return sound[near]


def is_spoken(text: str, sound: Samples) -> bool:
    """Whether a sound is this text: as long, and more like it than like another.

    The engine does not render a text twice to the very same samples, so the likest of some counts.
    Silence does not: a busy machine may put some between.
    """
    spoken = without_silence(sound)
    renders, others = list[Samples](), list[Samples]()
    with Renderer() as ours:
        for count in range(4):
            ours.change(Delivery(volume=1 - count / 100))  # else it is remembered
            renders.append(without_silence(ours.render(text)))
            others.append(ours.render(STRANGE)[:RATE_HZ])
    same = max(likeness(render[:RATE_HZ], spoken) for render in renders)
    like_others = max(likeness(other, spoken) for other in others)
    right_length = abs(len(spoken) / len(renders[0]) - 1) < 0.1
    return right_length and same > like_others + 0.1


def test_words_are_heard_and_answered_aloud(
    card: VirtualAudio, maker: Renderer, begun: Path
) -> None:
    kept = begun / "kept"
    with card.listen() as ear, calling(begun, "--keep-audio", str(kept)) as program:
        program.wait_for(KEEPS_AUDIO)
        program.wait_for(ROUND_TWO)
        all_said(ear)
        say(card, maker, "next")
        program.wait_for("> next")
        program.wait_for(ROUND_THREE)
        reply = all_said(ear)
        assert is_spoken(ROUND_THREE, reply), "what is printed is what is spoken"
        heard = said_back(reply, REPLIES)
        assert heard == ROUND_THREE, "whoever only listens gets the round"
        say(card, maker, "again")
        program.wait_for("> again")
        program.wait_for(ROUND_THREE)
        all_said(ear)
        say(card, maker, "leave")
        program.wait_for("> leave")
        assert program.process.wait(LIMIT_S) == 0
    sounds = sorted(kept.iterdir())
    assert [file.name for file in sounds] == ["00001.wav", "00002.wav", "00003.wav"]
    assert soundfile.info(sounds[0]).samplerate == RATE_HZ
    assert rounds_kept(begun) == 3


@pytest.mark.skipif(find_spec("soundcard") is None, reason="soundcard is not installed")
def test_a_command_is_heard_while_this_machine_plays_a_film_louder_than_the_maker(
    card: VirtualAudio, maker: Renderer, begun: Path
) -> None:
    said = maker.render("next").astype(np.float64)
    sound = film(120)
    sound *= 10 ** ((level_db(said) + 6 - level_db(across(sound, room(1)))) / 20) / 4
    with playing_in_room(card, sound, across(sound, room(1))), calling(begun) as program:
        program.wait_for(TAKES_OUT)
        program.wait_for(ROUND_TWO)
        with Renderer() as ours:  # it speaks to its end, and the film's path is learnt meanwhile
            time.sleep(len(ours.render(" ".join(program.seen))) / RATE_HZ + 2)
        pause = np.zeros(RATE_HZ * 3 // 4)
        card.feed(samples(np.concatenate([pause, said / 4, pause])))
        program.wait_for("> next")
        program.wait_for(ROUND_THREE)


def test_slower_is_slower_than_the_rate_that_was_given(
    card: VirtualAudio, maker: Renderer, begun: Path
) -> None:
    with card.listen() as ear, calling(begun, "--rate", "200") as program:
        program.wait_for(ROUND_TWO)
        all_said(ear)
        say(card, maker, "slower")
        program.wait_for("Like this.")
    with Journal.open(begun, "x", CODEC, create=False) as journal:
        assert state_after(journal.turns).speech.rate_wpm == 200 - STEP_WPM


def test_a_sound_server_that_dies_in_mid_reply(
    card: VirtualAudio, maker: Renderer, begun: Path
) -> None:
    with calling(begun) as program:
        with card.listen() as ear:
            program.wait_for(ROUND_TWO)
            all_said(ear)
        say(card, maker, "next")
        program.wait_for(ROUND_THREE)
        card.kill()
        program.wait_for(f"[{DeviceLost('').sentence}]")
        card.start()
        card.hiss()
        with card.listen() as ear:
            program.wait_for(f"[{DeviceBack(0.0).sentence}]")
            program.wait_for(ROUND_THREE)
            all_said(ear)
        say(card, maker, "next")
        program.wait_for("Round four")
    assert len([line for line in program.seen if line.startswith("[")]) == 2, "each is told once"
    assert rounds_kept(begun) == 4


def test_a_call_whose_speech_fails_from_the_start_goes_on_by_voice(
    card: VirtualAudio, maker: Renderer, begun: Path, tmp_path: Path
) -> None:
    (tmp_path / "pyttsx3.py").write_text("raise ImportError('no library')\n", encoding="utf-8")
    with (
        card.listen() as ear,
        calling(begun, "--playing", "none", PYTHONPATH=str(tmp_path)) as program,
    ):
        program.wait_for(ROUND_TWO)
        program.wait_for("Speaking does not work")
        assert likeness(Earcon.UNSPOKEN.samples(), all_said(ear)) > 0.99
        say(card, maker, "next")
        program.wait_for(ROUND_THREE)
    assert rounds_kept(begun) == 3


def test_where_it_cannot_listen_it_says_so_aloud_and_goes_on_by_typed_words(
    card: VirtualAudio, tmp_path: Path
) -> None:
    with (
        card.listen() as ear,
        calling(tmp_path, *HAT, "--engine", "vosk", "--model", str(tmp_path)) as program,
    ):
        why = _typed_on(program)
        assert is_spoken(why, ear.heard())


@pytest.mark.skipif(Path("/dev/snd").exists(), reason="this computer has a sound card")
def test_without_a_device_it_goes_on_by_typed_words(tmp_path: Path) -> None:
    with calling(tmp_path, *HAT, PULSE_SERVER="unix:/nowhere") as program:
        _typed_on(program)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wheels elsewhere carry PortAudio")
def test_without_portaudio_it_goes_on_by_typed_words(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(
        "import ctypes.util\nctypes.util.find_library = lambda name: None\n", encoding="utf-8"
    )
    with calling(tmp_path / "pieces", *HAT, PYTHONPATH=str(tmp_path)) as program:
        assert "libportaudio2" in _typed_on(program)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="ALSA is Linux's")
@pytest.mark.usefixtures("portaudio")
def test_with_broken_sound_settings_it_goes_on_by_typed_words(tmp_path: Path) -> None:
    (tmp_path / ".asoundrc").write_text(BROKEN, encoding="utf-8")
    with calling(tmp_path / "pieces", *HAT, HOME=str(tmp_path)) as program:
        assert ".asoundrc" in _typed_on(program)


def _typed_on(program: Program) -> str:
    why = program.wait_for(TYPING)
    program.wait_for("Round one")
    assert len(program.seen) == 3, "the name, the one sentence, the opening"
    program.type("next")
    program.wait_for(
        "Round two: two in each stitch. Move the marker up to its first stitch. Twelve stitches."
    )
    assert program.process.wait(LIMIT_S) == 0
    return why


def test_the_page_follows_a_call_by_voice(card: VirtualAudio, maker: Renderer, begun: Path) -> None:
    """Spoken words advance the round on the page, which has no field."""
    with card.listen() as ear, calling(begun, "--page", BROWSER="") as program:
        address = program.wait_for("The page beside you is at ").split(" at ")[1].split("/: ")[0]
        with reader(f"{address.removesuffix('/')}/") as told_:
            while not news(told_)["where"].startswith("Round 2 "):
                pass
            program.wait_for(ROUND_TWO)
            all_said(ear)
            say(card, maker, "next")
            program.wait_for(ROUND_THREE)
            while not (last := news(told_))["where"].startswith("Round 3 "):
                pass
            assert last["said"] == ROUND_THREE
