"""What all tests share: no property has a deadline, as time is measured in benchmarks; and the
engines of a plain installation, opened once in each process that runs tests.
"""

from __future__ import annotations

import pytest
from hypothesis import settings

from tests.properties import examples
from voice.hearing.listening import Hearing
from voice.recognisers.chosen import open_recogniser

settings.register_profile("untimed", deadline=None, max_examples=examples())
settings.load_profile("untimed")


@pytest.fixture(scope="session")
def hearing() -> Hearing:
    """Borrowed; it keeps nothing from one utterance to the next but its grammar."""
    return Hearing(open_recogniser())
