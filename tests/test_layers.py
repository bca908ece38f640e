"""Folders know only folders before them in their row; the rows are the table below."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from graphlib import TopologicalSorter
from pathlib import Path

ROOT = Path(__file__).parents[1]
ROWS: dict[str, tuple[frozenset[str], ...]] = {
    "pattern": tuple(
        map(
            frozenset,
            (
                {"errors"},
                {"trade", "journal"},
                {"shape"},
                {"gauge"},
                {"plan"},
                {"session"},
                {"forecast"},
                {"writeup"},
            ),
        )
    ),
    "voice": tuple(
        map(
            frozenset,
            (
                {"inputs"},
                {"words", "sound", "models"},
                {"speech", "recognisers"},
                {"hearing"},
                {"sentences"},
                {"caller"},
                {"dialogue", "page"},
                {"rehearsal"},
                {"cli"},
                {"__main__"},
            ),
        )
    ),
}
"""Rooms of each package: one knows only those in sets before its own. `voice` knows all of
`pattern`, which knows nothing of it."""
FLAT = {"pattern": 4, "voice": 6}
"""Modules at most that lie in a package without a folder."""
FILES = sorted(path for package in ROWS for path in (ROOT / package).rglob("*.py"))


@cache
def imports_of(path: Path) -> tuple[tuple[ast.Import | ast.ImportFrom, bool], ...]:
    """The imports of a module, each with whether it stands outside of everything."""
    tree = ast.parse(path.read_text("utf-8"))
    nodes = (node for node in ast.walk(tree) if isinstance(node, ast.Import | ast.ImportFrom))
    return tuple((node, node in tree.body) for node in nodes)


def room_of(path: Path) -> tuple[str, str]:
    package, *rest = path.relative_to(ROOT).with_suffix("").parts
    return package, "" if rest == ["__init__"] else rest[0]


def known(path: Path) -> Iterator[tuple[str, str]]:
    """Rooms that a module imports from, for types alone and inside functions too."""
    for node, _ in imports_of(path):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        for name in names:
            package, _, rest = name.partition(".")
            if package in ROWS:
                yield package, rest.partition(".")[0]


def rank(room: tuple[str, str]) -> int:
    package, name = room
    found = [at for at, rooms in enumerate(ROWS[package]) if name in rooms]
    assert len(found) == 1, f"{package}/{name} has no place in the rows"
    return found[0]


def fits(here: tuple[str, str], room: tuple[str, str]) -> bool:
    """Whether `here` may know `room`."""
    if here[0] != room[0]:
        return (here[0], room[0]) == ("voice", "pattern")
    return room == here or (here[1] != "" and rank(room) < rank(here))


def test_a_room_knows_only_rooms_before_it() -> None:
    known_too_early = [
        (str(path.relative_to(ROOT)), room)
        for path in FILES
        for room in known(path)
        if not fits(room_of(path), room)
    ]
    assert known_too_early == []


def test_few_modules_lie_flat() -> None:
    for package, most in FLAT.items():
        assert len(list((ROOT / package).glob("*.py"))) <= most


def test_every_room_of_the_rows_is_there_and_says_what_happens_in_it() -> None:
    for package, row in ROWS.items():
        for name in frozenset().union(*row):
            place = ROOT / package / name
            if place.is_dir():
                text = ast.get_docstring(ast.parse((place / "__init__.py").read_text("utf-8")))
                assert text
                assert "\n" not in text
            else:
                assert place.with_suffix(".py").is_file()


def test_no_module_imports_itself_through_others() -> None:
    graph: dict[str, set[str]] = {}
    for path in FILES:
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        graph[name] = set()
        for node, outside in imports_of(path):
            if outside and isinstance(node, ast.ImportFrom) and node.module:
                for alias in node.names:
                    for full in (f"{node.module}.{alias.name}", node.module):
                        if (ROOT / Path(*full.split("."))).with_suffix(".py").exists():
                            graph[name].add(full)
                            break
    assert list(TopologicalSorter(graph).static_order())
