"""Sound that is lost, frozen, moved or missing: a real server is killed and stopped for it."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sound_helpers import (
    LIMIT_S,
    UNHURRIED,
    all_heard,
    all_read,
    as_long_as,
    forget_what_came,
    noise,
    read_for,
    wait_for,
    wait_until_played,
)
from tests.virtual_audio import VirtualAudio
from voice.sound import streams
from voice.sound.card import Sound
from voice.sound.devices import BoundedCaller, Format, native_messages_hidden
from voice.sound.ports import (
    RATE_HZ,
    AudioBlock,
    DeviceBack,
    DeviceLost,
    HearsLoudspeaker,
    OnlyMicrophoneLost,
)
from voice.sound.sound_errors import SoundStuckError
from voice.sound.waiting_sound import Waiting


@pytest.fixture
def quiet_card(silent_card: VirtualAudio) -> Iterator[VirtualAudio]:
    """The card, and nothing of what the sound libraries print when it is lost."""
    with native_messages_hidden():
        yield silent_card


def test_a_source_moved_to_the_loudspeaker_is_noticed(quiet_card: VirtualAudio) -> None:
    with Sound(UNHURRIED) as sound:
        assert isinstance(sound.read(LIMIT_S), AudioBlock)
        quiet_card.unplug_microphone()
        time.sleep(0.3)
        sound.play(noise(1.2))
        found = wait_for(sound, HearsLoudspeaker, LIMIT_S)
    assert isinstance(found, HearsLoudspeaker)
    assert found.likeness > 0.97


def test_a_server_that_dies_while_playing_and_comes_back(quiet_card: VirtualAudio) -> None:
    spoken = noise(0.8, seed=5)
    with Sound(UNHURRIED) as sound:
        assert isinstance(sound.read(LIMIT_S), AudioBlock)
        for _ in range(2):
            sound.play(noise(5.0))
            time.sleep(0.3)
            quiet_card.kill()
            wait_for(sound, DeviceLost, LIMIT_S)
            time.sleep(0.2)
            assert not sound.playing
            quiet_card.start()
            back = wait_for(sound, DeviceBack, LIMIT_S)
            assert isinstance(back, DeviceBack)
            assert back.away_s > 0
            with quiet_card.listen() as ear:
                sound.play(spoken)
                wait_until_played(sound)
                np.testing.assert_array_equal(all_heard(ear, as_long_as(spoken)), spoken)
            forget_what_came(sound)
            threading.Thread(target=quiet_card.feed, args=(spoken,)).start()
            heard, _ = all_read(sound, as_long_as(spoken))
            np.testing.assert_array_equal(heard, spoken)


BROKEN = "pcm.!default {\n type hw card = = {\n"
"""A file of ALSA's settings that cannot be read."""


def test_settings_broken_while_sound_is_lost_do_not_keep_it_from_coming_back(
    quiet_card: VirtualAudio, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = tmp_path / ".asoundrc"
    settings.write_text("", encoding="utf-8")
    monkeypatch.setenv("HOME", str(tmp_path))
    with Sound() as sound:
        assert isinstance(sound.read(LIMIT_S), AudioBlock)
        quiet_card.kill()
        settings.write_text(BROKEN, encoding="utf-8")
        wait_for(sound, DeviceLost, LIMIT_S)
        quiet_card.start()
        assert read_for(sound, 2.0)[1] == []
        sound.play(noise(1.0))
        assert not sound.playing, "nobody would ever hear it"
        settings.write_text("", encoding="utf-8")
        wait_for(sound, DeviceBack, LIMIT_S)
        sound.drain()
        assert isinstance(sound.read(LIMIT_S), AudioBlock)


NAMED = "".join(
    f"pcm.{name} {{ type pulse device {device} hint {{ show on description {name} }} }}\n"
    for name, device in (("headset", "microphone"), ("box", "loudspeaker"))
)
"""Two devices with names of their own, as those have that are plugged in."""


def test_where_only_the_microphone_is_lost_the_loudspeaker_tells_it(
    quiet_card: VirtualAudio, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / ".asoundrc").write_text(NAMED, encoding="utf-8")
    monkeypatch.setenv("HOME", str(tmp_path))
    told = noise(3.0, seed=8)
    with Sound(replace(UNHURRIED, microphone="headset", loudspeaker="box")) as sound:
        assert isinstance(sound.read(LIMIT_S), AudioBlock)
        quiet_card.kill()
        wait_for(sound, DeviceLost, LIMIT_S)
        quiet_card.start(microphone=False)
        wait_for(sound, OnlyMicrophoneLost, LIMIT_S)
        with quiet_card.listen() as ear:
            sound.play(told)
            wait_until_played(sound)
            np.testing.assert_array_equal(all_heard(ear, as_long_as(told)), told)
        assert read_for(sound, 5.0)[1] == [], "it is told once"
        quiet_card.plug_microphone_in()
        wait_for(sound, DeviceBack, LIMIT_S)
        sound.drain()
        assert isinstance(sound.read(LIMIT_S), AudioBlock)


def test_a_frozen_server_is_noticed_and_taken_back(quiet_card: VirtualAudio) -> None:
    with Sound() as sound:
        assert isinstance(sound.read(LIMIT_S), AudioBlock)
        sound.drain()
        quiet_card.freeze()
        wait_for(sound, DeviceLost, LIMIT_S)
        sound.stop()
        time.sleep(3.0)
        quiet_card.thaw()
        wait_for(sound, DeviceBack, LIMIT_S)
        sound.drain()
        assert isinstance(sound.read(LIMIT_S), AudioBlock)


def test_closing_and_opening_do_not_hang_on_a_frozen_server(quiet_card: VirtualAudio) -> None:
    sound = Sound()
    quiet_card.freeze()
    began_s = time.monotonic()
    sound.close()
    assert time.monotonic() - began_s < LIMIT_S
    with pytest.raises(SoundStuckError, match="typing"):
        Sound()
    quiet_card.thaw()
    with Sound() as again:
        assert isinstance(again.read(LIMIT_S), AudioBlock)


def run(code: str, **variables: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=Path(__file__).parent.parent,
        env={**os.environ, **variables},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


OPEN = """
from voice.sound.sound_errors import SoundUnavailableError
from voice.sound.card import Sound
try:
    Sound()
except SoundUnavailableError as error:
    print(type(error).__name__, error)
"""


@pytest.mark.parametrize(
    "missing",
    [
        "import ctypes.util; ctypes.util.find_library = lambda name: None\n",
        "import sys; sys.modules['sounddevice'] = None\n",
    ],
)
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="wheels elsewhere carry PortAudio")
def test_missing_portaudio_is_one_sentence_with_the_command(missing: str) -> None:
    done = run(missing + OPEN)
    assert done.stdout.startswith("PortAudioMissingError")
    assert "apt-get install libportaudio2" in done.stdout
    assert done.returncode == 0
    assert done.stderr == ""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="ALSA is Linux's")
@pytest.mark.usefixtures("portaudio")
@pytest.mark.parametrize("variable", ["HOME", "ALSA_CONFIG_PATH"])
def test_sound_settings_that_do_not_load_are_one_sentence(tmp_path: Path, variable: str) -> None:
    """Broken ones in the home folder; and a variable that names none, where PortAudio aborts."""
    (tmp_path / ".asoundrc").write_text(BROKEN, encoding="utf-8")
    done = run(OPEN, **{variable: str(tmp_path / ("" if variable == "HOME" else "missing"))})
    assert done.stdout.startswith("SoundNotStartingError The computer's sound does not start (")
    assert len(done.stdout.splitlines()) == 1
    assert done.returncode == 0


@pytest.mark.skipif(Path("/dev/snd").exists(), reason="this computer has a sound card")
@pytest.mark.usefixtures("quiet_card")
def test_no_device_at_all_is_one_sentence() -> None:
    done = run(OPEN, PULSE_SERVER="unix:/nowhere")
    assert done.stdout.startswith("NoSoundDeviceError I find no microphone")
    assert done.returncode == 0


def test_a_program_ends_although_the_server_is_frozen(quiet_card: VirtualAudio) -> None:
    server = quiet_card.server_pid
    code = "import os, signal\nfrom voice.sound.card import Sound\nsound = Sound()\n"
    done = run(code + f"os.kill({server}, signal.SIGSTOP)\nsound.close()\nprint('ended')")
    quiet_card.thaw()
    assert done.stdout == "ended\n"
    assert done.returncode == 0


@given(st.lists(st.floats(0.0, 5.0), min_size=1, max_size=40), st.integers(0, 40))
def test_a_computer_too_busy_to_look_has_lost_no_device(waits_s: list[float], back: int) -> None:
    """Quiet counts as far as it was looked at, and no further back than the last callback."""
    now_s = 0.0
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(streams, "monotonic", lambda: now_s)
        running = streams.Streams(
            ModuleType("library"), None, Format(None, RATE_HZ, 1), print, Waiting()
        )
        found = [running.seen_quiet_for_s()]
        for number, wait_s in enumerate(waits_s):
            now_s += wait_s
            if number == back:
                running._last_s["output"] = now_s
            found.append(running.seen_quiet_for_s())
            assert found[-1] <= running.quiet_for_s()
            assert found[-1] <= found[-2] + streams.LOOK_S + 1e-9
    if max(waits_s) <= streams.LOOK_S and back >= len(waits_s):
        assert found[-1] == pytest.approx(now_s), "looked at often, it is the time itself"


def test_native_messages_are_hidden_and_our_own_are_not(capfd: pytest.CaptureFixture[str]) -> None:
    with native_messages_hidden():
        os.write(2, b"from a library\n")
        print("from us", file=sys.stderr)
    os.write(2, b"later\n")
    assert capfd.readouterr().err == "from us\nlater\n"


def test_a_hanging_call_is_left_and_nothing_is_started_before_it_returns() -> None:
    caller, gate, order = BoundedCaller(), threading.Event(), list[str]()

    def hang() -> None:
        gate.wait()
        order.append("first")

    with pytest.raises(SoundStuckError) as stuck:
        caller.call(hang, 0.1)
    assert (stuck.value.call, stuck.value.limit_s) == ("hang", 0.1)
    with pytest.raises(SoundStuckError):
        caller.call(lambda: order.append("too early"), 0.1)
    gate.set()
    caller.call(lambda: order.append("second"), 5.0)
    assert order == ["first", "second"]
    with pytest.raises(ZeroDivisionError):
        caller.call(lambda: 1 // 0, 5.0)
