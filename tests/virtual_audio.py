"""A sound server of our own with a virtual loudspeaker and microphone, for tests without a card.

PulseAudio runs by hand on a private socket: null sinks at 16 kHz pass samples on unchanged. It
needs no sound card, no session and no DBus, and several can run side by side. Its sinks take two
seconds to wake, so one server serves all tests of a process, and is started anew where a test
ended it or changed it.
"""

import ctypes.util
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NoReturn, Self

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]
from numpy.typing import NDArray

from tests.sound_helpers import Listener

RATE_HZ = 16_000
_SINK = f"module-null-sink rate={RATE_HZ} channels=1 channel_map=mono sink_name="
_MICROPHONE = (
    "module-remap-source source_name=microphone master=room.monitor channels=1"
    " master_channel_map=mono channel_map=mono"
)
_SINKS = (_SINK + "loudspeaker", _SINK + "room")
_HEAD = RATE_HZ // 2
"""Length of the silence before what is fed, in bytes, a quarter of a second: a busy server may lose
the first 10 ms of a new stream."""
_RAW = ("--raw", "--format=s16le", f"--rate={RATE_HZ}", "--channels=1")


def why_not_here() -> str:
    """Say what is missing for the virtual card; empty when nothing is."""
    for program in ("pulseaudio", "pactl", "parec", "pacat"):
        if shutil.which(program) is None:
            return f"{program} is not installed (apt-get install pulseaudio pulseaudio-utils)"
    return why_without_portaudio()


def why_without_portaudio() -> str:
    """Say that PortAudio is missing; empty where it is not, or where its wheel carries it."""
    if not sys.platform.startswith("linux") or ctypes.util.find_library("portaudio"):
        return ""
    return "PortAudio is not installed (apt-get install libportaudio2 libasound2-plugins)"


def skip_or_fail(reason: str) -> NoReturn:
    """Skip the test for `reason`, or fail it where RA_REQUIRE_SOUND=1 promises sound."""
    if os.environ.get("RA_REQUIRE_SOUND") == "1":
        pytest.fail(reason)
    pytest.skip(reason)


class VirtualAudio:
    """One sound server and its ends: `feed` speaks into the room, `listen` is at the ear."""

    def __init__(self) -> None:
        self._folder = tempfile.mkdtemp(prefix="sound-")
        self._server: subprocess.Popen[bytes] | None = None
        self._awake: list[Listener] = []
        self._hissing: list[subprocess.Popen[bytes]] = []
        self._as_begun = False
        self.variables = {
            "PULSE_SERVER": f"unix:{self._folder}/native",
            "PULSE_RUNTIME_PATH": self._folder,
            "PULSE_STATE_PATH": self._folder,
            "PULSE_COOKIE": f"{self._folder}/cookie",
            "XDG_RUNTIME_DIR": self._folder,
            "PULSE_SINK": "loudspeaker",
            "PULSE_SOURCE": "microphone",
            "DBUS_SESSION_BUS_ADDRESS": "disabled:",
        }

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.kill()
        shutil.rmtree(self._folder, ignore_errors=True)

    def begin(self) -> None:
        """Start the server, unless it runs as it was begun."""
        if not self._as_begun or self._server is None or self._server.poll() is not None:
            self.kill()
            self.start()
            self._as_begun = True

    def rest(self) -> None:
        """End the noise of the room, for the test that comes next."""
        for hiss in self._hissing:
            hiss.kill()
            hiss.wait()
        self._hissing = []

    def start(self, *, microphone: bool = True) -> None:
        """Start the server and wait until its sinks are awake."""
        Path(self._folder, "native").unlink(missing_ok=True)
        socket = f"socket={self._folder}/native auth-anonymous=1 auth-cookie-enabled=0"
        command = [
            "pulseaudio",
            *("-n", "--daemonize=no", "--use-pid-file=no", "--exit-idle-time=-1"),
            *("--realtime=no", "--high-priority=no", "--disable-shm=yes"),
            *("--log-target=stderr", "--log-level=error"),
            *("-L", f"module-native-protocol-unix {socket}"),
        ]
        for module in (*_SINKS, _MICROPHONE) if microphone else _SINKS:
            command += ["-L", module]
        clean = {k: v for k, v in os.environ.items() if not k.startswith("PULSE_")}
        self._server = subprocess.Popen(
            command,
            env={**clean, "HOME": self._folder, "XDG_RUNTIME_DIR": self._folder},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        self._wait_until_ready(self._server, "microphone" if microphone else "room.monitor", 10.0)
        # An idle null sink sleeps for two seconds and eats the head of the next sound.
        with ThreadPoolExecutor() as both:
            self._awake = list(both.map(self.listen, ("loudspeaker", "room")))

    @property
    def server_pid(self) -> int:
        """Process number of the running server."""
        assert self._server is not None
        return self._server.pid

    def freeze(self) -> None:
        """Stop the server as a hang would, its sockets left open."""
        assert self._server is not None
        self._as_begun = False
        self._server.send_signal(signal.SIGSTOP)

    def thaw(self) -> None:
        """Let a frozen server go on."""
        assert self._server is not None
        self._as_begun = False
        self._server.send_signal(signal.SIGCONT)

    def kill(self) -> None:
        """End the server at once, as a crash would."""
        self._as_begun = False
        for listener in self._awake:
            listener.close()
        self._awake = []
        self.rest()
        if self._server is not None:
            self._server.kill()
            self._server.wait()
            self._server = None

    def unplug_microphone(self) -> None:
        """Remove the microphone; the server moves a stream on it to the source that is left."""
        self._as_begun = False
        self._control("set-default-source", "loudspeaker.monitor")
        self._control("unload-module", "module-remap-source")

    def plug_microphone_in(self) -> None:
        """Bring the microphone, where the server runs without."""
        self._as_begun = False
        self._control("load-module", *_MICROPHONE.split())

    def stand(self, name: str, path: NDArray[np.float64]) -> None:
        """Stand another loudspeaker in the room; it is the default from then on.

        The microphone hears it along the path, which the server itself computes, so that nothing
        is late or lost on a busy machine.
        """
        self._as_begun = False
        file = Path(self._folder, f"{name}.wav")
        soundfile.write(file, path, RATE_HZ, subtype="FLOAT")
        paths = (f"hrir_left={file}", f"hrir_right={file}", "channels=1", "channel_map=mono")
        module = ("module-virtual-surround-sink", f"sink_name={name}", "sink_master=room")
        self._control("load-module", *module, f"rate={RATE_HZ}", *paths)
        assert name in self._control("list", "short", "sinks").split()
        self.choose(name)

    def choose(self, name: str) -> None:
        """Make a loudspeaker the default; what plays on the default moves to it."""
        self._as_begun = False
        self._control("set-default-sink", name)

    def feed(self, samples: NDArray[np.int16]) -> None:
        """Play mono samples in the room of the virtual microphone, and wait until done."""
        command = ["pacat", "--playback", "-d", "room", *_RAW]
        sound = bytes(_HEAD) + samples.tobytes()
        subprocess.run(command, input=sound, env=self._environment(), check=True)

    def hiss(self, level: float = 20.0, length_s: int = 300) -> None:
        """Give the room the faint noise of a real one: exact zeros mean a forbidden microphone."""
        file = Path(self._folder, f"hiss {level} {length_s}.raw")
        if not file.exists():
            noise = np.random.default_rng(2).normal(0.0, level, length_s * RATE_HZ)
            file.write_bytes(noise.astype(np.int16).tobytes())
        command = ["pacat", "--playback", "-d", "room", *_RAW]
        with file.open("rb") as sound:
            self._hissing.append(
                subprocess.Popen(
                    command, stdin=sound, stderr=subprocess.DEVNULL, env=self._environment()
                )
            )

    def listen(self, sink: str = "loudspeaker") -> Listener:
        """Hear from now on what is played at a sink."""
        command = ["parec", "-d", f"{sink}.monitor", *_RAW, "--latency-msec=10"]
        return Listener(command, self._environment())

    def _environment(self) -> dict[str, str]:
        return {**os.environ, **self.variables}

    def _control(self, *words: str) -> str:
        done = subprocess.run(
            ["pactl", *words], env=self._environment(), capture_output=True, text=True, check=False
        )
        return done.stdout

    def _wait_until_ready(
        self, server: subprocess.Popen[bytes], source: str, limit_s: float
    ) -> None:
        deadline_s = time.monotonic() + limit_s
        while source not in self._control("list", "short", "sources"):
            if server.poll() is not None or time.monotonic() > deadline_s:
                raise RuntimeError("the virtual sound server did not start")
            time.sleep(0.02)
