"""What all tests share: no property has a deadline, as time is measured in benchmarks; the engines
of a plain installation, the voice and a virtual sound card, opened once in each process that runs
tests; how the tests are shared out and gathered; eSpeak as the voice, which starts soonest, but for
the tests that ask for the clear voice; and that Python keeps the bytecode it compiles even where it
was told not to, as every process and every program that tests start would compile the whole anew.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Generator, Iterator

import pytest
from hypothesis import settings
from xdist.remote import Producer  # type: ignore[import-untyped]

from tests.properties import examples
from tests.sharing_out import SharingOut, begun_elsewhere, number_of_workers, place_in_row
from tests.virtual_audio import (
    VirtualAudio,
    skip_or_fail,
    why_not_here,
    why_without_portaudio,
)
from voice.hearing.listening import Hearing
from voice.recognisers.chosen import open_recogniser
from voice.speech.clear_voice import SYSTEM_ONLY
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

os.environ.update([SYSTEM_ONLY])
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
settings.register_profile("untimed", deadline=None, max_examples=examples())
settings.load_profile("untimed")


@pytest.fixture(scope="session")
def hearing() -> Hearing:
    """Borrowed; it keeps nothing from one utterance to the next but its grammar."""
    return Hearing(open_recogniser())


@pytest.fixture(scope="session")
def one_voice() -> Iterator[Renderer]:
    """Begun at once, in the environment of no test."""
    with Renderer() as shared:
        assert shared.voices()
        yield shared


@pytest.fixture
def ours(one_voice: Renderer) -> Renderer:
    """The program's voice, borrowed; it speaks as usual whatever the test before chose."""
    one_voice.change(Delivery())
    return one_voice


@pytest.fixture(scope="session")
def portaudio() -> None:
    """That it is here, with or without a card."""
    if reason := why_without_portaudio():
        skip_or_fail(reason)


@pytest.fixture(scope="session")
def sound_server() -> Iterator[VirtualAudio]:
    """Not running until a test has a card."""
    if reason := why_not_here():
        skip_or_fail(reason)
    with VirtualAudio() as shared:
        yield shared


@pytest.fixture
def silent_card(
    sound_server: VirtualAudio, monkeypatch: pytest.MonkeyPatch
) -> Iterator[VirtualAudio]:
    """A virtual card in a room without a sound; PortAudio finds it from now on."""
    for name, value in sound_server.variables.items():
        monkeypatch.setenv(name, value)
    sound_server.begin()
    yield sound_server
    sound_server.rest()


@pytest.fixture
def card(silent_card: VirtualAudio) -> VirtualAudio:
    """The same in a room with the faint noise of a real one."""
    silent_card.hiss()
    return silent_card


def pytest_xdist_auto_num_workers() -> int:
    return number_of_workers()


def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> SharingOut | None:
    return SharingOut(config, log) if config.option.dist == "loadscope" else None


def pytest_collection() -> None:
    """Nothing that is gathered is garbage before the end: none is looked for in it."""
    gc.disable()


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    if isinstance(collector, pytest.Package) and report.result:
        report.result = begun_elsewhere(report.result)
    return report


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: (place_in_row(item.path), item.path))


def pytest_collection_finish() -> None:
    gc.freeze()
    gc.enable()


@pytest.fixture
def all_voices(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every voice that is installed, the clear one first, as in the program."""
    monkeypatch.delenv(SYSTEM_ONLY[0])
