"""The whole program on a virtual card, talked over through a loudspeaker that its microphone
hears.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from tests.known_sound import room, samples
from tests.properties import alone
from tests.running_program import LIMIT_S, Program, calling, round_one_done
from tests.sound_helpers import Listener
from tests.virtual_audio import VirtualAudio
from voice.dialogue.trouble import Trouble
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

TRIES, ANSWERED_S = 6, 4.0
"""A maker who is not heard says it again, while the program still speaks."""
PATH = 0.6 * room(1)


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    return round_one_done(tmp_path)


@pytest.fixture(scope="module")
def maker() -> Iterator[Renderer]:
    with Renderer(Delivery(rate_wpm=150)) as shared:
        yield shared


def say(card: VirtualAudio, maker: Renderer, words: str) -> None:
    """Speak into the microphone as loud as the program is there."""
    card.feed(samples(np.concatenate([maker.render(words), np.zeros(RATE_HZ // 4)]) / 3))


def sounds(ear: Listener) -> bool:
    """Whether the loudspeaker did a moment ago."""
    return bool(ear.heard()[-RATE_HZ:].any())


def ask_for_help(card: VirtualAudio, maker: Renderer, ear: Listener, program: Program) -> None:
    """It is told at length: wait until it sounds, and a second longer."""
    say(card, maker, "help")
    program.wait_for("> help")
    end_s = time.monotonic() + LIMIT_S
    while not sounds(ear):
        assert time.monotonic() < end_s
        time.sleep(0.02)
    time.sleep(1.0)


def talked_over(card: VirtualAudio, maker: Renderer, ear: Listener, program: Program) -> None:
    """Say the next command into help until it is heard.

    It is deaf under its own voice until it has learnt that voice's path. What it could not make out
    twice it gives up help for, to tell why: then help is asked for again.
    """
    ask_for_help(card, maker, ear, program)
    for _ in range(TRIES):
        if not sounds(ear):
            ask_for_help(card, maker, ear, program)
        say(card, maker, "next")
        if program.comes("> next", limit_s=ANSWERED_S):
            return
    pytest.fail(f"it cannot be talked over: {program.seen}")


def until_silent(ear: Listener) -> None:
    end_s = time.monotonic() + LIMIT_S
    while time.monotonic() < end_s:
        heard = ear.heard()
        if heard.any() and not heard[-2 * RATE_HZ :].any():
            ear.forget()
            return
        time.sleep(0.1)
    pytest.fail("it never falls silent")


@alone
@pytest.mark.parametrize(
    "playing",
    [
        "none",
        pytest.param(
            "auto",
            marks=pytest.mark.skipif(
                find_spec("soundcard") is None, reason="soundcard is not installed"
            ),
        ),
    ],
)
def test_the_maker_talks_over_the_program_without_headphones(
    card: VirtualAudio,
    maker: Renderer,
    begun: Path,
    monkeypatch: pytest.MonkeyPatch,
    playing: str,
) -> None:
    monkeypatch.setenv("PULSE_SINK", "near")
    card.stand("near", PATH)
    with (
        card.listen("near") as ear,
        calling(begun, "--playing", playing) as program,
    ):
        program.wait_for("Round two")
        until_silent(ear)
        talked_over(card, maker, ear, program)
        program.wait_for("Round three")
        assert not [line for line in program.seen if Trouble.EARLY.value in line]
