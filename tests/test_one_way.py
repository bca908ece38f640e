"""What may know what, read from the source itself with `ast`."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PATTERN = sorted((ROOT / "pattern").rglob("*.py"))
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


@pytest.fixture(params=PATTERN, ids=lambda path: path.name)
def module(request: pytest.FixtureRequest) -> Path:
    path: Path = request.param
    return path


def test_pattern_knows_no_tests(module: Path) -> None:
    tops = {name.partition(".")[0] for name in imported(tree_of(module))}
    assert "tests" not in tops


def test_pattern_has_no_clock_chance_thread_sound_or_net(module: Path) -> None:
    names = set(imported(tree_of(module)))
    tops = {name.partition(".")[0] for name in names}
    assert not tops & (CLOCKS_AND_CHANCE | SOUND_AND_NET)
    assert not {"now", "today", "utcnow"} & set(called(tree_of(module)))


def test_only_what_keeps_pieces_opens_files(module: Path) -> None:
    if module.name not in OPENERS:
        tree = tree_of(module)
        assert not OPENING & set(called(tree))
        assert not {"os", "shutil", "tempfile", "io", "fcntl", "msvcrt"} & set(imported(tree))


def test_what_keeps_pieces_does_open_files() -> None:
    """The check above would see it."""
    for name in OPENERS:
        assert OPENING & set(called(tree_of(ROOT / "pattern" / "journal" / name)))


def test_nothing_is_global_and_changeable(module: Path) -> None:
    """No `global`, and no name of a module that grows: constants are only ever read."""
    tree = tree_of(module)
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.Global)]
    tops = {
        target.id
        for node in tree.body
        if isinstance(node, ast.Assign | ast.AnnAssign)
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Subscript) and isinstance(node.ctx, ast.Store | ast.Del):
            assert not (isinstance(node.value, ast.Name) and node.value.id in tops)


def test_pattern_needs_few_libraries() -> None:
    tops = {name.partition(".")[0] for path in PATTERN for name in imported(tree_of(path))}
    assert tops - sys.stdlib_module_names <= {"pattern", "pint"}
