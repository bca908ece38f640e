"""What the program keeps is for its owner alone, whatever the shell would have allowed others."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.session.history import CODEC
from tests.running_program import LIMIT_S, ROOT
from voice.caller.piece_folder import writable
from voice.cli.call_screen import Screen
from voice.hearing.evidence import Action, Reason, Verdict
from voice.recognisers.recording import read_recording
from voice.sound.endpoint import Segment
from voice.sound.ports import RATE_HZ

pytestmark = pytest.mark.skipif(os.name == "nt", reason="rights of POSIX")
NOT_HEARD = Verdict("", None, Action.SILENT, Reason.NO_PHRASE)
MASKS = st.integers(0, 0o77)
"""What is kept from the others; an owner who keeps things from himself gets them so."""


@contextmanager
def masked(mask: int) -> Iterator[None]:
    before = os.umask(mask)
    try:
        yield
    finally:
        os.umask(before)


def rights(folder: Path) -> set[tuple[bool, int]]:
    """Whether it is a folder, and its rights, of everything in a folder."""
    return {(path.is_dir(), path.stat().st_mode & 0o777) for path in folder.rglob("*")}


@given(mask=MASKS)
def test_a_piece_and_its_folders(tmp_path_factory: pytest.TempPathFactory, mask: int) -> None:
    folder = tmp_path_factory.mktemp("home")
    with masked(mask), Journal.open(folder / "data" / "pieces", "Hat", CODEC):
        assert rights(folder) == {(True, 0o700), (False, 0o600)}


@given(mask=MASKS)
def test_what_the_maker_says(tmp_path_factory: pytest.TempPathFactory, mask: int) -> None:
    folder = tmp_path_factory.mktemp("home")
    sound = np.arange(-500, 500, dtype=np.int16)
    with masked(mask):
        screen = Screen(writable(folder / "said" / "today", 0o700))
        for _ in range(2):
            assert screen.heard(Segment(0.0, 1.0, 1.0, sound), NOT_HEARD) is None
    kept = sorted((folder / "said" / "today").iterdir())
    assert [file.name for file in kept] == ["00001.wav", "00002.wav"]
    assert rights(folder) == {(True, 0o700), (False, 0o600)}
    np.testing.assert_array_equal(read_recording(kept[1]), sound)
    assert kept[0].stat().st_size == 44 + 2 * len(sound), f"a plain WAV at {RATE_HZ} Hz"


def test_a_folder_that_is_there_stays_as_its_owner_made_it(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    with Journal.open(tmp_path, "Hat", CODEC):
        writable(tmp_path, 0o700)
    assert tmp_path.stat().st_mode & 0o777 == 0o755


def test_what_is_written_for_others_follows_the_shell(tmp_path: Path) -> None:
    with masked(0o22):
        assert writable(tmp_path / "rehearsal").stat().st_mode & 0o777 == 0o755


def test_the_program_itself(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "voice", "call", "--typed", "--folder", str(tmp_path / "a" / "b")],
        cwd=ROOT,
        umask=0,
        input="centimetres\nleave\n",
        text=True,
        check=True,
        timeout=LIMIT_S,
        capture_output=True,
    )
    assert rights(tmp_path) == {(True, 0o700), (False, 0o600)}
