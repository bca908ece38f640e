"""Where a library is missing each command says so in one sentence, and the exit tells it.

The library is hidden from the whole program, and from every process that it starts: no finder of
Python's finds the module or its package, and the system finds no PortAudio.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from tests.command_lines import Ended, own_place
from tests.small_hat import ENDS
from voice.models import models
from voice.models.published import SOUND
from voice.sentences.hearing import TYPING
from voice.sound.ports import RATE_HZ
from voice.sound.wav import as_wav

ROOT = Path(__file__).parents[1]
HIDES = """
import ctypes.util, os
import sys
from importlib.machinery import PathFinder

gone = os.environ["GONE"].split()

class Fewer(PathFinder):
    @classmethod
    def find_spec(cls, name, path=None, target=None):
        return None if name in gone else PathFinder.find_spec(name, path, target)

    @classmethod
    def find_distributions(cls, *args, **options):
        found = PathFinder.find_distributions(*args, **options)
        return (one for one in found if one.metadata["Name"].replace("-", "_") not in gone)

sys.meta_path[sys.meta_path.index(PathFinder)] = Fewer
if "portaudio" in gone:
    found = ctypes.util.find_library
    ctypes.util.find_library = lambda name: None if "portaudio" in name else found(name)
"""
NET = "moonshine_voice onnxruntime"
NOTHING_LISTENS = (
    "I cannot listen yet: run rounds-aloud models fetch vosk-model-small-en-us-0.15 once."
)
NO_PORTAUDIO = "The sound library does not load (PortAudio library not found); "
NO_SOUND = f"Speaking and listening need {SOUND}: "


def without(gone: str, folder: Path, *words: str) -> Ended:
    """A command, "leave" typed into it, on a machine that lacks these libraries and all models."""
    (folder / "sitecustomize.py").write_text(HIDES, encoding="utf-8")
    variables = {"GONE": gone, "PYTHONPATH": str(folder), models.VARIABLE: ""}
    done = subprocess.run(
        [sys.executable, "-m", "voice", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        input="leave\n",
        env={**os.environ, **own_place(folder), **variables},
    )
    assert "Traceback" not in done.stdout + done.stderr
    assert not (folder / "state").exists(), "nothing unforeseen was kept"
    return Ended(done.returncode, done.stdout, done.stderr)


@pytest.fixture
def sound(tmp_path: Path) -> str:
    """A file of a second without words."""
    (tmp_path / "x.wav").write_bytes(as_wav(np.arange(RATE_HZ).astype(np.int16)))
    return str(tmp_path / "x.wav")


@pytest.fixture
def scenario(tmp_path: Path) -> str:
    (tmp_path / "short.toml").write_text(ENDS, encoding="utf-8")
    return str(tmp_path / "short.toml")


def lines(done: Ended, what: str) -> list[str]:
    """The lines of a check about one thing that is not good."""
    return [line for line in done.out.splitlines() if line.startswith(f"NO  {what}: ")]


@pytest.mark.parametrize("gone", [NET, "onnxruntime", "moonshine_voice"])
def test_without_the_net_or_half_of_it_nothing_listens(
    gone: str, sound: str, scenario: str, tmp_path: Path
) -> None:
    refused = Ended(1, "", NOTHING_LISTENS + "\n")
    assert without(gone, tmp_path, "hear", sound) == refused
    assert without(gone, tmp_path, "rehearse", "--scenario", scenario) == refused


def test_without_the_net_and_vosk_both_steps_are_told(sound: str, tmp_path: Path) -> None:
    told = NOTHING_LISTENS.replace("run ", "run pip install vosk, then ")
    assert without(f"{NET} vosk", tmp_path, "hear", sound) == Ended(1, "", told + "\n")


def test_a_check_without_the_runtime_names_it_and_what_follows(tmp_path: Path) -> None:
    done = without("onnxruntime", tmp_path, "check", "--technical", "--seconds", "1")
    assert (done.code, done.err) == (1, "")
    (listening,), (recognition,) = lines(done, "listening"), lines(done, "recognition")
    assert listening.startswith("NO  listening: no onnxruntime: ")
    assert recognition.endswith(NOTHING_LISTENS)


@pytest.mark.usefixtures("silent_card")
@pytest.mark.parametrize("gone", [NET, "onnxruntime"])
def test_a_call_without_the_net_goes_on_by_typing(gone: str, tmp_path: Path) -> None:
    done = without(gone, tmp_path, "call")
    assert (done.code, done.err) == (0, "")
    assert done.out.count(f"{NOTHING_LISTENS} {TYPING}\n") == 1


def test_without_the_resampler_each_command_with_sound_ends(
    sound: str, scenario: str, tmp_path: Path
) -> None:
    commands = ("call",), ("rehearse", "--scenario", scenario), ("check",), ("hear", sound)
    for words in commands:
        done = without(SOUND, tmp_path, *words)
        assert (done.code, done.err.count("\n")) == (1, 1), words
        assert done.err.startswith(NO_SOUND)
        assert done.err.endswith("rounds-aloud call --typed.\n")


def test_without_portaudio_a_call_goes_on_by_typing_and_a_check_says_so(tmp_path: Path) -> None:
    done = without("portaudio", tmp_path, "call")
    assert (done.code, done.err) == (0, "")
    (told,) = [line for line in done.out.splitlines() if line.startswith(NO_PORTAUDIO)]
    assert told.endswith(TYPING)
    done = without("portaudio", tmp_path, "check", "--technical", "--seconds", "1")
    assert (done.code, done.err) == (1, "")
    (told,) = lines(done, "microphone")
    assert NO_PORTAUDIO in told


def test_without_portaudio_files_are_heard_and_a_hat_is_rehearsed(
    sound: str, scenario: str, tmp_path: Path
) -> None:
    heard = without("portaudio", tmp_path, "hear", sound)
    assert (heard.code, heard.err) == (0, "")
    rehearsed = without("portaudio", tmp_path, "rehearse", "--scenario", scenario)
    assert (rehearsed.code, rehearsed.err) == (0, "")
    assert "The hat is done" in rehearsed.out
