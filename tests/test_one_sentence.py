"""Where a traceback would stand there is one sentence, and an exit that is not 0."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from tests.command_lines import Ended, ended, own_place
from tests.small_hat import SCENARIO
from voice.cli import app, command_line, unforeseen
from voice.cli.commands import sizes

ROOT = Path(__file__).parent.parent
LONG = "a" * 300
DISC = 'name = "my own"\n[[part]]\nkind = "disc"\ngirth = '


def refused(found: Ended, *words: str) -> None:
    """One sentence with these words, and an exit of 1 or 2."""
    assert found.code in {1, 2}, found
    assert found.err.count("\n") == 1, found.err
    for word in words:
        assert word in found.err


@pytest.fixture(autouse=True)
def _own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in own_place(tmp_path).items():
        monkeypatch.setenv(name, value)


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (("plan", "--head", "56 g"), "grams"),
        (("plan", "--head", "56 g", "--head", "57"), "grams"),
        (("plan", "--head", "3 yards"), "yards"),
        (("plan", "--age", "nan"), "0 to 120"),
        (("call", "--typed", "--remind", "nan"), "3600"),
        (("call", "--typed", "--remind=-5"), "3600"),
        (("call", "--typed", "--remind", "inf"), "3600"),
        (("check", "--seconds", "inf"), "60"),
        (("rehearse", "--snr", "nan"), "120"),
        (("plan", "--yarn", "9" * 5000), "0 to 7"),
        (("call", "--typed", "--rate", "9" * 5000), "220"),
        (("plan", "--shape", LONG), "too long"),
        (("call", "--typed", "--model", "nowhere"), "--model"),
        (("hear", "--model", "nowhere", "x.wav"), "--model"),
        (("hear", LONG), "too long"),
        (("writeup", "x", "--folder", LONG), "too long"),
        (("shapes", LONG), "beret"),
        (("pieces", "--folder", LONG), "too long"),
        (("call", "--typed", "--folder", LONG), "too long"),
        (("rehearse", "--scenario", LONG), "too long"),
        (("models", "--folder", LONG), "too long"),
        (("plan", "--ease=--"), "expected"),
        (("rehearse", "--scenario=--"), "expected"),
        (("hear", "/dev/zero"), "no regular file"),
        (("plan", "--shape", "/dev/zero"), "no regular"),
        (("rehearse", "--scenario", "/dev/zero"), "no regular"),
        (("plan", "\n" * 9), "\\n"),
    ],
)
def test_odd_options(options: tuple[str, ...], word: str) -> None:
    refused(ended(list(options)), word)


def test_a_data_folder_with_a_name_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", f"/{LONG}")
    for command in (["pieces"], ["writeup", "x"], ["call", "--typed"], ["models"]):
        refused(ended(command), "too long")


ENDLESS = {
    "digits": "9" * 400,
    "more digits": "9" * 5000,
    "hexadecimal": "0x" + "f" * 5000,
    "brackets": "[" * 5000,
    "braces": "{a=" * 5000,
    "infinite": "inf",
    "nothing": "[]",
    "expression": '"9**9**9**9 cm"',
    "long": '"' + "a" * 70_000 + '"',
    "date": "9999-99-99",
    "dots": "1\n" + ".".join("a" * 3000) + " = 1",
}


@pytest.mark.parametrize("value", ENDLESS.values(), ids=ENDLESS)
def test_shapes_and_scenarios_without_end(value: str, tmp_path: Path) -> None:
    shape, scenario = tmp_path / "shape.toml", tmp_path / "scenario.toml"
    shape.write_text(DISC + value, encoding="utf-8")
    refused(ended(["plan", "--shape", str(shape)]), "line ")
    for old in ("round = 3", "22.0", '"centimetres"', "words = "):
        new = old.partition("=")[0] + "= " + value if "=" in old else value
        scenario.write_text(SCENARIO.replace(old, new, 1), encoding="utf-8")
        refused(ended(["rehearse", "--scenario", str(scenario)]), str(scenario))


def test_a_kind_that_is_a_list(tmp_path: Path) -> None:
    shape = tmp_path / "shape.toml"
    shape.write_text('name = "my own"\n[[part]]\nkind = []\n', encoding="utf-8")
    refused(ended(["plan", "--shape", str(shape)]), "line 3, kind", "disc")


@pytest.mark.skipif(not (sys.platform == "linux" and shutil.which("setpriv")), reason="no setpriv")
@pytest.mark.parametrize(
    "command",
    [
        ("writeup", "x", "--folder"),
        ("pieces", "--folder"),
        ("call", "--typed", "--folder"),
        ("hear",),
        ("plan", "--shape"),
        ("models", "--folder"),
        ("rehearse", "--scenario"),
    ],
)
def test_a_folder_without_rights(command: tuple[str, ...], tmp_path: Path) -> None:
    """Even for the superuser, who gives up the right to go everywhere (capabilities(7))."""
    shut = tmp_path / "shut"
    shut.mkdir(mode=0)
    drop = [
        "setpriv",
        "--bounding-set=-dac_override,-dac_read_search",
        "--inh-caps=-dac_override,-dac_read_search",
    ]
    plain = [] if os.getuid() else drop
    place = shut / "x" if command[-1] in {"--shape", "--scenario"} else shut
    done = subprocess.run(
        [*plain, sys.executable, "-m", "voice", *command, str(place)],
        cwd=ROOT,
        text=True,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        check=False,
    )
    shut.chmod(0o700)
    refused(Ended(done.returncode, done.stdout, done.stderr), "ermission denied")


def shell(line: str, place: Path, **env: str) -> subprocess.CompletedProcess[str]:
    """A line of the shell, in which PROGRAM is the program."""
    line = line.replace("PROGRAM", f"'{sys.executable}' -m voice")
    return subprocess.run(
        ["/bin/sh", "-c", line],
        cwd=ROOT,
        text=True,
        capture_output=True,
        check=False,
        stdin=subprocess.DEVNULL,
        env={**os.environ, **own_place(place), **env},
    )


POSIX = pytest.mark.skipif(os.name == "nt", reason="no POSIX shell")
SPEAKS = ("plan", "plan --help", "shapes", "call --typed --piece x", "models list")


@POSIX
@pytest.mark.parametrize("command", SPEAKS)
@pytest.mark.parametrize(
    "nowhere",
    [
        ">&-",
        pytest.param(
            ">/dev/full",
            marks=pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full"),
        ),
    ],
)
def test_output_that_takes_nothing(command: str, nowhere: str, tmp_path: Path) -> None:
    done = shell(f"PROGRAM {command} {nowhere}", tmp_path)
    refused(Ended(done.returncode, done.stdout, done.stderr), "Standard output cannot be written")


@POSIX
def test_input_that_is_closed(tmp_path: Path) -> None:
    done = shell("PROGRAM call --typed --piece x <&-", tmp_path)
    refused(Ended(done.returncode, done.stdout, done.stderr), "standard input")
    assert "The piece is called x." in done.stdout


@POSIX
@pytest.mark.parametrize("closed", ["2>&-", ">&- 2>&-", "<&- >&- 2>&-"])
def test_with_nobody_to_tell_the_exit_tells(closed: str, tmp_path: Path) -> None:
    done = shell(f"PROGRAM call --typed --piece x --head 5 {closed}", tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (2, "", "")


@POSIX
def test_what_is_printed_never_goes_into_a_file_that_took_its_place(tmp_path: Path) -> None:
    """The lowest free number goes to the next file that is opened. Source: POSIX, open()."""
    shell("PROGRAM call --typed --piece x --head 52cm >&- 2>&-", tmp_path)
    kept = tmp_path / "data" / "rounds-aloud" / "pieces" / "x.jsonl"
    assert b"The piece is called" not in kept.read_bytes()
    assert shell("PROGRAM writeup x", tmp_path).returncode == 0


@POSIX
def test_a_terminal_that_cannot_write_the_name(tmp_path: Path) -> None:
    env = {"LC_ALL": "C", "PYTHONIOENCODING": "ascii"}
    for named in ("--piece mütze --head 52cm", ""):
        done = shell(f"PROGRAM call --typed {named}", tmp_path, **env)
        assert (done.returncode, done.stderr) == (0, "")
        assert r"The piece is called m\xfctze." in done.stdout
    done = shell("PROGRAM writeup hüte", tmp_path, **env)
    assert (done.returncode, done.stderr.count("\n")) == (1, 1)


def test_the_last_resort(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fall(_: object) -> int:
        raise ZeroDivisionError("nobody foresaw this")

    monkeypatch.setattr(sizes, "run", fall)
    found = ended(["sizes"])
    kept = tmp_path / "state" / "rounds-aloud" / unforeseen.FILE
    assert (found.code, found.out, found.err.count("\n")) == (app.EX_SOFTWARE, "", 1)
    assert str(kept) in found.err
    assert "ZeroDivisionError: nobody foresaw this" in kept.read_text(encoding="utf-8")
    assert os.name == "nt" or stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert [*kept.parent.iterdir()] == [kept]
    monkeypatch.setenv("XDG_STATE_HOME", "/proc/nowhere")
    found = ended(["sizes"])
    assert (found.code, found.err.count("\n")) == (app.EX_SOFTWARE, 1)
    assert "ZeroDivisionError: nobody foresaw this" in found.err


def test_every_command_has_its_options_read_in_one_way() -> None:
    """No option is a float or an int as Python reads them, which takes nan, inf and 1_0."""
    waiting = [command_line.parser()]
    while waiting:
        for action in waiting.pop()._actions:
            assert action.type not in {float, int}, action.option_strings
            if isinstance(action.choices, dict):
                waiting += action.choices.values()
