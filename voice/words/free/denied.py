"""Wordings that deny a fault or a step, doubt it or only suppose it: nothing of it is done.

Common usage, no source.
"""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.commands import Fit, Look

_NOT = r"(?:not|never|no longer|(?:ai|is|was|does|do|did|have|has|had|wo|would|should|must)nt)"
_BETWEEN = (
    r"(?:(?:really|at all|even|quite|much|that|so|very|any|more|longer|yet|want|need|have"
    r"|going|mean|like|think|feel|say|to|it|that|they|the (?:hat|edge|crown|brim)|is|was|are|been"
    r"|be|get|getting|feeling|looking|a (?:bit|little)|just|actually|anything) )*"
)
_FAULT = (
    r"(?:too (?:tight|loose|small|big|wide|narrow|short|shallow|deep|long|low|high|snug|large)"
    r"|tight|loose|cup(?:s|ping|ped)?|rippl\w+|wav(?:es|y|ing|e)|ruffl\w+|frill\w*|curl\w*|bowl\w*"
    r"|slid(?:e|es|ing)(?: down| off)?|slip(?:s|ping)?(?: down| off)?|leav(?:e|es|ing) a mark)"
)
_STEP = (
    r"(?:rip|ripped|ripping|frog|frogged|frogging|tink|tinked|unravel|unravelled|undo|undone|undid"
    r"|done|finished|through|finish|stop|end|measured|counted|tried|pull|pulled"
    r"|(?:start|begin|do|started|begun|make) (?:the |with the )?(?:brim|sides|band))"
    r"(?: (?:back|out|it|that|this|them|anything|any|the|a|one|two|three|four|five|last|rows?"
    r"|rounds?|of|with|on|here|yet|now))*"
)
_LED = (
    r"(?:(?:so|and|but|no|oh|well|hm|wait|please|now|actually|it|that|this|they|i|we"
    r"|the (?:hat|edge|crown|brim|sides)|(?:the|this) (?:round|one)|my hat|is|was|are|am|do|does"
    r"|did|has|have|will|would|could|should|lets|let us) )*"
)
_END = (
    r"(?: (?:at all|any ?more|any longer|now|yet|here|i think|to me|on (?:me|him|her)|though"
    r"|(?:(?:but|and|so) )?(?:it is |that is |they are )?(?:just |quite |all )*"
    r"(?:fine|okay|ok|good|perfect|right|lovely)))*"
)
_DENIES = re.compile(
    rf"{_LED}{_NOT} {_BETWEEN}(?:{_FAULT}|{_STEP}){_END}|(?:(?:no|oh|well) )*not (?:just )?yet"
)
_ASKS = re.compile(
    r"(?:is|was|are|am|do|does|did|has|have|will|would|could|should) not"
    r" (?:it|this|that|they|these|i|we|you|the|my)\b"
)


def denies(words: str) -> bool:
    """Whether plain words as a whole deny that something is wrong, or was or is to be done.

    A question ("is it not too tight") denies nothing, nor does what lacks ("not deep enough").
    """
    return _DENIES.fullmatch(words) is not None and _ASKS.match(words) is None


_BUT = r"(?:(?:so|and|but|oh|well|wait|hm) )*"
_MEANING = re.compile(rf"{_BUT}what (?:is (?:a|an)|are|does)\b")
_SUPPOSES = re.compile(rf"{_BUT}(?:what (?:if|happens if|would happen if)|suppose|supposing)\b")
_UNSURE = re.compile(
    rf"\b{_NOT} (?:\w+ )?(?:sure|certain)\b|\b(?:do not|dont) know (?:if|whether)\b"
)
_STEPS = (c.Next, c.RippedBack, c.StartSides, c.StartBrim, c.StartNext, c.Another)
"""Nobody tells these by what is not so; what is not wanted any more may end the work."""
_DONE = (*_STEPS, c.Sets, c.Undo, c.FinishNow, c.Enough)
_SEEN = (c.TriedOn, c.ByHand, c.Lies, c.Adjust, c.Change, c.Choose)
_SITS = frozenset(
    {
        *(Fit.RIGHT, Fit.SNUG, Fit.DEEP, Fit.ON_EARS, Fit.OVER_EARS, Fit.AT_BROW),
        *(Fit.ABOVE, Fit.BELOW, Fit.WIDE, Fit.HIDES, Fit.FALLS),
    }
)


_TOO = (
    (r"tight|small|narrow|snug", frozenset({Fit.TIGHT, Fit.NOT_ON, Fit.TIGHT_BY, Fit.SNUG})),
    (r"loose|big|wide|large", frozenset({Fit.LOOSE, Fit.SLIDES, Fit.LOOSE_BY})),
    (r"short|shallow|high", frozenset({Fit.SHORT, Fit.HIGH, Fit.SHORT_BY})),
    (r"deep|long|low", frozenset({Fit.BELOW, Fit.DEEP_BY})),
)
"""Of which there is said not to be too much, and the words of a fit that would say so."""


_NOT_UNDONE = rf"\b{_NOT} (?:quite |yet |really |even )?(?:done|finished|ready|undo)\b"
_RIPS = (
    r"\b(?:rip\w*|frog\w*|tink\w*|back|out|un\w+|pull\w*|t(?:ake|ook|aken)|lost|off|start\w*|again"
    r"|round \w+|over|fewer|less|only|short|ahead|too (?:many|far)|redo\w*|remove\w*|delete\w*"
    r"|beginning|scratch|up|down|apart|away|restart\w*|zero|loos\w*)\b"
)
"""Without one of them nobody tells of rounds that are ripped back."""


def contradicts(words: str, command: c.Command) -> bool:
    """Whether a command would do what plain words deny, doubt, suppose, or ask the meaning of."""
    if isinstance(command, c.Undo) and re.search(_NOT_UNDONE, words):
        return re.search(r"\bback\b", words) is None
    if isinstance(command, c.RippedBack) and not re.search(_RIPS, words):
        return True
    if _MEANING.match(words):
        return isinstance(command, c.Change | c.Choose | c.Adjust)
    if _SUPPOSES.match(words) or _UNSURE.search(words):
        return isinstance(command, _DONE + _SEEN)
    if not re.search(rf"\b{_NOT}\b", words):
        return False
    fit = command.fit if isinstance(command, c.TriedOn) else None
    sits = fit in _SITS or any(
        fit in fits and re.search(rf"\b{_NOT} {_BETWEEN}too (?:{much})\b", words)
        for much, fits in _TOO
    )
    flat = isinstance(command, c.Lies) and command.look is Look.FLAT
    return sits or flat or isinstance(command, _STEPS)
