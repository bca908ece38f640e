"""Shapes by the names that makers use."""

from __future__ import annotations

import re

from pattern.shape.catalogue import SHAPES

_OTHER_NAMES: dict[str, str] = {
    "sun hat": "brimmed hat",
    "sunhat": "brimmed hat",
    "hat with a brim": "brimmed hat",
    "summer hat": "brimmed hat",
    "garden hat": "brimmed hat",
    "gardening hat": "brimmed hat",
    "wide brimmed hat": "brimmed hat",
    "beanie": "close cap",
    "skull cap": "close cap",
    "skullcap": "close cap",
    "bobble hat": "close cap",
    "pompom hat": "close cap",
    "pom pom hat": "close cap",
    "woolly hat": "close cap",
    "winter hat": "close cap",
    "cap": "close cap",
    "bucket": "bucket hat",
    "tam": "beret",
    "slouchy hat": "beret",
    "basket": "bowl",
    "pot": "bowl",
    "coaster": "mat",
    "place mat": "mat",
    "doily": "mat",
    "rug": "mat",
}
"""Common practice, no source. A bobble is sewn to a close cap afterwards."""
SHAPE_NAMES: dict[str, str] = {shape.name: shape.name for shape in SHAPES} | _OTHER_NAMES
"""Every name, and the shape that comes along under it."""
_OF_YARN = re.compile(
    r"\b(?:(?:grams?|grammes?|ounces?|one|two|three|half an?|whole|single|last|second|new|spare|per"
    r"|each|every|yarn|wool|cotton) balls?\b|balls\b|ball (?:of|weighs?|holds?|has|contains|band)\b"
    r"|(?:met(?:re|er)s?|yards?|grams?|ounces?) (?:(?:to|in) )?(?:an?|the) ball\b)"
)
"""A ball that is no shape. Common usage, no source."""

_DENIED = re.compile(
    rf"\b(?:not|never|no|dont|without)(?: (?:want|like|making|make|a|an|the|any|to|be|it|is))*"
    rf" (?:{'|'.join(sorted(SHAPE_NAMES, key=len, reverse=True))})\b"
)


def shape_in(words: str) -> str | None:
    """The shape that plain words name; None where they name none, or several, or deny it."""
    left, found = _DENIED.sub(" ", _OF_YARN.sub(" ", words)), set()
    for name in sorted(SHAPE_NAMES, key=len, reverse=True):
        if re.search(rf"\b{name}\b", left):
            found.add(SHAPE_NAMES[name])
            left = re.sub(rf"\b{name}\b", " ", left)
    return found.pop() if len(found) == 1 else None
