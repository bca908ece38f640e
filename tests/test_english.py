"""Docstrings in plain English, modules and functions of a length that can be read at once."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
FILES = sorted(path for package in ("pattern", "voice") for path in (ROOT / package).rglob("*.py"))
MOST_LINES_OF_A_MODULE = 200
MOST_LINES_OF_A_FUNCTION = 40
MANNERED = re.compile(r"(What|Whether it is that)\b")
"""Beginnings that leave the noun out: "Lower bound of r0", not "What r0 is not below"."""


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def docstrings(nodes: Iterable[ast.AST]) -> Iterator[tuple[int, str]]:
    """Line and text of every string that stands alone, those of attributes and constants too."""
    for each in nodes:
        if isinstance(each, ast.Expr) and isinstance(each.value, ast.Constant):
            text = each.value.value
            if isinstance(text, str):
                yield each.lineno, text


def functions(nodes: Iterable[ast.AST]) -> Iterator[tuple[str, int]]:
    """Name and lines of every function."""
    for each in nodes:
        if isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef):
            yield each.name, (each.end_lineno or each.lineno) - each.lineno + 1


@cache
def found(path: Path) -> tuple[list[tuple[int, str]], list[tuple[str, int]]]:
    """The docstrings and the functions of a file."""
    nodes = list(ast.walk(ast.parse(path.read_text("utf-8"))))
    return list(docstrings(nodes)), list(functions(nodes))


def test_a_docstring_names_its_noun() -> None:
    mannered = {
        named(path): lines
        for path in FILES
        if (lines := [text for _, text in found(path)[0] if MANNERED.match(text)])
    }
    assert mannered == {}


def test_nothing_is_left_to_do() -> None:
    left = re.compile(r"\b(?:TODO|FIXME|XXX)\b")
    assert [named(path) for path in FILES if left.search(path.read_text("utf-8"))] == []


def test_modules_and_functions_are_short() -> None:
    lengths = {named(path): len(path.read_text("utf-8").splitlines()) for path in FILES}
    assert {name: lines for name, lines in lengths.items() if lines > MOST_LINES_OF_A_MODULE} == {}
    long = {
        f"{named(path)}: {name}": lines
        for path in FILES
        for name, lines in found(path)[1]
        if lines > MOST_LINES_OF_A_FUNCTION
    }
    assert long == {}


def test_the_rules_see_what_breaks_them() -> None:
    body = "\n".join(f"    x = {number}" for number in range(41))
    text = f'"""What it is."""\nY = 1\n"""What Y is."""\ndef long():\n{body}\n'
    module = tuple(ast.walk(ast.parse(text)))
    assert [text for _, text in docstrings(module) if MANNERED.match(text)] == [
        "What it is.",
        "What Y is.",
    ]
    assert list(functions(module)) == [("long", 42)]
