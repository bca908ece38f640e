"""Whether plain words ask how a stitch is made. Common usage, no source."""

from __future__ import annotations

import re

_ASKS = (
    r"(?:(?:so|and|sorry|wait|please|can you|could you|but) )*"
    r"(?:what is|what does|how (?:do|does|can|should|would) (?:i|you|one|we)"
    r"|(?:show|tell|remind|teach|explain to) me (?:how to|how i|how you|how)|explain"
    r"|how (?:is|are)|what are)"
)
_MAKE = r"(?: (?:do|make|made|work|worked|crochet|it|a|an|the|to|i|you|how))*"
_STITCH = (
    r"(?: (?:single|double|half double|half treble|treble|triple|my|this|one|plain|basic))+"
    r"(?: (?:crochet|crochets|stitch|stitches))+"
)
_LAST = r"(?: (?:again|then|please|properly|mean|work|made|exactly|in (?:us|uk) terms))*"


def asks_for_stitch(words: str) -> bool:
    """Whether words as a whole ask how a stitch is made, and not how many there are."""
    return re.fullmatch(f"{_ASKS}{_MAKE}{_STITCH}{_LAST}", words) is not None
