"""Shapes from their name or their TOML text, and back to text."""

from __future__ import annotations

from functools import lru_cache

from pattern.errors import BadShape
from pattern.shape.catalogue import Measure, Shape, shape_called
from pattern.shape.part_kinds import Asked
from pattern.shape.shape_reader import ShapeReader
from pattern.trade.toml_text import BadToml, read_toml


@lru_cache(maxsize=64)
def shape_from(text: str) -> Shape:
    """The built-in shape with this name, or the shape that the text describes in TOML.

    Raises: BadShape, with line and key.
    """
    known = shape_called(text)
    if known is not None:
        return known
    try:
        data = read_toml(text)
    except BadToml as refusal:
        raise BadShape(refusal.line, "", refusal.why) from refusal
    return ShapeReader(text).shape(data)


def as_text(shape: Shape) -> str:
    """The shape in TOML, as a start for a custom one."""
    lines = [f'name = "{shape.name}"']
    if shape.usual_across_mm is not None:
        lines.append(f'across = "{shape.usual_across_mm:g} mm"')
    for part in shape.parts:
        lines += ["", "[[part]]", f'kind = "{part.kind.value}"', f'called = "{part.called}"']
        if part.girth is not None:
            lines.append(f"girth = {_written(part.girth)}")
        if part.length is not None:
            lines.append(f"length = {_written(part.length)}")
        if part.slope_deg is not None:
            lines.append(f"slope = {part.slope_deg!r}")
    return "\n".join(lines) + "\n"


def _written(length: Measure | Asked) -> str:
    if isinstance(length, Asked):
        return f'"{length.value}"'
    return f'"{length.mm!r} mm"' if length.mm else repr(length.girths)
