"""Reads shapes written in TOML by users, and reports mistakes with line and key."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeGuard

from pattern.errors import BadShape
from pattern.shape.catalogue import Measure, Shape, ShapePart, shape_called
from pattern.shape.geometry import taper
from pattern.shape.part_kinds import KINDS, Asked, PartKind
from pattern.shape.shape_lines import line_of
from pattern.trade.lengths import written_mm

MOST_PARTS = 12
"""Maximum number of parts in a shape; our choice."""
MOST_MM, MOST_GIRTHS = 3000.0, 6.0
_TRIED_GIRTH_MM = 560.0
"""A sample girth for checking the parts of a shape; our choice."""
_WORDS = re.compile(r"[a-z]{1,20}( [a-z]{1,20}){0,3}")


@dataclass(frozen=True, slots=True)
class ShapeReader:
    """Reads one text, and finds the line of each key in it."""

    text: str

    def shape(self, data: Mapping[str, Any]) -> Shape:
        """The shape that the parsed text describes. Raises: BadShape."""
        self._only(data, {"name", "across", "part"}, None)
        name = self._name(data, "name", None)
        across = None
        if "across" in data:
            across = self._measure(data["across"], "across", None).mm
            if not across:
                raise self._bad("across", None, 'write a length with its unit, such as "20 cm"')
        rows = data.get("part")
        if not isinstance(rows, list) or not 0 < len(rows) <= MOST_PARTS:
            raise self._bad("", None, f"write one to {MOST_PARTS} parts, each under [[part]]")
        parts = tuple(self._part(row, at) for at, row in enumerate(rows))
        self._in_order(parts, by_width=across is not None)
        return Shape(name, parts, across)

    def _part(self, row: object, at: int) -> ShapePart:
        if not isinstance(row, dict):
            raise self._bad("", at, "write each part under [[part]]")
        kinds = ", ".join(kind.value for kind in PartKind)
        if row.get("kind") not in [*PartKind]:
            raise self._bad("kind", at, f"write one of {kinds}")
        kind = PartKind(row["kind"])
        needs = KINDS[kind].needs
        self._only(row, {"kind", "called", *needs, *KINDS[kind].one_of}, at)
        for key in sorted(needs - row.keys()):
            raise self._bad(key, at, f"a {kind.value} needs it")
        called = self._name(row, "called", at) if "called" in row else kind.value
        girth = self._measure(row["girth"], "girth", at) if "girth" in row else None
        return ShapePart(
            kind, called, girth, self._length(row, kind, at), self._slope(row, kind, at)
        )

    def _length(self, row: Mapping[str, Any], kind: PartKind, at: int) -> Measure | Asked | None:
        if "length" not in row:
            return None
        words = KINDS[kind].asked
        if isinstance(row["length"], str) and row["length"] in set(Asked):
            if row["length"] in words:
                return Asked(row["length"])
            may = " or ".join(f'"{word.value}"' for word in sorted(words))
            raise self._bad("length", at, f"write {may}, or a length, for a {kind.value}")
        return self._measure(row["length"], "length", at)

    def _slope(self, row: Mapping[str, Any], kind: PartKind, at: int) -> float | None:
        one_of = sorted(KINDS[kind].one_of)
        ways = " or ".join(f"its {key}" for key in one_of)
        if one_of and row.keys() >= set(one_of):
            raise self._bad(one_of[-1], at, f"give a {kind.value} {ways}, not both")
        if one_of and not row.keys() & set(one_of):
            raise self._bad("", at, f"give the {kind.value} {ways}")
        if "slope" not in row:
            return None
        most = KINDS[kind].steepest_deg
        if not _is_number(row["slope"]) or not 0 <= row["slope"] <= most:
            raise self._bad("slope", at, f"write degrees from 0 to {most:g}")
        return float(row["slope"])

    def _measure(self, value: object, key: str, at: int | None) -> Measure:
        """A length with its unit, or a multiple of the wanted girth."""
        if isinstance(value, str):
            try:
                found = Measure(mm=written_mm(value))
            except ValueError as refusal:
                raise self._bad(key, at, 'write a length such as "4 cm"') from refusal
            if 0 < found.mm <= MOST_MM:
                return found
        elif _is_number(value) and 0 < value <= MOST_GIRTHS:
            return Measure(girths=float(value))
        raise self._bad(
            key,
            at,
            f'write a length such as "4 cm", up to {MOST_MM:g} mm, or a '
            f"number, up to {MOST_GIRTHS:g}, of times the girth",
        )

    def _name(self, row: Mapping[str, Any], key: str, at: int | None) -> str:
        value = row.get(key)
        if not isinstance(value, str) or not _WORDS.fullmatch(value):
            raise self._bad(key, at, "write one to four words of small letters, for the voice")
        if at is None and shape_called(value) is not None:
            raise self._bad(key, at, f"there is a {value} already; take another name")
        return value

    def _in_order(self, parts: tuple[ShapePart, ...], *, by_width: bool) -> None:
        """Check each part against those before it: its place, and the direction that it runs."""
        girth = _TRIED_GIRTH_MM
        here = 0.0
        for at, part in enumerate(parts):
            if KINDS[part.kind].begins != (at == 0):
                firsts = _firsts()
                raise self._bad(
                    "kind",
                    at,
                    f"begin with {firsts}" if at == 0 else f"only the first part can be {firsts}",
                )
            if at + 1 < len(parts) and KINDS[part.kind].ends:
                raise self._bad("", at + 1, f"nothing can follow a {part.kind.value}")
            if by_width and part.length in {Asked.DEPTH, Asked.BRIM}:
                raise self._bad("length", at, 'leave out across, or write a length or "height"')
            if not by_width and part.length is Asked.HEIGHT:
                raise self._bad("length", at, 'for a head, write "depth" or a length')
            there = part.girth.of(girth) if part.girth else here
            if part.slope_deg is not None and part.shaping.tapers:
                self._slopes_that_way(part.slope_deg, here, there, at)
            here = there

    def _slopes_that_way(self, slope_deg: float, here_mm: float, there_mm: float, at: int) -> None:
        wider = there_mm - here_mm
        way = math.cos(math.radians(slope_deg))
        if abs(wider) > 1e-9 and (
            wider * way <= 0
            or taper(here_mm / math.tau, there_mm / math.tau, None, slope_deg).length_mm > MOST_MM
        ):
            should = "under 85 to widen" if wider > 0 else "over 95 to narrow"
            raise self._bad("slope", at, f"write degrees {should} to this girth")

    def _only(self, row: Mapping[str, Any], keys: set[str], at: int | None) -> None:
        for key in row:
            if key not in keys:
                known = ", ".join(sorted(keys))
                raise self._bad(key, at, f"only {known} can stand here")

    def _bad(self, key: str, at: int | None, why: str) -> BadShape:
        return BadShape(line_of(self.text, key, at), key, why)


def _firsts() -> str:
    *others, last = (f"a {kind.value}" for kind, row in KINDS.items() if row.begins)
    return f"{', '.join(others)} or {last}"


def _is_number(value: object) -> TypeGuard[int | float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
