"""The command `check`: a line for each thing looked at, and what to do where it is not good."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.known_sound import room
from tests.said_back import said_back
from tests.sound_helpers import sounding
from tests.virtual_audio import VirtualAudio
from voice.cli import plain_check
from voice.cli.checks import Finding, engines_here
from voice.cli.over_check import EQUAL_DB, HEARD_DB, RUSH_S, TWICE_DB, Over, finding
from voice.cli.sound_checks import noise_told
from voice.dialogue.talk_over import ENOUGH_DB
from voice.recognisers.chosen import NAMES
from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

ROOT = Path(__file__).parent.parent
GOOD = ("speech", "voices", "engines", "vosk", "recognition", "loopback", "latency", "models")
SOUND = ("microphones", "loudspeakers", "microphone", "noise", "playing")
BROKEN_CHILD = """
import sys
if "voice.speech.speech_child" in sys.orig_argv:
    sys.exit(3)
"""
NO_PORTAUDIO = "import ctypes.util\nctypes.util.find_library = lambda name: None\n"


def check(*options: str, **variables: str) -> tuple[int, dict[str, tuple[bool, str]], str]:
    """The exit code, (good, told) of each line, and what goes to standard error."""
    done = subprocess.run(
        [sys.executable, "-m", "voice", "check", "--technical", *options],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **variables},
    )
    lines = [line for line in done.stdout.splitlines() if line.startswith(("ok  ", "NO  "))]
    found = {
        line[4:].partition(": ")[0]: (line.startswith("ok"), line.partition(": ")[2])
        for line in lines
    }
    assert len(found) == len(lines)
    assert "Traceback" not in done.stderr
    return done.returncode, found, done.stderr


def sabotaged(folder: Path, code: str) -> dict[str, str]:
    """Variables under which every Python process runs `code` first."""
    (folder / "sitecustomize.py").write_text(code, encoding="utf-8")
    return {"PYTHONPATH": str(folder)}


def test_every_engine_is_looked_for() -> None:
    (engines,) = engines_here()
    told = re.sub("pip install [^;)]*", "", engines.told)
    assert set(re.findall("|".join(NAMES), told)) == set(NAMES)


def test_with_a_microphone_everything_is_good(silent_card: VirtualAudio) -> None:
    silent_card.hiss()
    status, found, told = check("--seconds", "1.5")
    assert tuple(found) == (*GOOD, *SOUND)
    assert all(good for good, _ in found.values()), found
    assert (status, told) == (0, "")
    assert found["recognition"][1].startswith("moonshine+letters, ready after ")
    assert "understood 'where am i'" in found["loopback"][1]
    assert found["microphone"][1].startswith("noise at -")
    assert "1 " in found["microphones"][1]
    assert "nobody spoke" in found["noise"][1]
    takes_out = find_spec("soundcard") is not None
    assert ("out of what the microphone hears" in found["playing"][1]) == takes_out


def test_a_voice_over_the_noise_is_measured_after_the_program_has_asked(
    silent_card: VirtualAudio,
) -> None:
    silent_card.hiss(300.0)
    with Renderer(Delivery(rate_wpm=150)) as maker, silent_card.listen() as ear:
        speech = np.concatenate([maker.render("where am i, and how many more"), np.zeros(8000)])
        talk = threading.Thread(
            target=silent_card.feed, args=(np.tile(speech, 8).astype(np.int16),)
        )
        talk.start()
        status, found, _ = check("--seconds", "3")
        asked = ear.heard()
        talk.join()
    assert status == 0
    assert "your voice is clear" in found["noise"][1]
    spoken = sounding(asked)[: -round((RUSH_S + 1) * RATE_HZ)]
    prompts = (
        "Say something for three seconds. After that I play a rushing sound.",
        "Where am I?",
        "Say something again.",
    )
    assert said_back(sounding(spoken), prompts) == prompts[0]


def test_a_loudspeaker_that_the_microphone_hears_is_measured_and_may_be_talked_over(
    silent_card: VirtualAudio, monkeypatch: pytest.MonkeyPatch
) -> None:
    silent_card.hiss()
    silent_card.stand("near", 0.6 * room(1))
    monkeypatch.setenv("PULSE_SINK", "near")
    status, found, _ = check("--seconds", "0.5")
    told = found["playing"][1]
    assert status == 0
    assert "you can talk over me while I speak, without headphones" in told
    figures = re.search(r"takes out (\d+) dB, (\d+) ms late, heard (\d+) dB", told)
    assert figures
    assert int(figures[1]) >= ENOUGH_DB
    assert int(figures[2]) > 0


@given(st.floats(0, 40), st.floats(0, 40), st.booleans())
def test_no_more_is_promised_than_the_gain_is_enough_for(
    gain_db: float, louder_db: float, here: bool
) -> None:
    told = finding(Over("" if here else "no monitor", gain_db, 0.04, louder_db)).plain
    heard = louder_db >= HEARD_DB
    assert ("twice as loud" in told) == (here and heard and gain_db >= TWICE_DB)
    assert ("no louder than you" in told) == (here and heard and EQUAL_DB <= gain_db < TWICE_DB)
    assert ("you can talk over me" in told) == (heard and gain_db >= ENOUGH_DB)
    assert ("no monitor" in told) == (not here)
    assert "dB" not in told


def plainly(found: list[Finding], capsys: pytest.CaptureFixture[str]) -> tuple[int, list[str]]:
    """The exit code and the lines of the check, for a person who crochets."""
    status = plain_check.printed(found)
    return status, capsys.readouterr().out.splitlines()


ORDER = (*GOOD[:3], "listening", *GOOD[3:], *SOUND)
"""All that can be found, in the order in which it is looked at."""
FINDINGS = st.lists(st.tuples(st.sampled_from(ORDER), st.booleans()), unique_by=lambda f: f[0]).map(
    lambda found: [
        Finding(what, good=good, told="engine 3.2 dB; do this", plain="do this")
        for what, good in sorted(found, key=lambda f: ORDER.index(f[0]))
    ]
)


@given(FINDINGS)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_check_is_short_plain_and_says_what_to_do(
    capsys: pytest.CaptureFixture[str], found: list[Finding]
) -> None:
    status, lines = plainly(found, capsys)
    assert len(lines) < plain_check.MOST_LINES  # one more asks to speak
    assert not re.search(r"\bdB\b|loopback|moonshine|vosk|engine", " ".join(lines))
    told = [each for each in found if not each.good and each.what in plain_check.ABOUT]
    assert status == int(bool(told))
    assert any("Not yet" in line for line in lines) is bool(told)


def test_the_program_itself_tells_a_maker_no_figures() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "voice", "check", "--seconds", "0.5"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PULSE_SERVER": "unix:/nowhere"},
    )
    lines = done.stdout.splitlines()
    assert 4 <= len(lines) <= plain_check.MOST_LINES
    assert "Speaking: I can speak." in lines
    assert any(line.startswith("Hearing: I hear you, and answer about") for line in lines)
    assert not re.search(r"\bdB\b|loopback|moonshine|vosk|engine", done.stdout)


@pytest.mark.parametrize(
    ("floor_db", "over_db", "told"),
    [
        (-70.0, 50.0, "clear"),
        (-30.0, 10.0, "come closer"),
        (-30.0, 2.0, "loud here; nobody spoke"),
    ],
)
def test_what_to_expect_of_the_noise_is_told(floor_db: float, over_db: float, told: str) -> None:
    assert told in noise_told(floor_db, over_db)


def test_a_microphone_of_zeros_says_what_to_allow(silent_card: VirtualAudio) -> None:
    status, found, _ = check("--seconds", "3")
    assert silent_card.server_pid
    assert status == 1
    assert not found["microphone"][0]
    assert "allow this program" in found["microphone"][1]


@pytest.mark.skipif(Path("/dev/snd").exists(), reason="this computer has a sound card")
def test_without_a_device_the_rest_is_looked_at_and_typing_is_named() -> None:
    status, found, told = check(PULSE_SERVER="unix:/nowhere")
    assert (status, told) == (1, "")
    assert [what for what, (good, _) in found.items() if good] == list(GOOD)
    assert "rounds-aloud call --typed" in found["microphone"][1]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wheels elsewhere carry PortAudio")
def test_without_portaudio_the_command_to_run_is_named(tmp_path: Path) -> None:
    status, found, _ = check(**sabotaged(tmp_path, NO_PORTAUDIO))
    assert status == 1
    assert not found["microphone"][0]
    assert "apt-get install libportaudio2" in found["microphone"][1]


def test_without_speech_recognition_is_looked_at_all_the_same(tmp_path: Path) -> None:
    variables = sabotaged(tmp_path, BROKEN_CHILD + NO_PORTAUDIO)
    status, found, _ = check(**variables)
    assert status == 1
    assert not found["speech"][0]
    assert "pip install" in found["speech"][1]
    assert found["recognition"][0]
    assert "loopback" not in found, "there is nothing to hear"


def test_an_engine_that_is_not_there_is_named_with_those_that_are(tmp_path: Path) -> None:
    status, found, _ = check("--engine", "ear", **sabotaged(tmp_path, NO_PORTAUDIO))
    assert status == 1
    assert not found["recognition"][0]
    assert "letters" in found["recognition"][1]
