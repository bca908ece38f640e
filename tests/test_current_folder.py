"""The folder that we happen to be in may hold anything; nothing of it is run."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest

from tests.properties import thoroughly
from tests.running_program import ROOT
from tests.small_hat import ENDS
from voice.cli import braille
from voice.recognisers import vosk
from voice.recognisers.engine import EngineMissing

POISON = """
import os
with open(os.environ["POISONED"], "a") as told:
    told.write(__name__ + " was run\\n")
raise SystemExit(3)
"""
NAMES = {*sys.stdlib_module_names, *metadata.packages_distributions()} - {
    *sys.builtin_module_names,
    "sitecustomize",
}
"""Modules of Python and of every package here, this program's own too."""
BEGUN = """
import sys
if __name__ == "__main__":
    print(*{name.partition(".")[0] for name in sys.modules})
"""


@pytest.fixture
def poisoned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """We are in a folder with a module of every name; each of them tells when it is run."""
    here = tmp_path / "here"
    here.mkdir()
    for name in NAMES:
        (here / f"{name}.py").write_text(POISON, encoding="utf-8")
    monkeypatch.chdir(here)
    monkeypatch.setenv("POISONED", str(told(here)))
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    return here


def told(poisoned: Path) -> Path:
    """The file that a module of the folder writes when it is run."""
    return poisoned.parent / "told"


def run(*command: str) -> str:
    """What a Python process prints, started where we are."""
    done = subprocess.run([sys.executable, *command], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_poison_works(poisoned: Path) -> None:
    done = subprocess.run([sys.executable, "-c", "import json"], check=False)
    assert done.returncode == 3
    # From Python 3.13 on linecache is read before the first line of -c.
    first = "linecache" if sys.version_info >= (3, 13) else "json"
    assert told(poisoned).read_text("utf-8") == f"{first} was run\n"


@pytest.mark.parametrize(
    "path",
    [
        os.pathsep + str(ROOT),
        pytest.param(str(ROOT) + os.pathsep, marks=thoroughly),
        pytest.param(str(ROOT), marks=thoroughly),
    ],
)
def test_a_rehearsal_runs_nothing_of_it(poisoned: Path, tmp_path: Path, path: str) -> None:
    """Both voices speak from a process of their own; empty parts of the path mean this folder."""
    scenario = tmp_path / "short.toml"
    scenario.write_text(ENDS, encoding="utf-8")
    starts = (
        "import os, sys; from voice.cli.app import main;"
        f"os.environ['PYTHONPATH'] = {path!r}; sys.exit(main())"
    )
    assert "The hat is done" in run("-P", "-c", starts, "rehearse", "--scenario", str(scenario))
    assert not told(poisoned).exists()


def test_trying_a_model_runs_nothing_of_it(poisoned: Path, tmp_path: Path) -> None:
    pytest.importorskip("vosk")
    with pytest.raises(EngineMissing, match="is damaged"):
        vosk._load(tmp_path)
    assert not told(poisoned).exists()


def test_as_a_module_the_program_runs_nothing_of_it_either(poisoned: Path) -> None:
    """But for what Python itself looks up before it comes to us."""
    (poisoned / "begun.py").write_text(BEGUN, encoding="utf-8")
    for name in NAMES:
        (poisoned / f"{name}.py").rename(poisoned / f"{name}.aside")
    before = {*run("-m", "begun").split(), "voice"}
    for name in NAMES - before:
        (poisoned / f"{name}.aside").rename(poisoned / f"{name}.py")
    assert "beret" in run("-m", "voice", "shapes")
    assert not told(poisoned).exists()


def test_as_a_module_in_its_own_folder_it_finds_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    monkeypatch.delenv("PYTHONPATH", raising=False)
    assert "beret" in run("-m", "voice", "shapes")


@pytest.mark.skipif(os.name == "nt", reason="a script of the shell")
@pytest.mark.parametrize("path", [".", "." + os.pathsep])
def test_no_braille_is_written_by_a_program_in_it(
    poisoned: Path, path: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    program = poisoned / braille.PROGRAM
    program.write_text('#!/bin/sh\necho it was run > "$POISONED"\n', encoding="utf-8")
    program.chmod(0o700)
    monkeypatch.setenv("PATH", path)
    with pytest.raises(braille.NoBraille):
        braille.translated(["six"], braille.Braille.CONTRACTED)
    assert not told(poisoned).exists()
