"""What all tests share: no property has a deadline, as time is measured in benchmarks; the engines
of a plain installation, opened once in each process that runs tests; and eSpeak as the voice, which
starts soonest, but for the tests that ask for the clear voice.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

from tests.properties import examples
from voice.hearing.listening import Hearing
from voice.recognisers.chosen import open_recogniser
from voice.speech.clear_voice import SYSTEM_ONLY

os.environ.update([SYSTEM_ONLY])
settings.register_profile("untimed", deadline=None, max_examples=examples())
settings.load_profile("untimed")


@pytest.fixture(scope="session")
def hearing() -> Hearing:
    """Borrowed; it keeps nothing from one utterance to the next but its grammar."""
    return Hearing(open_recogniser())


@pytest.fixture
def all_voices(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every voice that is installed, the clear one first, as in the program."""
    monkeypatch.delenv(SYSTEM_ONLY[0])
