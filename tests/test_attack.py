"""The benchmark `attack` sees what falls, and tells it by its exit."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.bench import attack
from tests.command_lines import Ended
from tests.running_program import ROOT
from voice.rehearsal import scripted

pytestmark = pytest.mark.skipif(os.name == "nt", reason="it needs signals")
SHORT = ["--minutes", "0.01", "--only"]


def test_where_nothing_falls_it_ends_with_0() -> None:
    """In a process of its own: it tells the most memory that any child took."""
    words = ("attack", *SHORT, "scenarios", "--seed", "5")
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout
    assert "nothing fell" in done.stdout
    told = {line[2:32].strip() for line in done.stdout.splitlines()}
    assert {"files left", "processes left"} <= told


def test_what_falls_is_told_with_what_made_it_fall(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fall(_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(scripted, "load", fall)
    assert attack.run([*SHORT, "scenarios"]) == 1
    assert "ZeroDivisionError('planted')" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("ended", "why"),
    [
        (Ended(0, "said", ""), None),
        (Ended(2, "", "a sentence\n"), None),
        (Ended(1, "", "Traceback (most recent call last)\n"), "a traceback"),
        (Ended(1, "", ""), "no sentence"),
        (Ended(70, "", "the last resort\n"), "ended with 70"),
        (Ended(-9, "", ""), "ended with -9"),
    ],
)
def test_what_counts_as_fallen(ended: Ended, why: str | None) -> None:
    assert ended.fallen == why
