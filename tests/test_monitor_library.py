"""Of soundcard, which reads a monitor, each system's module has what is called: its source is read,
since only one of them runs here.

Windows was not tried. Its flag of a loopback stream is AUDCLNT_STREAMFLAGS_LOOPBACK, 0x00020000
(Microsoft's documentation of AUDCLNT_STREAMFLAGS_XXX constants; from memory).
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from types import SimpleNamespace

import pytest

from voice.sound import played_here
from voice.sound.played_here import NoMonitorError, PlayedHere

ROOT = Path(__file__).parents[1]
FOUND = find_spec("soundcard")
pytestmark = pytest.mark.skipif(FOUND is None, reason="soundcard is not installed")
MODULES = ("pulseaudio", "mediafoundation", "coreaudio")
LOOPBACK = 0x00020000
OWNER = {"library": "", "source": "_Microphone", "recorder": "_Recorder"}
"""Class of what the names in our module stand for; the module itself for the first."""


@cache
def source(module: str) -> ast.Module:
    assert FOUND is not None
    assert FOUND.origin is not None
    return ast.parse((Path(FOUND.origin).parent / f"{module}.py").read_text("utf-8"))


@cache
def ours() -> ast.Module:
    return ast.parse(Path(played_here.__file__).read_text("utf-8"))


def functions(tree: ast.Module, owner: str) -> dict[str, ast.FunctionDef]:
    """Functions of the module, or methods of a class of it and of the classes it derives from."""
    if not owner:
        return {each.name: each for each in tree.body if isinstance(each, ast.FunctionDef)}
    found: dict[str, ast.FunctionDef] = {}
    for each in tree.body:
        if isinstance(each, ast.ClassDef) and each.name == owner:
            for base in each.bases:
                if isinstance(base, ast.Name):
                    found |= functions(tree, base.id)
            found |= {one.name: one for one in each.body if isinstance(one, ast.FunctionDef)}
    return found


def calls(tree: ast.AST) -> Iterator[ast.Call]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.Call))


def called() -> list[tuple[str, str, set[str], int]]:
    """Owner, name, keywords and number of other arguments of all that our module calls there."""
    return [
        (OWNER[at.value.id], at.attr, {str(word.arg) for word in call.keywords}, len(call.args))
        for call in calls(ours())
        if isinstance(at := call.func, ast.Attribute)
        and isinstance(at.value, ast.Name)
        and at.value.id in OWNER
    ]


def test_our_module_calls_what_this_test_looks_at() -> None:
    names = {name for _, name, _, _ in called()}
    assert names == {"get_microphone", "default_speaker", "recorder", "record"}


@pytest.mark.parametrize("module", MODULES)
def test_what_is_called_exists_in_the_module_of_each_system(module: str) -> None:
    for owner, name, keywords, others in called():
        function = functions(source(module), owner)[name]
        arguments = [each.arg for each in function.args.args]
        assert keywords <= set(arguments), name
        assert len(arguments) - bool(owner) >= len(keywords) + others, name
    assert "id" in functions(source(module), "_Speaker"), "by which the loudspeaker is found"
    for name in ("__enter__", "__exit__"):
        assert name in functions(source(module), "_Recorder")


def test_on_windows_the_loudspeaker_itself_is_found_as_a_loopback() -> None:
    """It is one of the microphones by its own name, opened with the flag."""
    tree = source("mediafoundation")
    listed = functions(tree, "")["all_microphones"]
    made = [call for call in calls(listed) if ast.unparse(call.func) == "_Microphone"]
    assert "_Microphone(dev, isloopback=True)" in map(ast.unparse, made)
    assert "all_devices('speaker')" in ast.unparse(listed)
    assert "all_microphones(include_loopback)" in ast.unparse(functions(tree, "")["get_microphone"])
    opened = functions(tree, "_AudioClient")["__init__"]
    (flagged,) = (
        node
        for node in ast.walk(opened)
        if isinstance(node, ast.If) and ast.unparse(node.test) == "isloopback"
    )
    assert ast.unparse(flagged.body[0]) == f"streamflags |= {LOOPBACK}"


def test_on_windows_a_late_thread_has_as_long_as_is_asked_for() -> None:
    opened = ast.unparse(functions(source("mediafoundation"), "_AudioClient")["__init__"])
    assert "bufferduration = int(blocksize / samplerate * 10000000)" in opened
    assert "Initialize(self._ptr[0], sharemode, streamflags, bufferduration" in opened
    assert played_here.HELD > 10 * played_here.BLOCK


def test_on_windows_gaps_are_warned_of_by_the_class_that_is_ignored() -> None:
    tree = source("mediafoundation")
    warned = ast.unparse(functions(tree, "_Recorder")["_record_chunk"])
    assert "SoundcardRuntimeWarning" in warned
    assert any(
        isinstance(e, ast.ClassDef) and e.name == "SoundcardRuntimeWarning" for e in tree.body
    )
    assert "soundcard.SoundcardRuntimeWarning" in ast.unparse(ours())


def test_on_windows_the_thread_that_uses_it_is_the_one_that_loads_it() -> None:
    """Loading prepares that thread for COM, and no other."""
    tree = source("mediafoundation")
    assert "_com = _COMLibrary()" in [ast.unparse(each) for each in tree.body]
    assert "CoInitializeEx" in ast.unparse(functions(tree, "_COMLibrary")["__init__"])
    loads = {
        path: [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if is_load(node)]
        for path in (ROOT / "voice").rglob("*.py")
    }
    assert {path.name: len(found) for path, found in loads.items() if found} == {
        "played_here.py": 1
    }
    assert [node for node in ast.walk(functions(ours(), "")["_library"]) if is_load(node)]
    users = [
        name
        for name, method in functions(ours(), "PlayedHere").items()
        if any(ast.unparse(call.func) == "_library" for call in calls(method))
    ]
    assert users == ["_own"]
    assert "threading.Thread(target=self._own" in ast.unparse(ours())


def is_load(node: ast.AST) -> bool:
    return isinstance(node, ast.Import) and any(name.name == "soundcard" for name in node.names)


def test_on_macos_there_is_no_loopback() -> None:
    listed = ast.unparse(functions(source("coreaudio"), "")["all_microphones"])
    assert "macOS does not support loopback" in listed
    assert "isloopback=True" not in ast.unparse(source("coreaudio"))


def on_a_mac(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(played_here, "sys", SimpleNamespace(platform="darwin", modules=sys.modules))
    monkeypatch.setattr(sys, "argv", ["rounds-aloud"])  # soundcard looks for a name


def test_on_macos_it_says_so_in_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    on_a_mac(monkeypatch)
    with pytest.raises(NoMonitorError, match="macOS gives no program what another one plays"):
        PlayedHere().open(10.0)


@pytest.mark.usefixtures("card")
def test_on_macos_a_second_microphone_is_heard(monkeypatch: pytest.MonkeyPatch) -> None:
    on_a_mac(monkeypatch)
    known = PlayedHere("microphone")
    known.open(10.0)
    known.close()
