"""Sizes that are told in words, such as "a wide brim". Words: common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.usual import size_mm
from pattern.trade.lengths import Amount
from voice.words.free.amounts import amounts

MOST_WORDS = 16
"""A longer text tells more than one size; our choice."""
_WORDS: dict[str, dict[str, str]] = {
    "brim_mm": {
        "floppy": r"flopp(?:y|ier)|droopy|slouchy|huge|enormous|massive|dramatic"
        r"|really (?:wide|big)",
        "narrow": r"narrow(?:er|ish)?|small(?:er|ish)?|short(?:er|ish)?|thin|tiny|neat|little|slim"
        r"|skinny",
        "wide": r"wid(?:e|er|ish)|broad(?:er)?|big(?:ger|gish)?|large|generous|good sized",
    },
    "depth_mm": {
        "shallow": r"shallow(?:er|ish)?|short(?:er|ish)?|low",
        "deep": r"deep(?:er|ish)?|long(?:er|ish)?|(?:over|down to|covers?|covering) "
        r"(?:my |the |his |her |their )?ears",
    },
    "height_mm": {
        "shallow": r"shallow(?:er|ish)?|low(?:er|ish)?|flat(?:ter)?",
        "deep": r"high(?:er|ish)?|tall(?:er|ish)?|deep(?:er)?",
    },
    "ease_mm": {
        "snug": r"snug(?:ly)?|close(?: fitting)?|tight(?:ish)?|fitted|hugs",
        "loose": r"loose(?:r|ly|ish)?|roomy|baggy|not tight",
    },
}
_NAMED = {
    "brim_mm": r"\bbrim(?:med)?\b|\bfloppy (?:\w+ )?hat\b",
    "depth_mm": r"\b(?:deep|deeper|depth|shallow|shallower|sides|crown|ears)\b",
    "height_mm": r"\b(?:sides|high|tall|low|shallow|deep|bowl|basket)\b",
    "ease_mm": r"\b(?:fit|fits|fitting|fitted|snug|snugly|loose|loosely|roomy|baggy|hugs)\b",
}
"""Words that tell which size is meant, where it is not asked for."""
_OPPOSITE = {
    "narrow": "wide",
    "wide": "narrow",
    "floppy": "wide",
    "shallow": "deep",
    "deep": "shallow",
    "snug": "loose",
    "loose": "snug",
}
_NOT = r"\b(?:not|nothing|no|never|is not|without|hate|less)(?: \w+){0,3}? "
"""Before a word, it makes it the opposite: "not too deep"."""
_ASKS = r"^(?:how|what|which|why|is|are|will|would|should|can|could|do|does|did)\b"


def size_in(words: str, state: State) -> c.Change | None:
    """The size that plain words tell in the interview; None where they tell none."""
    if len(words.split()) > MOST_WORDS or re.search(_ASKS, words) or amounts(words):
        return None
    for key in sorted(_WORDS, key=lambda key: key != state.question):
        named = key == state.question or re.search(_NAMED[key], words)
        other = key != "brim_mm" and re.search(_NAMED["brim_mm"], words)
        if named and not other and (found := _found(key, words, state)) is not None:
            return found
    return None


def _found(key: str, words: str, state: State) -> c.Change | None:
    settings = state.settings
    for word, forms in _WORDS[key].items():
        if re.search(rf"\b(?:{forms})\b", words) is None:
            continue
        denied = re.search(rf"{_NOT}(?:{forms})\b", words) is not None
        mm = size_mm(settings, key, _OPPOSITE[word] if denied else word)
        if mm is not None:
            one_mm = Amount(1.0, unit=settings.unit).mm(settings.unit)
            return c.Change(key, Amount(mm / one_mm, 0.25))
    return None


_WISH = (
    r"^(?:(?:no|but|and|so|well|actually|please) )*(?:i (?:want|would like|need)|make|can|could)\b"
)
_LOWER = (
    r"\b(?:(?:come|go|sit|reach) )?(?:down )?(?:over|past|below|cover) (?:\w+ )?(?:ears|eyebrows)\b"
)


def wished_depth(words: str, state: State) -> c.Change | None:
    """The depth of sides that are wished to cover the ears; None for any other words."""
    if re.search(_WISH, words) is None or re.search(_LOWER, words) is None:
        return None
    mm = size_mm(state.settings, "depth_mm", "deep")
    if mm is None:
        return None
    one_mm = Amount(1.0, unit=state.settings.unit).mm(state.settings.unit)
    return c.Change("depth_mm", Amount(mm / one_mm, 0.25))
