"""A kind of part is one row in each of four tables, and nothing else knows it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any, cast

import pytest

from pattern.plan.advancing import advanced
from pattern.plan.asking import Asking
from pattern.plan.counting import worth_counting
from pattern.plan.next_reading import wanted
from pattern.plan.next_round import most_rounds, next_round, rounds_left
from pattern.plan.part_rules import RULES
from pattern.plan.piece import Piece
from pattern.session.next_offer import WORKING
from pattern.shape.catalogue import WHOLE_GIRTH, Shape, ShapePart
from pattern.shape.part_kinds import KINDS, PART_STAGES, SHAPING, Asked, PartKind
from pattern.shape.profile import profile
from pattern.shape.rounds import Round, Stage
from pattern.shape.settings import Settings
from pattern.writeup.outlines import OUTLINES, outline_words
from voice.sentences import part_words
from voice.sentences.part_words import PART_WORDS
from voice.sentences.refusals import _HERE

ROOT = Path(__file__).parents[1]
COURSE = frozenset({Stage.SETUP, Stage.RING, Stage.FINISHING, Stage.DONE})
"""Stages that are about the course of a session, and no kind of part."""
TABLES = {
    "pattern/shape/part_kinds.py",
    "pattern/plan/part_rules.py",
    "pattern/writeup/outlines.py",
    "voice/sentences/part_words.py",
}


def test_every_kind_has_a_row_in_every_table() -> None:
    stages = set(Stage) - COURSE
    assert set(KINDS) == set(PartKind)
    assert sorted(row.stage for row in KINDS.values()) == sorted(stages)
    assert stages == PART_STAGES == set(RULES) == set(OUTLINES)
    assert stages | {Stage.RING} == set(SHAPING) == set(PART_WORDS) == WORKING
    assert set(_HERE) == set(Stage)
    assert any(row.begins for row in KINDS.values())


def test_a_bare_length_is_a_reading_that_the_part_takes() -> None:
    for stage, rules in RULES.items():
        assert rules.usual is None or rules.usual in rules.sensible, stage


class Other(StrEnum):
    """A kind of part, and its stage, that is nowhere."""

    PLEAT = "pleat"


PLEAT: Any = Other.PLEAT
SHAPE = Shape(
    "pleated hat",
    (
        ShapePart(PartKind.DISC, "crown", WHOLE_GIRTH),
        ShapePart(cast("PartKind", PLEAT), "pleats", length=Asked.DEPTH),
    ),
)
PLEATED = Settings(head_mm=560.0, shape=SHAPE)
STRAIGHT = Settings(
    head_mm=560.0,
    shape=Shape(
        "straight hat", (SHAPE.parts[0], ShapePart(PartKind.SIDE, "pleats", None, Asked.DEPTH))
    ),
)


def added(monkeypatch: pytest.MonkeyPatch, *, but: str = "") -> None:
    """Gives the kind the rows of straight sides, in all tables but one."""
    kind = KINDS[PartKind.SIDE]
    if but != "KINDS":
        row = type(kind)(PLEAT, kind.needs, kind.geometry, kind.shaping, asked=kind.asked)
        monkeypatch.setitem(KINDS, PLEAT, row)
        monkeypatch.setitem(SHAPING, PLEAT, row.shaping)
    tables: dict[str, dict[Stage, Any]] = {
        "RULES": RULES,
        "OUTLINES": OUTLINES,
        "PART_WORDS": PART_WORDS,
    }
    for name, table in tables.items():
        if name != but:
            monkeypatch.setitem(table, PLEAT, table[Stage.SIDES])
    profile.cache_clear()


def through(settings: Settings) -> Iterator[tuple[Piece, Round]]:
    """Every round of a piece that is worked as called, and the piece before it."""
    piece = Piece(settings)
    for _ in range(most_rounds(piece)):
        offered = next_round(piece)
        if offered is None:
            return
        yield piece, offered
        piece = advanced(piece, offered, slips_found=False)


def everything(settings: Settings) -> list[object]:
    """Whatever is planned, asked and said of a piece, but the names of its stages."""
    asking = Asking(9, unseen=False, times=0)
    return [outline_words(settings)] + [
        (
            offered.number,
            offered.places,
            offered.after,
            offered.part,
            rounds_left(piece, offered),
            worth_counting(piece, offered, slips=False),
            wanted(piece, asking),
            part_words.begins(piece, offered, {}) if piece.finished else "",
        )
        for piece, offered in through(settings)
    ]


def test_a_new_kind_needs_its_rows_and_nothing_else(monkeypatch: pytest.MonkeyPatch) -> None:
    """A made-up kind with the rows of straight sides is worked, called and drawn as these are."""
    added(monkeypatch)
    told = everything(PLEATED)
    assert told == everything(STRAIGHT)
    assert len(told) > 20
    assert any(offered.stage is PLEAT for _, offered in through(PLEATED))


@pytest.mark.parametrize("table", ["KINDS", "RULES", "OUTLINES", "PART_WORDS"])
def test_a_kind_without_a_row_fails_loudly(table: str, monkeypatch: pytest.MonkeyPatch) -> None:
    added(monkeypatch, but=table)
    with pytest.raises(KeyError, match="pleat"):
        everything(PLEATED)


def compared(tree: ast.AST) -> Iterator[str]:
    """Names of stages and kinds of part that something is compared with or looked up by."""
    for node in ast.walk(tree):
        looked: list[ast.AST] = []
        if isinstance(node, ast.Compare | ast.Set):
            looked = [node]
        elif isinstance(node, ast.match_case):
            looked = [node.pattern]
        elif isinstance(node, ast.Dict):
            looked = [key for key in node.keys if key is not None]
        elif isinstance(node, ast.Subscript):
            looked = [node.slice]
        for named in (inner for one in looked for inner in ast.walk(one)):
            if isinstance(named, ast.Attribute) and isinstance(named.value, ast.Name):
                yield from _of_a_part(named.value.id, named.attr)


def _of_a_part(enum: str, name: str) -> Iterator[str]:
    if enum == "PartKind" or (enum == "Stage" and Stage[name] not in COURSE):
        yield name


def test_only_the_tables_know_a_kind_of_part_by_its_name() -> None:
    found = {
        str(path.relative_to(ROOT)): names
        for package in ("pattern", "voice")
        for path in (ROOT / package).rglob("*.py")
        if (names := set(compared(ast.parse(path.read_text("utf-8")))))
    }
    assert set(found) == TABLES
    assert all(len(names) == len(KINDS) for names in found.values())


@pytest.mark.parametrize(
    "line",
    [
        "stage is Stage.SIDES",
        "stage in {Stage.RING, Stage.CROWN}",
        "MANY = frozenset({Stage.BALL})",
        "WORDS = {Stage.BRIM: 'brim'}",
        "kind == PartKind.SIDE",
        "match stage:\n    case Stage.DOME:\n        pass",
    ],
)
def test_a_comparison_with_a_kind_is_found(line: str) -> None:
    assert len(set(compared(ast.parse(line)))) == 1
    assert not set(compared(ast.parse("stage is Stage.SETUP or stage in {Stage.DONE}")))
