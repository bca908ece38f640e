"""Mishaps in plain words, and the way out of each. Common usage, no source."""

from __future__ import annotations

import re
from collections.abc import Callable

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.techniques import Technique
from voice.words.free.matched import Match


def mishap(words: str, state: State) -> Match | None:
    """The way out of the mishap that plain words tell; None for any others."""
    for pattern, build in _MISHAPS:
        if found := re.fullmatch(pattern, words):
            return build(found, state)
    return None


_SAYS_SO = (
    r"(?:(?:oh|sorry|well|so|i|think|believe|fear|am|afraid|that|must|may|might|have|had|just"
    r"|probably|did|maybe|perhaps|it|looks|like|seem|to|accidentally) )*"
)
_LATER = r"(?: (?!how\b)\w+){0,8}"

_MISHAPS: tuple[tuple[str, Callable[[re.Match[str], State], Match | None]], ...] = (
    (
        r"(?:sorry |oh |well )*(?:i )?(?:have |had to |just |have just |have had to |needed to )*"
        r"(?:undo|undid|undone|pull(?:ed)?(?: out| back)?|rip(?:ped)?(?: out| back)?|frog(?:ged)?"
        r"|unravel(?:led|ed)?|t(?:ake|ook|aken) out|unpick(?:ed)?) "
        r"(?:the|that|this|my)(?: (?:whole|last|entire))+ (?:round|row|thing|one)"
        r"(?: sorry| again)*",
        lambda _found, state: Match(c.RippedBack(1), asks=True) if state.piece.finished else None,
    ),
    (
        r"(?:(?:my|the) )?(?:yarn|wool|thread|cotton) ?(?:is |has |just |have )*(?:s |is |has )?"
        r"(?:just )?(?:split|snapped|broke|broken|frayed|come apart|torn|ran out|run out|cut)"
        r"(?: (?:and|come|apart|off|in|two|on|me|there|completely|again|now))*",
        lambda _found, _state: Match(c.Explain(Technique.JOIN_BALL)),
    ),
    (
        r"(?:i )?(?:have |had to |just |have just |have had to |needed to )*"
        r"(?:undo|undid|undone|pull(?:ed)?(?: out| back)?|rip(?:ped)?(?: out| back)?|frog(?:ged)?"
        r"|tink(?:ed)?|t(?:ake|ook|aken) out|unpick(?:ed)?) "
        r"(?:a few|some|a couple of|several|a bunch of|\w+) (?:of )?(?:the |my )?stitches"
        r"(?: \w+){0,4}",
        lambda _found, _state: Match(c.Help("counting")),
    ),
    (
        r"(?:i )?(?:am )?(?:not (?:quite )?sure|unsure|(?:can not|do not) (?:remember|recall|know"
        r"|think)) (?:if|whether|that) i (?:have )?(?:already )?(?:did|done|made|put|put in|worked"
        r"|got|missed|skipped) (?:the|that|an|one|my|every|all)(?: (?:last|the|of|my))*"
        r" (?:increases?|stitch|stitches|one|repeat|set)(?: \w+){0,4}",
        lambda _found, _state: Match(c.Help("counting")),
    ),
    (
        r"(?:i )?(?:am )?(?:not (?:quite )?sure|unsure|(?:can not|do not) (?:remember|recall|know)"
        r"|forgot|have forgotten) (?:if|whether|that) i (?:have )?(?:already )?(?:did|done|finished"
        r"|completed|worked|ended) (?:the|that|this|my)(?: last)? round(?: or not)?",
        lambda _found, _state: Match(c.Help("a lost place")),
    ),
    (
        r"(?:(?:so|and|but|please|can|could|shall|may|should|we|i|you) )*(?:go|start|take me|jump)"
        r" (?:back )?(?:to|from|at) (?:the )?(?:start|beginning) of (?:this|the) round(?: again)?",
        lambda _found, _state: Match(c.Ask(c.Asked.AGAIN)),
    ),
    (
        r"(?:so |and |but )*(?:should|must|shall|do|would) i (?:have to |need to |better )?"
        r"(?:rip|frog|undo|unravel|pull|take)(?: \w+){1,6}",
        lambda _found, _state: Match(c.Explain(Technique.MISTAKE)),
    ),
    (
        rf"{_SAYS_SO}(?:miss|missed|forgot|forgotten|forget|skip|skipped|left out|overlooked)"
        r"(?: (?:out|an|a|one|the|my|two|some|to|do|make|work|put|in|of|last|any|three|few))*"
        rf" (?:increases?|increasing){_LATER}",
        lambda _found, _state: Match(c.Explain(Technique.MISTAKE)),
    ),
    (
        rf"{_SAYS_SO}(?:do|did|made|make|worked|put|put in|added|got)(?: (?:in|an|one|two|a|few))*"
        r" (?:(?:extra|additional) increases?|increases? (?:too many|too much|extra|twice"
        rf"|by mistake|in the wrong|where i should|side by side|next to each|beside each)){_LATER}",
        lambda _found, _state: Match(c.Explain(Technique.MISTAKE)),
    ),
    (
        r"(?:\w+ ){0,10}(?:come|coming|came|gone) undone(?: \w+){0,4}"
        r"|(?:\w+ ){0,6}unravel(?:led|ling|ed|ing)?(?: \w+){0,4}",
        lambda _found, _state: Match(c.Help("counting")),
    ),
)
"""Wordings of mishaps, and what each means."""
