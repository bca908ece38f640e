"""Whatever is written on the command line ends in good order, with a sentence."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.command_lines import COMMANDS, ended, made_up, own_place
from tests.properties import examples


@pytest.fixture(scope="module", autouse=True)
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """All of them write only here."""
    folder = tmp_path_factory.mktemp("made up")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        for name, value in own_place(folder).items():
            patch.setenv(name, value)
        yield folder


@pytest.mark.parametrize("command", COMMANDS)
@settings(max_examples=examples(30))
@given(rng=st.randoms(use_true_random=False))
def test_a_made_up_command_line_ends_in_good_order(command: str, rng: random.Random) -> None:
    """A thousand each: `python -m tests.bench attack`."""
    argv = made_up(command, rng)
    found = ended(argv)
    assert found.fallen is None, (argv, found)
