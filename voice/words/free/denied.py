"""Wordings that deny a fault or a step: nothing of it is done. Common usage, no source."""

from __future__ import annotations

import re

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
    r"|pull|pulled|(?:start|begin|do|started|begun|make) (?:the |with the )?(?:brim|sides|band))"
    r"(?: (?:back|out|it|that|this|them|anything|any|the|a|one|two|three|four|five|\d+|last|rows?"
    r"|rounds?|of|yet|now))*"
)
_LED = (
    r"(?:(?:so|and|but|no|oh|well|hm|wait|please|now|actually|it|that|this|they|i|we"
    r"|the (?:hat|edge|crown|brim|sides)|my hat|is|was|are|am|do|does|did|has|have|will|would|could"
    r"|should|lets|let us) )*"
)
_END = r"(?: (?:at all|any ?more|any longer|now|yet|here|i think|to me|on (?:me|him|her)|though))*"
_DENIES = re.compile(rf"{_LED}{_NOT} {_BETWEEN}(?:{_FAULT}|{_STEP}){_END}")
_ASKS = re.compile(
    r"(?:is|was|are|am|do|does|did|has|have|will|would|could|should) not"
    r" (?:it|this|that|they|these|i|we|you|the|my)\b"
)


def denies(words: str) -> bool:
    """Whether plain words as a whole deny that something is wrong, or was or is to be done.

    A question ("is it not too tight") denies nothing, nor does what lacks ("not deep enough").
    """
    return _DENIES.fullmatch(words) is not None and _ASKS.match(words) is None
