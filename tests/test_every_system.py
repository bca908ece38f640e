"""Nothing that a person installs needs Unix: no module of Python's that Windows lacks is imported
unguarded, and without them, or without a library that some machines lack, what can work does.
"""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from tests.command_lines import own_place
from voice.cli import unforeseen
from voice.cli.app import EX_SOFTWARE
from voice.models.published import remedy, this_machine
from voice.sound.ports import RATE_HZ
from voice.sound.wav import as_wav

ROOT = Path(__file__).parents[1]
SOURCES = sorted(path for top in ("pattern", "voice") for path in (ROOT / top).rglob("*.py"))
# The Python library reference, chapter "Unix-specific services" (docs.python.org/3/library/unix)
# without shlex, which is everywhere; its chapter on curses; readline ("Availability: Unix" or not
# on Windows in both), and the modules of "Superseded modules" of 3.11 that are for Unix.
UNIX_ONLY = {
    "posix",
    "pwd",
    "grp",
    "termios",
    "tty",
    "pty",
    "fcntl",
    "resource",
    "syslog",
    "curses",
    "readline",
    "crypt",
    "nis",
    "ossaudiodev",
    "spwd",
}
# Those with "Availability: Unix" there that could be of use here; from the chapters on os and
# signal.
UNIX_NAMES = {
    "os": {
        "fork",
        "forkpty",
        "getuid",
        "geteuid",
        "getgid",
        "getpgid",
        "getloadavg",
        "killpg",
        "mkfifo",
        "nice",
        "openpty",
        "sched_getaffinity",
        "setsid",
        "sysconf",
        "uname",
        "wait",
        "O_DIRECTORY",
        "O_NONBLOCK",
        "posix_spawn",
    },
    "signal": {
        "SIGKILL",
        "SIGHUP",
        "SIGALRM",
        "SIGUSR1",
        "SIGUSR2",
        "SIGCHLD",
        "alarm",
        "pause",
        "setitimer",
        "pthread_sigmask",
        "sigwait",
    },
}


def guarded(node: ast.stmt) -> bool:
    """Whether what is in it may fail: it is tried, or the system was asked before."""
    if isinstance(node, ast.Try):
        caught = {ast.unparse(handler.type) for handler in node.handlers if handler.type}
        return bool(caught & {"ImportError", "ModuleNotFoundError"})
    asked = ("sys.platform", "os.name")
    return isinstance(node, ast.If) and ast.unparse(node.test).startswith(asked)


def unguarded(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node that runs on each system."""
    for child in ast.iter_child_nodes(tree):
        if not (isinstance(child, ast.stmt) and guarded(child)):
            yield child
            yield from unguarded(child)


def of_unix(code: str) -> set[str]:
    """What Unix alone has of all that the code imports or names unguarded."""
    found: set[str] = set()
    for node in unguarded(ast.parse(code)):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names} & UNIX_ONLY
        elif isinstance(node, ast.ImportFrom):
            top = (node.module or "").partition(".")[0]
            found |= {top} & UNIX_ONLY
            found |= {alias.name for alias in node.names} & UNIX_NAMES.get(top, set())
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            found |= {node.attr} & UNIX_NAMES.get(node.value.id, set())
    return found


def test_nothing_of_unix_alone_is_used_unguarded() -> None:
    found = {path: of_unix(path.read_text("utf-8")) for path in SOURCES}
    assert {path: names for path, names in found.items() if names} == {}


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ("import resource", {"resource"}),
        ("def f():\n    from pwd import getpwnam", {"pwd"}),
        ("import os\nos.fork()", {"fork"}),
        ("from signal import SIGKILL", {"SIGKILL"}),
        ("try:\n    import fcntl\nexcept OSError:\n    pass", {"fcntl"}),
        ("try:\n    import fcntl\nexcept ImportError:\n    pass", set()),
        ("import sys\nif sys.platform != 'win32':\n    import pty", set()),
        ("import os.path", set()),
    ],
)
def test_the_look_above_sees_it(code: str, found: set[str]) -> None:
    assert of_unix(code) == found


def run(code: str, without: set[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """Another Python that has none of these modules, once the interpreter itself has begun."""
    hides = f"import sys\nsys.modules.update(dict.fromkeys({sorted(without)!r}))\n"
    return subprocess.run(
        [sys.executable, "-c", hides + code],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
        input="leave\n",
        env={**os.environ, **own_place(folder), "PYTHONPATH": str(ROOT)},
    )


def test_without_the_modules_of_unix_all_is_imported_and_the_table_says_so(tmp_path: Path) -> None:
    names = [
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for path in SOURCES
        if path.name != "__main__.py" and "learning" not in path.with_suffix("").parts
    ]
    code = f"import importlib\nfor name in {names!r}: importlib.import_module(name)\n"
    done = run(
        f"{code}from voice.rehearsal.tally import Tally\nprint(Tally().table())",
        UNIX_ONLY - {"posix", "pwd", "fcntl"},  # the last is asked for on Unix alone, by name
        tmp_path,
    )
    assert done.returncode == 0, done.stderr
    assert "memory                not known" in done.stdout


SOUND_LIBRARIES = {"soxr", "onnxruntime", "moonshine_voice", "sounddevice", "soundfile", "pyttsx3"}


def command(words: str, without: set[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """`rounds-aloud` with these words."""
    code = f"from voice.cli.app import main\nsys.exit(main({words.split()!r}))"
    return run(code, without, folder)


def test_typed_it_works_without_any_library_of_sound(tmp_path: Path) -> None:
    typed = command(
        "call --typed --folder pieces --head 56cm --yarn 4 --hook 5", SOUND_LIBRARIES, tmp_path
    )
    assert (typed.returncode, typed.stderr) == (0, "")
    assert "Round one: six single crochet" in typed.stdout
    assert command("plan --head 56cm --yarn 4 --hook 5", SOUND_LIBRARIES, tmp_path).returncode == 0


@pytest.mark.parametrize("words", ["check", "rehearse", "hear nothing.wav"])
def test_with_no_resampler_one_sentence_says_what_to_do(words: str, tmp_path: Path) -> None:
    done = command(words, {"soxr"}, tmp_path)
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "need soxr: " in done.stderr
    assert "rounds-aloud call --typed" in done.stderr


@pytest.mark.parametrize("words", ["rehearse --engine moonshine", "hear --engine moonshine x.wav"])
def test_without_the_runtime_of_the_net_one_sentence_says_what_to_do(
    words: str, tmp_path: Path
) -> None:
    (tmp_path / "x.wav").write_bytes(as_wav(np.ones(RATE_HZ, np.int16)))
    done = command(words, {"onnxruntime"}, tmp_path)
    assert done.returncode == 1
    assert done.stderr == f"moonshine cannot be used here: {remedy(this_machine())}\n"


def test_a_module_that_no_marker_leaves_out_is_a_fault_and_stays_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value in own_place(tmp_path).items():
        monkeypatch.setenv(name, value)
    done = command("plan --head 56cm --yarn 4 --hook 5", {"pint"}, tmp_path)
    assert (done.returncode, done.stderr.count("\n")) == (EX_SOFTWARE, 1)
    kept = tmp_path / "state" / "rounds-aloud" / unforeseen.FILE
    assert "ModuleNotFoundError" in kept.read_text(encoding="utf-8")


NO_NET = "import sys\nsys.modules.update(dict.fromkeys(['onnxruntime', 'moonshine_voice']))\n"


def test_check_says_in_one_sentence_what_is_missing_for_listening(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(NO_NET, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "voice", "check", "--technical", "--seconds", "1"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(tmp_path), "PULSE_SERVER": "unix:/nowhere"},
    )
    assert done.returncode == 1
    (told,) = [line for line in done.stdout.splitlines() if line.startswith("NO  listening: ")]
    assert told.startswith("NO  listening: no onnxruntime and no moonshine_voice: ")
    assert told.count(". ") == 0
    assert told.endswith("rounds-aloud call --typed.")
    assert "Traceback" not in done.stderr
