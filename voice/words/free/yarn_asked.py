"""Questions for the yarn in what is worked, and in what is left. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.shape.rounds import Stage
from voice.words.free.said import Said

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


def yarn_asked(said: Said) -> c.Command:
    """Asks for the yarn: that which is needed, or where no round is left that which was."""
    ended = said.state.stage in {Stage.FINISHING, Stage.DONE}
    return c.Ask(c.Asked.YARN_USED if ended else c.Asked.YARN)
