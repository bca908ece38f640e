"""The built-in shapes as short lists of parts; everything else is derived from them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from pattern.shape.part_kinds import KINDS, Asked, PartKind, Shaping


@dataclass(frozen=True, slots=True)
class Measure:
    """A length: a fixed number of mm plus a multiple of the wanted girth."""

    mm: float = 0.0
    girths: float = 0.0

    def of(self, girth_mm: float) -> float:
        """The length in mm for a wanted girth."""
        return self.mm + self.girths * girth_mm


WHOLE_GIRTH = Measure(girths=1.0)


@dataclass(frozen=True, slots=True)
class ShapePart:
    """A part as its shape describes it; parts are listed from the centre outward.

    A disc and a dome have the girth of their edge, a ball that of its middle. A side has a length.
    A taper has the girth at its end, and a length or a slope. A brim has a length and a slope.
    """

    kind: PartKind
    called: str
    girth: Measure | None = None
    length: Measure | Asked | None = None
    slope_deg: float | None = None
    """Degrees below level, outward: 0 to 90 widens, 90 to 180 narrows. A brim's slope is only its
    usual one; the maker may choose another."""

    @property
    def shaping(self) -> Shaping:
        """How its fabric lies."""
        return KINDS[self.kind].shaping


class Form(StrEnum):
    """The form of a finished piece, which decides how it is finished."""

    WORN = "worn"
    FLAT = "flat"
    HOLLOW = "hollow"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape, sized by a head or by its width across."""

    name: str
    parts: tuple[ShapePart, ...]
    usual_across_mm: float | None = None
    """Usual width of the edge (of a ball, through its middle); None for a shape that is sized by a
    head."""

    def __hash__(self) -> int:
        """Hash of the name, which is enough: profiles are looked up by it many times a round."""
        return hash(self.name)

    @property
    def for_head(self) -> bool:
        """Whether the shape is sized by a head."""
        return self.usual_across_mm is None

    @property
    def form(self) -> Form:
        """How it is finished: over a form, laid flat, or closed."""
        if self.parts[-1].shaping.closed:
            return Form.CLOSED
        if self.for_head:
            return Form.WORN
        return Form.FLAT if len(self.parts) == 1 else Form.HOLLOW

    @property
    def noun(self) -> str:
        """One word for the piece: "hat" for anything worn on a head."""
        return "hat" if self.for_head else self.name

    @property
    def asked(self) -> frozenset[str]:
        """The settings that this shape needs, among those that only some shapes need."""
        return _asked(self)


@lru_cache(maxsize=64)
def _asked(shape: Shape) -> frozenset[str]:
    lengths = {f"{part.length.value}_mm" for part in shape.parts if isinstance(part.length, Asked)}
    brims = any(part.shaping.flared for part in shape.parts)
    sloping = {"slope_deg"} if brims else set()
    return frozenset(
        lengths | sloping | ({"head_mm", "ease_mm"} if shape.for_head else {"across_mm"})
    )


def _disc(called: str, girths: float = 1.0) -> ShapePart:
    return ShapePart(PartKind.DISC, called, Measure(girths=girths))


def _brim(slope_deg: float) -> ShapePart:
    return ShapePart(PartKind.BRIM, "brim", length=Asked.BRIM, slope_deg=slope_deg)


_TO_DEPTH = ShapePart(PartKind.SIDE, "sides", length=Asked.DEPTH)
BRIMMED_HAT = Shape("brimmed hat", (_disc("crown"), _TO_DEPTH, _brim(20.0)))
SHAPES: tuple[Shape, ...] = (
    BRIMMED_HAT,
    Shape("close cap", (ShapePart(PartKind.DOME, "dome", WHOLE_GIRTH), _TO_DEPTH)),
    Shape(
        "bucket hat",
        (
            _disc("top", 0.75),
            ShapePart(PartKind.TAPER, "sides", WHOLE_GIRTH, Asked.DEPTH),
            _brim(50.0),
        ),
    ),
    Shape(
        "beret",
        (
            _disc("top", 1.5),
            ShapePart(PartKind.TAPER, "underside", WHOLE_GIRTH, slope_deg=180.0),
            ShapePart(PartKind.SIDE, "band", length=Measure(mm=30.0)),
        ),
    ),
    Shape(
        "bowl",
        (
            _disc("base"),
            ShapePart(PartKind.SIDE, "sides", length=Asked.HEIGHT),
        ),
        usual_across_mm=120.0,
    ),
    Shape("mat", (_disc("mat"),), usual_across_mm=200.0),
    Shape("ball", (ShapePart(PartKind.BALL, "ball", WHOLE_GIRTH),), usual_across_mm=80.0),
)
"""Built-in shapes. Their proportions (a bucket top three quarters as wide as the head, a beret half
as wide again, a brim that falls by 50 degrees, the usual widths) are our choice."""


def shape_called(name: str) -> Shape | None:
    """The built-in shape with this name; None if there is none."""
    return next((shape for shape in SHAPES if shape.name == name), None)
