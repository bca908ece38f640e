"""The questions of the interview: few are asked, the others wait until they are asked for."""

from __future__ import annotations

from collections.abc import Collection

from pattern.shape.settings import Settings

BEGIN = "begin"
"""The last question: begin with the usual for the rest, or change something."""
FIRST: tuple[str, ...] = ("head_mm", "unit", "across_mm", "yarn", "hook_mm")
"""Questions that are always asked, in order; the unit only where no length has told it."""
QUESTIONS: tuple[str, ...] = (
    *FIRST,
    "terms",
    "stitch",
    "start",
    "ease_mm",
    "depth_mm",
    "height_mm",
    "brim_mm",
    "slope_deg",
    "joined",
)
"""All questions, in order. Without an answer the shape is a brimmed hat."""
OF_SHAPES = frozenset(
    {"head_mm", "across_mm", "ease_mm", "depth_mm", "height_mm", "brim_mm", "slope_deg"}
)
"""Questions that only some shapes need."""
FIXED_BY_RING = frozenset({"shape", "start", "stitch", "joined"})
"""Answers that cannot be changed once the ring is worked."""


def questions(settings: Settings) -> tuple[str, ...]:
    """All questions that make sense with these answers, in order."""
    return tuple(key for key in QUESTIONS if _asked(key, settings))


def open_question(settings: Settings, answered: Collection[str]) -> str | None:
    """The question that is open; the last one is whether to begin, unless all are asked."""
    left = [key for key in questions(settings) if key not in answered]
    if BEGIN in answered:
        return next(iter(left), None)
    return next((key for key in left if key in FIRST), BEGIN if left else None)


def _asked(key: str, settings: Settings) -> bool:
    """Whether a question makes sense; there is no slope without a brim."""
    if key == "slope_deg" and settings.brim_mm == 0:
        return False
    return key not in OF_SHAPES or key in settings.shape.asked
