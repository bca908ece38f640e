"""The slots of phrases: rules for recognisers, and how the words are read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pattern.trade.lengths import BALL_UNITS, WEIGHT_UNITS, Amount, Unit
from voice.words import grammar, number_rules, spoken_numbers

TOPICS: dict[str, str] = {
    "measuring": "measuring",
    "counting": "counting",
    "ripping back": "ripping back",
    "looking": "looking",
    "speaking": "speaking",
    "changing": "changing",
    "setting up": "setting up",
    "yarn": "yarn",
    "resting": "resting",
    "shapes": "shapes",
    "notes": "notes",
    "a lost place": "a lost place",
    "a swatch": "a swatch",
    "tension": "tension",
    "sizes": "sizes",
    "finishing": "finishing",
    "trims": "trims",
    "decorating": "decorating",
    "trying on": "trying on",
    "touch": "touch",
    "a hook": "tension",
    "the tape": "measuring",
    "ripples": "looking",
}
"""Words that may follow "help with ...", and the topic they mean."""


def _in(units: frozenset[Unit | None]) -> Callable[[str], Amount | None]:
    def read_in(words: str) -> Amount | None:
        amount = spoken_numbers.read_amount(words)
        return amount if amount is not None and amount.unit in units else None

    return read_in


SLOTS: dict[str, Callable[[str], Any]] = {
    "length": spoken_numbers.read_amount,
    "integer": spoken_numbers.read_integer,
    "few": spoken_numbers.read_integer,
    "number": spoken_numbers.read_number,
    "weight": _in(frozenset({None, *WEIGHT_UNITS})),
    "grams": _in(frozenset(WEIGHT_UNITS)),
    "ball_length": _in(frozenset(BALL_UNITS)),
    "topic": TOPICS.get,
    "note_words": str,
}
"""How what fills a slot is read; nothing when it does not fit."""
USUAL_NOTES: tuple[str, ...] = (
    "[joined] [a | the] (second | third | new | last) ball [here]",
    "another dye lot here",
    "a knot in the yarn here",
    "weave in [an] end here",
    "new color here",
    "new stripe here",
    "marker moved here",
    "[a] mistake here",
    "[an] increase (missed | too many) here",
    "ripped back to here",
    "count checked here",
    "worked (tighter | looser) here",
    "it looks good here",
    "it (ripples | cups) here",
    "tried it on [and] it (fits | is too tight | is too loose | is too deep | is too short)",
    "stopped here for today",
    "my hands were tired here",
    "next time (a smaller hook | a larger hook | deeper | less deep | a wider brim"
    " | a narrower brim | another yarn)",
    "a gift",
    "washed before it was worn",
)
"""Notes that recognisers know; typed, or heard as free text, a note may be any words."""

RULES: dict[str, grammar.Node] = number_rules.RULES | {
    "topic": grammar.parse(" | ".join(TOPICS)),
    "note_words": grammar.parse(" | ".join(USUAL_NOTES)),
}
"""Rules that forms refer to, for recognisers."""
