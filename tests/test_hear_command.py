"""The command `hear`: one sound in many formats, files that are none, answers to what is asked."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]

from pattern.shape.rounds import Stage
from tests.known_sound import across, film, level_db, room, samples
from tests.test_documents import MANUAL, table
from voice.cli import app
from voice.cli.heard_files import context_for, decide
from voice.hearing.evidence import Action
from voice.hearing.listening import Hearing
from voice.recognisers import chosen
from voice.recognisers.net.letters import Letters
from voice.recognisers.net.moonshine import Moonshine
from voice.recognisers.net.moonshine_net import Hears
from voice.sound.ports import FULL_SCALE, RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

FORMATS = [
    (rate_hz, channels, subtype)
    for rate_hz in (8_000, 16_000, 44_100, 48_000)
    for channels in (1, 2)
    for subtype in ("PCM_U8", "PCM_16", "FLOAT")
]
TIGHT = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "ninety": 90, "thirteen": 13}
"""Short words, spoken without silence around them."""
Ran = Callable[..., tuple[int, list[dict[str, Any]], str]]


@pytest.fixture(scope="module", autouse=True)
def _one_net() -> Iterator[None]:
    """The net is opened once, not at each command; it keeps phrases, and nothing that it hears."""
    with pytest.MonkeyPatch.context() as patch:
        for each in (Hears, Moonshine, Letters):
            patch.setattr(chosen, each.__name__, cache(each))
        yield


@pytest.fixture(scope="module")
def voice() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


@pytest.fixture(scope="module")
def spoken(voice: Renderer, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Files of some words, at 16 kHz."""
    folder, files = tmp_path_factory.mktemp("spoken"), {}
    for words in ("next", "leave", "count forty", "six and a half", *TIGHT):
        files[words] = folder / f"{words}.wav"
        soundfile.write(files[words], voice.render(words), RATE_HZ)
    return files


@pytest.fixture
def hear(capsys: pytest.CaptureFixture[str]) -> Ran:
    """The command's exit code, its JSON lines, and what it says to the screen."""

    def run(*args: str | Path) -> tuple[int, list[dict[str, Any]], str]:
        code = app.main(["hear", "--json", *map(str, args)])
        told = capsys.readouterr()
        return code, [json.loads(line) for line in told.out.splitlines()], told.err

    return run


def test_one_sound_in_all_formats_is_one_command(
    voice: Renderer, hear: Ran, tmp_path: Path
) -> None:
    files = []
    pause = np.zeros(RATE_HZ // 4)
    sound = np.concatenate([pause, voice.render("undo") / FULL_SCALE, pause])
    for rate_hz, channels, subtype in FORMATS:
        files.append(tmp_path / f"{rate_hz} {channels} {subtype}.wav")
        frames = np.stack([soxr.resample(sound, RATE_HZ, rate_hz)] * channels, axis=1)
        soundfile.write(files[-1], frames, rate_hz, subtype)
    code, found, told = hear(*files)
    assert (code, told) == (0, "")
    assert [each["file"] for each in found] == [str(file) for file in files]
    said = {each["file"]: (each["command"], each["action"]) for each in found}
    assert all(answer == ({"type": "Undo"}, "act") for answer in said.values()), said


def test_the_fields_are_exactly_these(hear: Ran, spoken: dict[str, Path]) -> None:
    _, (found,), _ = hear(spoken["next"])
    told = table(MANUAL["scripts"], "## What a sound file would do")
    assert [f"`{field}`" for field in found] == list(told)
    assert told["`action`"] == "act, ask or silent"
    assert set(Action) == {"act", "ask", "silent"}
    assert (found["text"], found["action"], found["reason"]) == ("next", "act", "clear")
    assert found["command"] == {"type": "Next"}
    assert 0 < found["score"] <= 1
    assert found["seconds"] > 0
    assert found["engine"].startswith("moonshine")


def test_silence_and_noise_are_no_command(hear: Ran, tmp_path: Path) -> None:
    noise = np.random.default_rng(4).normal(0, 300, 2 * RATE_HZ).astype(np.int16)
    for name, sound in (("silence", np.zeros(RATE_HZ, np.int16)), ("noise", noise)):
        soundfile.write(tmp_path / f"{name}.wav", sound, RATE_HZ)
    code, found, _ = hear(tmp_path / "silence.wav", tmp_path / "noise.wav")
    assert code == 0
    assert [(each["action"], each["command"], each["text"]) for each in found] == [
        ("silent", None, "")
    ] * 2


def test_a_file_that_is_no_sound_is_one_sentence_and_the_next_goes_on(
    hear: Ran, spoken: dict[str, Path], tmp_path: Path
) -> None:
    text = tmp_path / "letter.wav"
    text.write_text("These are words for the eye.\n", encoding="utf-8")
    code, found, told = hear(text, tmp_path / "missing.wav", spoken["next"])
    assert code == 1
    assert [each["text"] for each in found] == ["next"]
    lines = told.splitlines()
    assert [str(text) in lines[0], "missing.wav" in lines[1], len(lines)] == [True, True, 2]


def test_a_folder_is_heard_file_by_file_past_what_is_no_sound(
    hear: Ran, spoken: dict[str, Path], tmp_path: Path
) -> None:
    (tmp_path / "a.wav").write_bytes(b"not a sound")
    (tmp_path / "b.wav").write_bytes(spoken["next"].read_bytes())
    (tmp_path / "none").mkdir()
    code, found, told = hear(tmp_path, tmp_path / "none", spoken["leave"])
    assert (code, [each["text"] for each in found]) == (1, ["next", "leave"])
    assert len(told.splitlines()) == 2


def test_what_is_cut_short_is_not_acted_on(
    hear: Ran, spoken: dict[str, Path], tmp_path: Path
) -> None:
    data = spoken["count forty"].read_bytes()
    (tmp_path / "cut.wav").write_bytes(data[: len(data) * 7 // 10])
    code, found, told = hear(tmp_path / "cut.wav", spoken["next"])
    assert (code, [each["text"] for each in found]) == (1, ["next"])
    assert "its end is missing" in told


def test_no_name_of_a_file_ends_the_run(spoken: dict[str, Path], tmp_path: Path) -> None:
    odd = tmp_path / os.fsdecode(b"odd \xff.wav")
    odd.write_bytes(spoken["next"].read_bytes())
    (tmp_path / "noise.raw").write_bytes(bytes(range(256)))
    files = (odd, tmp_path / "noise.raw", odd)
    done = subprocess.run(
        [sys.executable, "-m", "voice", "hear", *files], capture_output=True, check=False
    )
    assert done.returncode == 1
    assert done.stdout.count(b"I would do: next") == 2
    assert (done.stderr.count(b"noise.raw"), done.stderr.count(b"\n")) == (1, 1)


def test_what_is_asked_makes_a_bare_number_its_answer(hear: Ran, spoken: dict[str, Path]) -> None:
    _, found, _ = hear("--asks", "count", *(spoken[words] for words in TIGHT))
    counts = [{"type": "Counted", "count": number} for number in TIGHT.values()]
    assert [each["command"] for each in found] == counts
    _, (across,), _ = hear("--asks", "across", "--stage", "crown", spoken["six and a half"])
    assert across["command"]["type"] == "Measured"
    assert across["command"]["kind"] == "across"
    assert across["command"]["amount"]["value"] == 6.5
    _, (along,), _ = hear("--asks", "along", spoken["six and a half"])
    assert (along["command"]["kind"], along["command"]["stitches"]) == ("along", 10)


@pytest.mark.parametrize("stage", Stage)
def test_every_stage_may_be_chosen_and_something_is_understood_there(
    stage: Stage, spoken: dict[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert app.main(["hear", "--stage", stage, str(spoken["leave"])]) == 0
    assert "I would do: leave" in capsys.readouterr().out


def test_a_long_recording_is_cut_at_its_pauses(voice: Renderer) -> None:
    hearing = Hearing(chosen.open_recogniser())
    pause = np.random.default_rng(5).normal(0, 3, 9 * RATE_HZ).astype(np.int16)
    found = decide(hearing, [pause, voice.render("next"), pause], context_for())
    assert [(what.text, what.action) for what in found] == [("next", Action.ACT)]


def test_all_that_a_long_recording_holds_is_told(
    voice: Renderer, hear: Ran, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, pause = tmp_path / "two.wav", np.zeros(9 * RATE_HZ, np.int16)
    pieces = [pause, voice.render("next"), pause, voice.render("count forty"), pause]
    soundfile.write(file, np.concatenate(pieces), RATE_HZ)
    code, (found,), told = hear(file)
    assert (code, found["text"]) == (0, "next")
    assert "1 more heard" in told
    assert app.main(["hear", "--technical", str(file)]) == 0
    figures = capsys.readouterr().out.splitlines()
    shown = r": act: .* \(clear; \d\.\d\d, \d+\.\d\d s, .+\)$"
    assert all(re.search(shown, line) for line in figures)
    assert app.main(["hear", str(file)]) == 0
    first, second = capsys.readouterr().out.splitlines()
    assert ("I would do: next" in first, "I would do: count forty" in second) == (True, True)


def test_an_engine_that_is_not_there_is_one_sentence(
    capsys: pytest.CaptureFixture[str], spoken: dict[str, Path]
) -> None:
    assert app.main(["hear", "--engine", "ear", str(spoken["next"])]) == 1
    told = capsys.readouterr()
    assert (told.out, told.err.count("\n")) == ("", 1)


@pytest.fixture(scope="module")
def beside_a_film(voice: Renderer, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A recording with "next" said ten decibels under a film, and the film in stereo."""
    folder = tmp_path_factory.mktemp("film")
    talk = film(16)
    one, other = talk + film(16, 1, 1000), talk + film(16, 2, 1000)
    echo = across(one, room(1)) + across(other, room(2, 230))
    said, heard = voice.render("next").astype(float), np.zeros(len(talk))
    heard[12 * RATE_HZ : 12 * RATE_HZ + len(said)] = said
    heard += echo * 10 ** ((level_db(said) + 10 - level_db(echo)) / 20)
    heard += np.random.default_rng(6).normal(0, 3, len(heard))
    soundfile.write(folder / "heard.wav", samples(heard / 4), RATE_HZ)
    frames = np.stack([one, other], axis=1) / FULL_SCALE
    soundfile.write(folder / "played.wav", soxr.resample(frames, RATE_HZ, 44_100), 44_100)
    return folder / "heard.wav", folder / "played.wav"


def test_a_command_under_a_film_is_heard_with_the_film_taken_out(
    hear: Ran, beside_a_film: tuple[Path, Path]
) -> None:
    heard, played = beside_a_film
    _, without, _ = hear(heard)
    assert [each["text"] for each in without if each["action"] == "act"] == []
    code, (found,), told = hear(heard, "--playing", played)
    assert (code, found["text"], found["action"], told) == (0, "next", "act", "")


def test_what_cannot_have_been_playing_is_one_sentence(
    hear: Ran, beside_a_film: tuple[Path, Path], spoken: dict[str, Path], tmp_path: Path
) -> None:
    heard, played = beside_a_film
    three = tmp_path / "three.wav"
    soundfile.write(three, np.zeros((16 * RATE_HZ, 3)) + 0.01, RATE_HZ)
    endless = tmp_path / "endless.wav"
    soundfile.write(endless, np.full(16 * RATE_HZ, np.inf), RATE_HZ, "FLOAT")
    for args, expected, why in (
        ((spoken["next"], "--playing", played), 1, "begin and end together"),
        ((heard, "--playing", three), 1, "3 channels"),
        ((heard, "--playing", endless), 1, "values that are no sound"),
        ((heard, "--playing", tmp_path / "missing.wav"), 1, "no such file"),
        ((heard, heard, "--playing", played), 2, "one recording"),
        ((heard.parent, "--playing", played), 2, "one recording"),
        (("9" * 400, "--playing", played), 1, "cannot be heard"),
    ):
        code, found, told = hear(*args)
        assert (code, found, told.count("\n")) == (expected, [], 1)
        assert why in told


CHAT = (
    "it is like something dripping somewhere",
    "her sister called about the children on sunday",
    "the rain had stopped before the boat came in",
    "nobody on the quay was in a hurry",
    "she had certainly never made a better house",
    "his brother painted half of the green door",
)


def a_room(voice: Renderer, *said: str) -> np.ndarray:
    """Talk with pauses between, longer in all than one utterance."""
    pause = np.random.default_rng(7).normal(0, 3, 3 * RATE_HZ).astype(np.int16)
    return np.concatenate([pause, *(part for each in said for part in (voice.render(each), pause))])


def test_where_the_room_talks_only_what_follows_the_attention_words_counts(
    voice: Renderer, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    room, quiet = tmp_path / "room.wav", tmp_path / "quiet.wav"
    soundfile.write(room, a_room(voice, *CHAT, "undo", "listen basket, where am i"), RATE_HZ)
    soundfile.write(quiet, voice.render("undo"), RATE_HZ)
    for when, done in (("auto", ["where am i"]), ("never", ["undo", "where am i"])):
        assert app.main(["hear", "--addressed", when, str(room), str(quiet)]) == 0
        lines = capsys.readouterr().out.splitlines()
        told = [line for line in lines if "The room is talking. Say listen basket" in line]
        assert len(told) == (when == "auto")
        assert all(line.startswith(f"{room}: at ") for line in told)
        acted = [line.split(" do: ")[1].split(" (")[0] for line in lines if " do: " in line]
        assert acted == [*done, "undo"], "each file is a room of its own"
