"""A piece that is tried on and sits well, in plain words. Common usage, no source."""

from __future__ import annotations

import re

from pattern.plan.trying_on import sits_now
from pattern.session import commands as c
from pattern.session.commands import Fit, Kind
from pattern.session.state import State
from voice.words.free.matched import Match

_IT = (
    r"(?:it|that|this|the hat|the (?:piece|cap|beret|bucket|brim|band|sides|edge)|my hat|she|they)"
)
_LED = r"(?:(?:yes|yeah|yep|oh|ooh|ah|well|so|and|hm|okay|right|now|there|lovely|great|good) )*"
_VERY = (
    r"(?:(?:really|very|quite|just|so|pretty|rather|nice and|absolutely|actually|all|about|ever so"
    r"|a) )*"
)
_SITS = r"(?:sits?|is sitting|fits?|is fitting|feels?|is feeling|falls?|is falling|goes on|went on)"
_WELL = (
    r"(?:nice|nicely|well|good|great|fine|lovely|perfect|perfectly|beautiful|beautifully|right"
    r"|comfortable|comfortably|comfy|snugly|as it should|like a glove|brilliantly|a treat)"
)
_FIT = r"(?:good|great|perfect|nice|lovely|comfortable|comfy|snug)(?: \w+)? fit"
_SNUG = (
    r"snug (?:and |but )?(?:just right|right|comfortable|comfy|perfect|not (?:too )?tight|nice"
    r"|good|lovely)|(?:just right|perfect|comfortable|comfy)(?: and)? (?:quite )?snug"
    r"|nice and snug|(?:nicely|comfortably|perfectly) snug|snug as (?:it|can) \w+"
)
_ON = (
    r"(?: (?:and )?(?:on|around|over|to) (?:my|her|his|the|their|our) (?:\w+ )?head"
    r"| on (?:me|her|him|them)| now| there| here| already| i think| thanks| thank you| dear| love"
    r"| everywhere| all (?:around|round))*"
)
_RIGHT = (
    rf"{_LED}(?:(?:{_IT} )?{_SITS}(?: on)? {_VERY}{_WELL}"
    rf"|(?:{_IT} is )?{_VERY}(?:{_FIT}|{_SNUG})"
    rf"|(?:{_IT} )?(?:sits|fits|is sitting|is)(?: \w+)? on (?:my|her|his|the) head {_VERY}{_WELL}"
    rf"|{_IT} is {_VERY}(?:comfortable|comfy|just as it should be))"
    rf"{_ON}"
)
_ASKED = frozenset({Kind.FIT, Kind.PINCH, Kind.WORN})


def sits_well(words: str, state: State) -> Match | None:
    """That it fits, or that the brim falls well; None for any other words.

    At once where it was asked for, or the tape was and the piece can be tried on.
    """
    if state.offered is None and state.want is None:
        return None
    if not re.fullmatch(_RIGHT, words):
        return None
    brim = state.piece.brim_rounds > 0
    kind = state.want.kind if state.want is not None else None
    asked = kind in _ASKED or (kind is Kind.AROUND and sits_now(state.piece))
    return Match(c.TriedOn(Fit.FALLS if brim else Fit.RIGHT), asks=not asked)
