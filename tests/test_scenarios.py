"""Scenario files, and the command that plays them."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from pattern.shape.shape_names import SHAPE_NAMES
from pattern.trade.stitches import Stitch
from tests.small_hat import ENDS, SCENARIO
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.reply import Reply
from voice.cli.option_values import read_hook, read_shape, read_yarn
from voice.rehearsal import scripted
from voice.sound.ports import RATE_HZ
from voice.words.phrases import read

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize(
    ("change", "named"),
    [
        (("[hands]", "[hand]"), "hands"),
        (("22.0", '"wide"'), "wide"),
        (("22.0", "-1.0"), "width_mm"),
        (("22.0", "nan"), "width_mm"),
        (("ring_mm = 10.0", ""), "ring_mm"),
        (("forty two", "purple"), "purple"),
        (("yarn =", "wool ="), "wool"),
        (('unit = "centimetres"', "unit = 5"), "5"),
        (("round = 3", ""), "round"),
        (("round = 3", "round = 3\nover = 2"), "over = 2"),
        (("round = 3", "round = 3\nunder = true"), "under"),
        (("[answers]", "answers"), "line"),
        (('words = ["', 'words = ["hum", "'), "hum"),
        (("[answers]", "[answer]"), "answer is no part"),
    ],
)
def test_a_scenario_that_cannot_be_played_is_one_sentence(
    tmp_path: Path, change: tuple[str, str], named: str
) -> None:
    file = tmp_path / "bad.toml"
    text = SCENARIO.replace(*change)
    assert text != SCENARIO
    file.write_text(text, encoding="utf-8")
    with pytest.raises(scripted.BadScenario) as refused:
        scripted.load(file)
    assert str(file) in str(refused.value)
    assert named in str(refused.value)
    assert "\n" not in str(refused.value)


def rehearse(*options: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "voice", "rehearse", *options],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize(
    "options",
    [
        ("--scenario", "missing.toml"),
        ("--scenario", "pyproject.toml"),
        ("--engine", "ear"),
        ("--voice", "nobody"),
        ("--noise", "missing.wav"),
        ("--out", "/proc/nowhere"),
    ],
)
def test_what_cannot_be_rehearsed_is_one_sentence(options: tuple[str, str]) -> None:
    done = rehearse(*options)
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1, done.stderr
    assert done.stdout == ""


def test_the_command_writes_sound_and_pattern(tmp_path: Path) -> None:
    file = tmp_path / "ends.toml"
    file.write_text(ENDS, encoding="utf-8")
    done = rehearse("--scenario", str(file), "--out", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    assert "took 0 for something else" in done.stdout
    sound, rate_hz = soundfile.read(tmp_path / "out" / "conversation.wav", dtype="int16")
    assert (rate_hz, sound.ndim) == (RATE_HZ, 1)
    assert np.abs(sound.astype(int)).max() > 3000
    assert "Round 1" in (tmp_path / "out" / "writeup.txt").read_text(encoding="utf-8")


NAMED = [
    ("yarn", name)
    for name in ("worsted", "DK", "eight ply", "chunky", "light worsted", "a chunky wool", "aran")
]
NAMED += [("hook_mm", name) for name in ("H-8", "US 8", "size G", "old UK 6", "K 10 1/2")]
NAMED += [("stitch", name) for name in ("hdc", "sc", "treble", "half double")]
NAMED += [
    ("head_mm", name)
    for name in ("six year old", "a girl of nine", "my husband", "a woman", "eight months old")
]


@pytest.mark.parametrize(("key", "name"), NAMED)
def test_an_answer_by_name_is_what_speech_takes_it_for(tmp_path: Path, key: str, name: str) -> None:
    """The scripted maker says it in a phrase, and the piece is as if the name had been said."""
    maker = scripted.load(scenario(tmp_path, {key: name}))
    phrase = maker.answers[key]
    assert read(phrase) is not None
    spoken, named = (_answered(key, words) for words in (phrase, name))
    assert key in spoken.state.answered
    assert spoken.state.settings == named.state.settings


@pytest.mark.parametrize("name", ["worsted", "DK", "chunky", "jumbo", "eight ply"])
def test_a_yarn_by_name_is_the_class_that_the_option_takes(tmp_path: Path, name: str) -> None:
    maker = scripted.load(scenario(tmp_path, {"yarn": name}))
    assert _answered("yarn", maker.answers["yarn"]).state.settings.yarn == read_yarn(name)


@pytest.mark.parametrize("name", ["H-8", "G-6", "K-10 1/2", "B-1", "5.5"])
def test_a_hook_by_its_mark_is_the_size_that_the_option_takes(tmp_path: Path, name: str) -> None:
    maker = scripted.load(scenario(tmp_path, {"hook_mm": name}))
    hook_mm = _answered("hook_mm", maker.answers["hook_mm"]).state.settings.hook_mm
    assert hook_mm == read_hook(name).value


@pytest.mark.parametrize("name", sorted(SHAPE_NAMES))
def test_a_shape_by_any_name_is_said_before_the_interview(tmp_path: Path, name: str) -> None:
    file = scenario(tmp_path, {})
    text = file.read_text("utf-8")
    file.write_text(f'{text}\n[[say]]\nround = 0\nwords = ["a {name}"]\n', encoding="utf-8")
    ((words, _),) = scripted.load(file).lines[0]
    caller = Caller(Unkept("piece"))
    caller.open()
    assert caller.hear(words).state.settings.shape.name == read_shape(name)


def test_a_stitch_is_named_in_the_terms_that_were_told(tmp_path: Path) -> None:
    maker = scripted.load(scenario(tmp_path, {"terms": "uk", "stitch": "htr"}))
    caller = Caller(Unkept("piece"))
    caller.open()
    caller.hear(maker.answers["terms"])
    assert caller.hear(maker.answers["stitch"]).state.settings.stitch is Stitch.HALF_DOUBLE


def scenario(folder: Path, answers: dict[str, str]) -> Path:
    """A scenario file with these answers."""
    file = folder / "named.toml"
    hands = SCENARIO.partition("[answers]")[0]
    said = "".join(f'{key} = "{words}"\n' for key, words in answers.items())
    file.write_text(f"{hands}[answers]\n{said}", encoding="utf-8")
    return file


def _answered(key: str, words: str) -> Reply:
    """The reply to an answer, where its question stands."""
    caller = Caller(Unkept("piece"))
    caller.open()
    for each in ("ask me everything", "metric"):
        caller.hear(each)
    while caller.state.question not in {key, None}:
        caller.hear("skip")
    return caller.hear(words)
