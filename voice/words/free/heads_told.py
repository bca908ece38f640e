"""Grown heads told by an adjective, as "big head, mine". Words: common usage, no source."""

from __future__ import annotations

import re

from pattern.trade import names

_SIZES = {
    "extra large": r"(?:very|really|so|extra|particularly|unusually|extremely) (?:big|large)"
    r"|huge|massive|enormous|gigantic|giant|biggest",
    "large": r"big|bigger|biggish|large|larger|largish",
    "small": r"small|smaller|smallish|little|littler|tiny|petite|dainty",
    "medium": r"medium|average|normal|ordinary|standard|regular|middling|middle sized?",
}
ADJECTIVES = "|".join(_SIZES.values())
"""Those of a head."""
_OF_OTHERS = r"\b(?:he|hes|she|shes|they|theyre|his|her|hers|their)\b"
_OWN = r"\b(?:mine|me|my|myself|i)\b"
_SIDE = (
    rf"(?:(?:it|that|he|she|mine|my head|head) (?:is )?)?(?:(?:a (?:bit|little)|rather|quite) )?"
    rf"(?:on the (?:{ADJECTIVES}) side|(?:{ADJECTIVES}) than (?:most|average|usual|normal))"
)
"""Of a size and of nothing else."""
_NONE = r"^(?:how|what|which|is|are|do|does|can|should|where)\b|\b(?:hat|brim|fit|too|yarn|hook)\b"
_NOT = rf"\b(?:not|never|no) (?:\w+ ){{0,2}}(?:{ADJECTIVES})\b"


def grown_head_in(words: str) -> float | None:
    """The head in mm that plain words of one's own head tell by its size; None for any others."""
    own = re.search(_OWN, words) or re.fullmatch(_SIDE, words)
    if re.search(_OF_OTHERS, words):
        return None
    if not own or re.search(_NONE, words) or re.search(_NOT, words):
        return None
    found = [size for size, forms in _SIZES.items() if re.search(rf"\b(?:{forms})\b", words)]
    return names.head_size_in(found[0]) if found else None
