"""Scenario files, and the command that plays them."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from tests.small_hat import SCENARIO, SHORT
from voice.rehearsal import scripted
from voice.sound.ports import RATE_HZ

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
    file.write_text(f'{SHORT}\n[[say]]\nround = 2\nwords = ["finish now"]\n', encoding="utf-8")
    done = rehearse("--scenario", str(file), "--out", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    assert "took 0 for something else" in done.stdout
    sound, rate_hz = soundfile.read(tmp_path / "out" / "conversation.wav", dtype="int16")
    assert (rate_hz, sound.ndim) == (RATE_HZ, 1)
    assert np.abs(sound.astype(int)).max() > 3000
    assert "Round 1" in (tmp_path / "out" / "writeup.txt").read_text(encoding="utf-8")
