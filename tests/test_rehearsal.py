"""A hat for a small head through the real voice and the real recogniser, in a computed room."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.properties import thoroughly
from tests.small_hat import SCENARIO, SHORT
from voice.caller.caller import Caller
from voice.cli import app
from voice.cli.commands.rehearse import MAKER_RATE_WPM
from voice.hearing.listening import Hearing
from voice.rehearsal import scripted
from voice.rehearsal.film import Film
from voice.rehearsal.loud_room import as_loud_as
from voice.rehearsal.rehearsal import Rehearsal
from voice.rehearsal.room import BLOCK, ECHO_DELAY, HISS, Room
from voice.rehearsal.tally import Tally
from voice.sound.ports import RATE_HZ, AudioBlock, Samples
from voice.sound.sound_watch import likeness
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer


class SlippingVoice(Renderer):
    """A maker's voice that once says other words than were meant."""

    def __init__(self, meant: str, slip: str) -> None:
        super().__init__(Delivery(MAKER_RATE_WPM))
        self._slips = {meant: slip}

    def render(self, text: str) -> Samples:
        return super().render(self._slips.pop(text, text))


@dataclass
class Played:
    """What came of a rehearsal."""

    tally: Tally
    state: State
    recording: Samples
    lines: list[str] = field(default_factory=list)


@pytest.fixture(scope="module")
def voices() -> Iterator[tuple[Renderer, Renderer]]:
    with Renderer(Delivery(MAKER_RATE_WPM)) as maker, Renderer() as ours:
        yield maker, ours


@pytest.fixture(scope="module")
def scenario(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("scenario") / "small.toml"
    file.write_text(SCENARIO, encoding="utf-8")
    return file


def played(
    scenario: Path, hearing: Hearing, voices: tuple[Renderer, Renderer], room: Room, folder: Path
) -> Played:
    """A rehearsal to its end."""
    with Journal.open(folder, "small", CODEC) as journal:
        caller, lines = Caller(journal), list[str]()
        maker = scripted.load(scenario)
        rehearsal = Rehearsal(caller, maker, hearing, voices, room=room, show=lines.append)
        tally = rehearsal.run()
        return Played(tally, caller.state, room.recording(), lines)


def typed(scenario: Path, folder: Path) -> State:
    """The state after the same maker has typed instead."""
    maker = scripted.load(scenario)
    with Journal.open(folder, "typed", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        for _ in range(80):
            if caller.state.stage is not Stage.DONE:
                caller.hear(maker.says(caller.state))
        return caller.state


@pytest.fixture(scope="module")
def with_echo(
    scenario: Path,
    hearing: Hearing,
    voices: tuple[Renderer, Renderer],
    tmp_path_factory: pytest.TempPathFactory,
) -> Played:
    folder = tmp_path_factory.mktemp("pieces")
    return played(scenario, hearing, voices, Room(echo_db=-6.0), folder)


def test_the_hat_is_done_and_nothing_is_misheard(with_echo: Played) -> None:
    tally = with_echo.tally
    assert tally.ended
    assert with_echo.state.stage is Stage.DONE
    assert tally.misheard == []
    assert tally.understood >= 20, tally.table()
    assert len(tally.not_caught) <= 3, tally.table()


def test_its_own_echo_leads_to_no_command(with_echo: Played) -> None:
    """All that the session makes it say comes back into the microphone, 6 dB down, 0.4 s late."""
    assert with_echo.tally.unsaid == []


def test_spoken_and_typed_words_make_the_same_hat(
    with_echo: Played, scenario: Path, tmp_path: Path
) -> None:
    assert with_echo.state == typed(scenario, tmp_path)


def test_both_voices_are_in_the_recording(
    with_echo: Played, voices: tuple[Renderer, Renderer]
) -> None:
    maker, ours = voices
    recording = with_echo.recording[: 60 * RATE_HZ]
    spoken = [line[2:] for line in with_echo.lines if line.startswith("  ")]
    strange = "Not one of these words belongs to this conversation, nor will it ever."
    said = likeness(maker.render("forty two"), recording)
    replied = likeness(ours.render(spoken[2]), recording)
    assert min(said, replied) > 0.9, "the very samples are in it"
    assert likeness(ours.render(strange), recording) < 0.5
    assert len(with_echo.recording) / RATE_HZ == pytest.approx(with_echo.tally.sound_s, abs=0.1)


def test_what_is_misheard_is_taken_back_and_said_again(
    hearing: Hearing, voices: tuple[Renderer, Renderer], tmp_path: Path
) -> None:
    """The tongue slips: what is done is not what was meant, whoever is to blame."""
    short = tmp_path / "short.toml"
    words = '["around twenty five", "finish now"]'
    short.write_text(f"{SHORT}\n[[say]]\nround = 3\nwords = {words}\n", encoding="utf-8")
    with SlippingVoice("around twenty five", "count twelve") as slipping:
        done = played(short, hearing, (slipping, voices[1]), Room(), tmp_path)
    assert [said for said, _ in done.tally.misheard] == ["around twenty five"]
    assert done.tally.ended
    at = done.lines.index("> undo")
    assert done.lines[at + 2] == "> around twenty five"
    assert done.state.piece.gauge == typed(short, tmp_path).piece.gauge


def test_the_room_gives_the_echo_later_and_weaker() -> None:
    room = Room(echo_db=-6.0)
    noise = np.random.default_rng(3).normal(0, 3000, 5 * BLOCK + 77).astype(np.int16)
    room.read(0.0)
    room.play(noise)
    blocks = [room.read(0.0) for _ in range(60)]
    heard = np.concatenate([block.samples for block in blocks if isinstance(block, AudioBlock)])
    expected = np.zeros(len(heard))
    expected[ECHO_DELAY : ECHO_DELAY + len(noise)] = noise * 10 ** (-6 / 20)
    assert np.abs(heard - expected).max() < 8 * HISS


def test_a_hat_is_rehearsed_with_being_talked_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    short = tmp_path / "short.toml"
    over = '[[say]]\nround = 2\nwords = ["again", "where am i"]\nover = true\n'
    end = '[[say]]\nround = 3\nwords = ["finish now"]\n'
    short.write_text(f"{SHORT}\n{over}\n{end}", encoding="utf-8")
    recordings = tmp_path / "out"
    options = ("--technical", "--scenario", str(short), "--out", str(recordings))
    assert app.main(["rehearse", *options]) == 0
    lines = capsys.readouterr().out.splitlines()
    told = {line[:20].strip(): line[20:].strip() for line in lines}
    assert [line for line in lines if line.endswith("(while it speaks)")] == [
        "> again (while it speaks)",
        "> where am i (while it speaks)",
    ]
    said_over = re.fullmatch(r"2, made (\d+) dB quieter", told["said over its speech"])
    assert said_over is not None
    assert int(said_over[1]) > 30
    assert told["heard of itself"] == told["misheard"] == told["not caught"] == "0"
    assert "a film" not in told


def test_own_voice_of_the_program_and_a_film_come_from_the_same_loudspeakers() -> None:
    """What the microphone hears is what both channels played, along their paths."""
    rng = np.random.default_rng(4)
    maker, ours, shown = (rng.normal(0, 1000, RATE_HZ).astype(np.int16) for _ in range(3))
    film = Film(np.stack([shown, shown]).astype(np.float32), maker)
    for each in (None, film):
        room = as_loud_as(maker, ours, noise=None, film=each, live=False)
        room.play(ours)
        heard, played = [np.zeros(0)], [np.zeros(0)]
        for _ in range(RATE_HZ // BLOCK):
            block = room.read(0.0)
            assert isinstance(block, AudioBlock)
            heard.append(block.samples.astype(np.float64))
            played.append(room.take().frames[0].astype(np.float64))
        sensitivity = film.sensitivity if each else 1.0
        expected = np.convolve(np.concatenate(played), room.path)[:RATE_HZ] * sensitivity
        late = slice(RATE_HZ // 2, None)  # the film has sounded for as long as its path is by then
        assert np.abs(np.concatenate(heard) - expected)[late].max() < 8 * HISS


@thoroughly
def test_a_film_of_its_own_phrases_in_the_makers_voice_does_nothing_and_the_hat_is_done(
    voices: tuple[Renderer, Renderer], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ten decibels louder than the maker, in two channels, by the command itself."""
    short, file = tmp_path / "short.toml", tmp_path / "film.wav"
    words = '["around twenty five", "finish now"]'
    short.write_text(f"{SHORT}\n[[say]]\nround = 3\nwords = {words}\n", encoding="utf-8")
    phrases = ("next", "undo", "count forty", "yes", "pause", "back", "where am i", "across nine")
    pause = np.zeros(RATE_HZ // 2, np.int16)
    said = np.concatenate([part for each in phrases for part in (voices[0].render(each), pause)])
    other = np.roll(said, len(said) // 2)
    soundfile.write(file, np.stack([said + other // 4, said - other // 4], axis=1), RATE_HZ)
    assert app.main(["rehearse", "--technical", "--scenario", str(short), "--film", str(file)]) == 0
    lines = capsys.readouterr().out.splitlines()
    told = {line[:20].strip(): line[20:].strip() for line in lines}
    assert told["heard of itself"] == told["misheard"] == "0"
    assert int(told["understood"]) >= 8
    louder, taken_out = re.findall(r"\d+ dB", told["a film"])
    assert louder == "10 dB"
    assert int(taken_out.split()[0]) >= 12
