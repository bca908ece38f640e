"""Questions for the yarn in what is worked, and in what is left. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Unit
from voice.words.free.amounts import amounts
from voice.words.free.said import Said

_WEIGHTS = frozenset({Unit.GRAM, Unit.OUNCE, Unit.POUND})

_USED = (
    r"(?:so |and )?(?:(?:how (?:much|many)|what)(?: (?:of the )?(?:yarn|wool|cotton|thread|grams?"
    r"|metres?|meters?|yards?|balls?|skeins?))?(?: in (?:total|all))? (?:did|have|has|was|were|went"
    r"|is|are)(?: (?:i|we|it|that|this|the \w+|my \w+|gone|already|all|so|far|been))*"
    r" ?(?:take|taken|took|use|used|used up|use up|get through|got through|gone in|go in|gone into"
    r"|go into|into|need|needed|eat up|eaten)"
    r"(?: (?:up|in|for|to|it|that|this|the \w+|already|now|up to now|so far|by now|until now|here"
    r"|altogether|in total|in all|in (?:wool|yarn)|of (?:wool|yarn)|in the end|making|make))*)"
)


def asks_yarn_used(words: str) -> bool:
    """Whether plain words ask for the yarn in what is worked."""
    return re.fullmatch(_USED, words) is not None


_WILL_LAST = (
    r"\b(?:last|lasts|enough|suffice|get me (?:through|to the end|there)|see me (?:through|out)"
    r"|run out|running out|run short|finish it|make it)\b"
)
_HAVE = r"\b(?:have|got|left|remaining|there (?:is|are)|down to|only)\b|^(?:so |and )?will\b"


def yarn_told_and_asked(words: str, state: State) -> c.Weighed | None:
    """The weight of yarn that is left, told in a question whether it lasts: with it the question is
    answered. None for other words, and before the first stitch.
    """
    if state.stage is Stage.SETUP or not re.search(_WILL_LAST, words):
        return None
    weights = [one for one in amounts(words) if one.unit in _WEIGHTS]
    told = len(weights) == 1 and len(amounts(words)) == 1 and re.search(_HAVE, words)
    return c.Weighed(weights[0]) if told else None


def yarn_asked(said: Said) -> c.Command:
    """Asks for the yarn: that which is needed, or where no round is left that which was."""
    ended = said.state.stage in {Stage.FINISHING, Stage.DONE}
    return c.Ask(c.Asked.YARN_USED if ended else c.Asked.YARN)
