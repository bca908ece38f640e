"""Questions how the piece lies, or should: they tell nothing of it. Common usage, no source."""

from __future__ import annotations

import re

_LED = r"(?:(?:so|and|but|now|well|hm|hmm|oh|sorry|wait|please|tell me) )*"
_THING = r"(?:it|this|that|they|these|those|we|i|(?:the|my|this|that) (?:\w+ ){0,2}\w+)"
_AUX = r"(?:is|are|am|was|does|do|did|should|shall|must|will|would|ought|has|have|can|could|might)"
_ASKS = (
    rf"(?:{_AUX}(?: not)? {_THING}\b"
    r"|(?:do|would|did) (?:you|we) (?:think|say|reckon|believe|call)\b"
    r"|how (?:can|do|will|would|could|should) (?:i|we|you) (?:tell|know|see|check|judge)\b"
    r"|how (?:very )?(?:flat|wavy|curly|ruffled|cupped|level|even)\b"
    r"|is (?:a (?:bit|little) (?:of )?|some |so much |this much )\w+)"
)
_LIES = (
    r"(?:flat|flatter|flatten(?:s|ed|ing)?|flat enough|level|wavy|wavey|waves?|waving|ripples?"
    r"|rippl(?:y|ing|ed)|ruffl(?:es?|ed|ing|y)|frill(?:y|s|ed|ing)?|curl(?:s|y|ed|ing)?"
    r"|cup(?:s|ped|ping)?|bowl(?:s|ed|ing)?|domed?|doming|buckl(?:es?|ed|ing)|pucker(?:s|ed|ing|y)?)"
)
_OTHERWISE = (
    r"\b(?:fix|mend|stop|make|get|keep|prevent|avoid|cure|undo|count|measure|tape|block|iron|steam"
    r"|wash|pin|brim|loops?|stitch|fell|felt|sides?|why|still|not|never)\b"
    r"|\b(?:curl|curling|cup|cupping|bowl|dome)(?: \w+)? (?:yet|by now|now)\b"
)
"""Another question than whether it may lie so: how it is mended, or when it turns down."""
_MOST_WORDS = 14
"""Longer texts tell more than they ask; our choice."""


def asks_how_it_lies(words: str) -> bool:
    """Whether plain words ask whether it lies as it should."""
    if len(words.split()) > _MOST_WORDS or re.search(_OTHERWISE, words):
        return False
    asks = re.match(rf"{_LED}{_ASKS}", words)
    rest = words[asks.start() :] if asks else ""
    return re.search(rf"\b{_LIES}\b", rest) is not None
