"""What may know what, read from the source itself with `ast`."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PATTERN = sorted((ROOT / "pattern").rglob("*.py"))
VOICE = sorted((ROOT / "voice").rglob("*.py"))
CLOCKS_AND_CHANCE = {
    "time",
    "random",
    "secrets",
    "threading",
    "asyncio",
    "multiprocessing",
    "concurrent",
    "sched",
    "signal",
}
SOUND_AND_NET = {"sounddevice", "soundfile", "pyttsx3", "pocketsphinx", "socket", "urllib", "http"}
OPENERS = {"disk.py", "held.py", "kept.py"}
OPENING = {
    "open",
    "read_text",
    "read_bytes",
    "write_text",
    "write_bytes",
    "touch",
    "mkdir",
    "unlink",
    "rename",
    "replace_file",
    "iterdir",
    "glob",
    "rglob",
}


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"), str(path))


def imported(tree: ast.Module) -> Iterator[str]:
    """Every module named by an import, within functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            yield node.module or ""


def called(tree: ast.Module) -> Iterator[str]:
    """The last name of everything that is called."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                yield node.func.id
            elif isinstance(node.func, ast.Attribute):
                yield node.func.attr


def tops_of(path: Path) -> set[str]:
    """Packages that a module imports from."""
    return {name.partition(".")[0] for name in imported(tree_of(path))}


def test_the_program_knows_no_tests() -> None:
    assert [path for path in (*PATTERN, *VOICE) if "tests" in tops_of(path)] == []


def test_pattern_has_no_clock_chance_thread_sound_or_net() -> None:
    for path in PATTERN:
        assert not tops_of(path) & (CLOCKS_AND_CHANCE | SOUND_AND_NET), path
        assert not {"now", "today", "utcnow"} & set(called(tree_of(path))), path


def test_only_what_keeps_pieces_opens_files() -> None:
    for path in PATTERN:
        if path.name not in OPENERS:
            assert not OPENING & set(called(tree_of(path))), path
            assert not {"os", "shutil", "tempfile", "io", "fcntl", "msvcrt"} & tops_of(path), path


def test_what_keeps_pieces_does_open_files() -> None:
    """The check above would see it."""
    for name in OPENERS:
        assert OPENING & set(called(tree_of(ROOT / "pattern" / "journal" / name)))


@pytest.mark.parametrize(
    ("code", "changeable"),
    [
        ("def f():\n    global x", True),
        ("TABLE = {}\ndef f(a):\n    TABLE[a] = 1", True),
        ("TABLE = {}\ndef f(a):\n    del TABLE[a]", True),
        ("TABLE = {1: 2}\ndef f(a):\n    b = {}\n    b[a] = TABLE[a]", False),
    ],
)
def test_the_look_below_sees_what_grows(code: str, changeable: bool) -> None:
    assert grows(ast.parse(code)) is changeable


def grows(tree: ast.Module) -> bool:
    """Whether a module has a `global`, or puts things into a name of its own."""
    tops = {
        target.id
        for node in tree.body
        if isinstance(node, ast.Assign | ast.AnnAssign)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name)
    }
    return any(
        isinstance(node, ast.Global)
        or (
            isinstance(node, ast.Subscript)
            and isinstance(node.ctx, ast.Store | ast.Del)
            and isinstance(node.value, ast.Name)
            and node.value.id in tops
        )
        for node in ast.walk(tree)
    )


def test_nothing_is_global_and_changeable() -> None:
    """Constants are only ever read."""
    assert [path for path in PATTERN if grows(tree_of(path))] == []


def test_pattern_needs_few_libraries() -> None:
    tops = {name.partition(".")[0] for path in PATTERN for name in imported(tree_of(path))}
    assert tops - sys.stdlib_module_names <= {"pattern", "pint"}
