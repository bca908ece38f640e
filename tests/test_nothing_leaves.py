"""Everything stays on the machine: no socket to another, no name looked up, no file elsewhere."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.properties import THOROUGH, alone
from tests.running_program import HAT, LIMIT_S, ROOT, Program
from tests.small_hat import ENDS, SCENARIO
from tests.test_one_way import imported, tree_of
from tests.test_voice_call import ROUND_TWO, all_said, say
from tests.traced import trace_of, tracer
from tests.virtual_audio import VirtualAudio
from voice.sound.ports import DeviceBack
from voice.speech.clear_voice import SYSTEM_ONLY
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

OPENS_SOCKETS = {
    "moonshine-voice": {"socket.__new__", "socket.bind"},
    "vosk": {"socket.__new__", "socket.bind"},
}
"""Packages of the plain installation that open a socket when they are imported: these load a
library of HTTP, which tries whether the machine has IPv6. Of the first only the files are used, and
the second is for a model of the maker's own; a test below sees that neither is imported."""

JACK = Path(f"/dev/shm/jack_db-{os.getuid() if os.name == 'posix' else 0}")
"""Debian's PortAudio asks whether the sound server JACK is there, and the library of JACK makes
tables in memory under this name, empty without a server (seen with libjack-jackd2 of Debian)."""

TRIES = 4
"""Times that a maker says words who is asked for them again."""
IMPORTING = """
import importlib, sys
seen = set()
sys.addaudithook(lambda event, _: seen.add(event) if event.startswith("socket.") else None)
for name in sys.argv[1:]:
    try:
        importlib.import_module(name)
    except AssertionError:  # soundcard connects to the sound service, and there may be none
        assert name == "soundcard"
print(*sorted(seen))
"""


def plain_installation() -> Iterator[tuple[str, list[str]]]:
    """Each package that the program needs here, with its modules."""
    modules: dict[str, list[str]] = {}
    for module, packages in metadata.packages_distributions().items():
        for package in packages:
            modules.setdefault(canonicalize_name(package), []).append(module)
    for line in metadata.requires("rounds-aloud") or ():
        wanted = Requirement(line)
        if wanted.marker is None or wanted.marker.evaluate({"extra": ""}):
            yield wanted.name, sorted(set(modules[canonicalize_name(wanted.name)]))


@pytest.mark.parametrize(("package", "modules"), list(plain_installation()))
def test_which_packages_open_sockets(
    package: str, modules: list[str], request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    """By Python's own audit events (PEP 578); a library's own code is seen by the tests below."""
    if package == "sounddevice":
        request.getfixturevalue("portaudio")
    done = subprocess.run(
        [sys.executable, "-P", "-c", IMPORTING, *modules],
        cwd=tmp_path,
        text=True,
        check=True,
        env={**os.environ, "HOME": str(tmp_path)},
        capture_output=True,
    )
    assert set(done.stdout.split()) == OPENS_SOCKETS.get(package, set())


OF_THE_PAGE = {"newest.py", "page_child.py", "page_options.py", "server.py"}
"""The page beside the maker is served to the loopback address alone, see test_page_beside.py."""


def test_only_fetching_a_model_and_the_page_speak_to_the_net() -> None:
    """Of the modules of the program itself, whatever they import within functions too."""
    speaking = {
        "socket",
        "ssl",
        "urllib",
        "http",
        "ftplib",
        "smtplib",
        "requests",
        "asyncio",
        "socketserver",
        "xmlrpc",
        "webbrowser",
    }
    found = set()
    for path in (*(ROOT / "pattern").rglob("*.py"), *(ROOT / "voice").rglob("*.py")):
        if speaking & {name.partition(".")[0] for name in imported(tree_of(path))}:
            found.add(path.name)
    assert found == {"fetching.py", *OF_THE_PAGE}


LISTENING = """
import sys, {first}
from voice.recognisers.chosen import open_recogniser
opened = []
sys.addaudithook(lambda event, _: opened.append(event) if event.startswith("socket.") else None)
open_recogniser()
assert "onnxruntime" in sys.modules
assert not set(sys.modules).intersection(["moonshine_voice", "vosk"])
assert not opened, opened
"""


@pytest.mark.parametrize(
    "first", ["voice.cli.app", "voice.speech.speech_child", "tests.bench", "voice"]
)
def test_listening_leaves_nothing_in_the_home_folder(first: str, tmp_path: Path) -> None:
    """Whatever came first; ONNX Runtime writes down an identity as soon as it is imported."""
    pytest.importorskip("onnxruntime")
    variables = {name: value for name, value in os.environ.items() if name != "XDG_CACHE_HOME"}
    subprocess.run(
        [sys.executable, "-c", LISTENING.format(first=first)],
        cwd=ROOT,
        check=True,
        env={**variables, "HOME": str(tmp_path), "ORT_DISABLE_TELEMETRY": "0"},
    )
    assert list(tmp_path.iterdir()) == []


def test_the_telemetry_of_windows_is_switched_off_too(monkeypatch: pytest.MonkeyPatch) -> None:
    onnxruntime = pytest.importorskip("onnxruntime")
    from voice.recognisers import chosen

    calls: list[str] = []
    monkeypatch.setattr(onnxruntime, "disable_telemetry_events", lambda: calls.append("off"))
    chosen.open_recogniser()
    assert calls


class Watched:
    """A home of its own for the program, and a trace of what it did."""

    def __init__(self, folder: Path) -> None:
        self.home, self.temp, self._file = folder / "home", folder / "temp", folder / "trace"
        self.home.mkdir()
        self.temp.mkdir()
        own = ("XDG_DATA", "XDG_CACHE", "XDG_CONFIG", "ORT_")
        kept = {name: value for name, value in os.environ.items() if not name.startswith(own)}
        self.variables = {
            **kept,
            "HOME": str(self.home),
            "TMPDIR": str(self.temp),
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONPATH": str(ROOT),
        }

    @contextmanager
    def running(self, *command: str) -> Iterator[Program]:
        """The program under the tracer, ended with the block together with it."""
        with subprocess.Popen(
            [*tracer(self._file), sys.executable, "-m", "voice", *command],
            cwd=self.temp,
            env=self.variables,
            text=True,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        ) as process:
            try:
                yield Program(process)
            finally:
                if process.poll() is None:
                    os.killpg(process.pid, signal.SIGKILL)

    def assert_kept_to(self, *folders: Path) -> None:
        """Nothing reached out, and nothing was written but in these folders."""
        trace = trace_of(self._file)
        assert trace.reaching_out() == []
        own = [*folders, *(parent for folder in folders for parent in folder.parents)]
        elsewhere = {
            path
            for path in trace.written(self.temp)
            if path not in own and not set(path.parents) & set(folders)
        }
        assert elsewhere == set()
        assert list(self.temp.iterdir()) == []


@pytest.fixture
def watched(tmp_path: Path) -> Watched:
    return Watched(tmp_path)


def test_a_whole_rehearsal_stays_here(watched: Watched, tmp_path: Path) -> None:
    """With every voice, the clear one first."""
    del watched.variables[SYSTEM_ONLY[0]]
    scenario, out = tmp_path / "small.toml", tmp_path / "out"
    scenario.write_text(SCENARIO if THOROUGH else ENDS, encoding="utf-8")
    with watched.running("rehearse", "--scenario", str(scenario), "--out", str(out)) as run:
        run.wait_for("The hat is done")
        assert run.process.wait(LIMIT_S) == 0
    watched.assert_kept_to(out)
    assert len(list(out.iterdir())) == 2


def test_a_typed_call_stays_here(watched: Watched) -> None:
    with watched.running("call", "--typed", *HAT) as run:
        run.type("next", "around twenty", "how do I wash it", "leave")
        assert run.process.wait(LIMIT_S) == 0
    pieces = watched.home / ".local/share/rounds-aloud/pieces"
    watched.assert_kept_to(pieces)
    assert list(pieces.iterdir())


@alone
def test_a_call_by_voice_stays_here(card: VirtualAudio, watched: Watched, tmp_path: Path) -> None:
    """Its first reply takes longer to say than the ten seconds after which a report was sent."""
    kept = tmp_path / "kept"
    with (
        Renderer(Delivery(rate_wpm=150)) as maker,
        card.listen() as ear,
        watched.running("call", *HAT, "--piece", "x", "--keep-audio", str(kept)) as run,
    ):
        run.wait_for("Round one")
        for words, answer in (("next", ROUND_TWO), ("leave", "> leave")):
            for _ in range(TRIES):  # traced, it is so slow that it may miss the sound device
                all_said(ear)
                say(card, maker, words)
                if answer in run.wait_for(answer, DeviceBack(0.0).sentence):
                    break
        assert run.process.wait(LIMIT_S) == 0
    sound_server = Path(card.variables["XDG_RUNTIME_DIR"])
    pieces = watched.home / ".local/share/rounds-aloud/pieces"
    watched.assert_kept_to(pieces, kept, sound_server, JACK)
