"""Changes without a number, such as "a bit deeper". Words: common usage, no source."""

from __future__ import annotations

import re
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from pattern.trade.lengths import TAPE_UNITS, Amount, Unit
from voice.words.free.amounts import MASK, amounts, masked

_BIT: dict[Unit, float] = {Unit.INCH: 0.5, Unit.CM: 1.0, Unit.MM: 10.0}
"""A bit of a hat, in each unit; our choice: more than a round and less than two fingers."""
_WIDER = r"wider|broader|bigger|larger"
_NARROWER = r"narrower|smaller|slimmer"
_DEEPER = r"deeper|longer|further down|lower down"
_SHALLOWER = r"shallower|shorter|less deep|not as deep|not so deep|not as long"
_ANY = rf"(?:{_WIDER}|{_NARROWER}|{_DEEPER}|{_SHALLOWER})"
_LITTLE = (
    r"(?:(?:just )?(?:a )?(?:wee |little |tiny )?"
    r"(?:bit|little|touch|tad|fraction|smidge|smidgen)|slightly|somewhat)"
)
_WANTS = (
    r"\b(?:make|can|could|want|would like|fancy|need|needs|please|let us|let me|shall we|how about"
    r"|have)\b"
)


def vague_change(words: str, state: State) -> c.Adjust | None:
    """The change that plain words want; None where they want none, or tell a number."""
    said = re.search(rf"\b(?:{_LITTLE} )?(?P<way>{_ANY})\b", words)
    begins = re.match(rf"(?:{_LITTLE} )?{_ANY}\b", words)
    if said is None or amounts(words) or not (begins or re.search(_WANTS, words)):
        return None
    if re.match(r"(?:is|are|will|would|why|should|does|do|did|how (?!about))\b", words):
        return None
    way, of_brim = said["way"], re.search(r"\bbrim\b", words) is not None
    wide = re.fullmatch(rf"{_WIDER}|{_NARROWER}", way) is not None
    if wide and not of_brim and re.search(r"\b(?:bigger|larger|smaller)\b", words):
        return None
    less = re.fullmatch(rf"{_NARROWER}|{_SHALLOWER}", way) is not None
    bit = Amount(_BIT.get(state.settings.unit, 10.0), 0.25)
    return c.Adjust("brim_mm" if of_brim or wide else "depth_mm", bit, less)


_ANOTHER = (
    r"(?:(?:i would like|i want|can i have|can we|could we|let us|please|add|put|make it|give me|to"
    r"|have) )*(?:another|an extra|one more|an additional) (?P<unit>centimetre|inch|half inch)"
    r"(?: (?:of|on|onto|to|in|for|more))* (?:the |my )?(?P<part>brim|depth|sides?|body|crown)"
    r"(?: please)?"
)


_BRIM_AGAIN = (
    r"(?:(?:no|but|and|well|actually|please|okay) )*(?:i (?:do )?(?:want|would like|need)"
    r"|can (?:i|we|it) have|let us (?:have|add|make)|give it|add|put|make)"
    r"(?: (?:it|on|with|to|have|a|the|my))* brim"
    r"(?: (?:after all|again|back|on it|on|then|please|now|instead))*"
)


def brim_again(words: str, state: State) -> c.Change | None:
    """The usual brim, where a hat without one is to have it after all; None for other words."""
    settings = state.settings
    if settings.brim or "brim_mm" not in settings.shape.asked:
        return None
    if re.fullmatch(_BRIM_AGAIN, words) is None:
        return None
    one_mm = Amount(1.0, unit=settings.unit).mm(settings.unit)
    return c.Change("brim_mm", Amount(replace(settings, brim_mm=None).brim / one_mm, 0.25))


_DEEP = (
    r"(?:(?:no|actually|please|and|so|well|can you|could you) )*"
    r"(?:(?:(?:i|we) (?:want|would like|need)|make|let us (?:make|have)|have)"
    r" (?:it|the (?:hat|sides)|my hat|them)(?: to be)? (?:about )?"
    rf"(?:{MASK} (?:deep|long|tall|high)|(?:deep|long|tall|high) {MASK})"
    rf"|(?:i (?:want|would like) |make )the sides(?: to be)? {MASK}"
    rf"|(?:i (?:want|would like) |make )(?:a |the )depth(?: of| to be)? {MASK})"
    r"(?: (?:instead|please|then|now|in all|altogether))*"
)


def wanted_depth(words: str, state: State) -> c.Change | None:
    """The depth that plain words wish for, with its number; None for any other."""
    found = amounts(words)
    if len(found) != 1 or found[0].unit not in {None, *TAPE_UNITS}:
        return None
    if "depth_mm" not in state.settings.shape.asked or not re.fullmatch(_DEEP, masked(words)):
        return None
    return c.Change("depth_mm", found[0])


def another_unit(words: str) -> c.Adjust | None:
    """An inch or a centimetre more of the brim or the depth; None for other words."""
    found = re.fullmatch(_ANOTHER, words)
    if found is None:
        return None
    inch = "inch" in found["unit"]
    size = 0.5 if found["unit"].startswith("half") else 1.0
    amount = Amount(size, 0.5, Unit.INCH if inch else Unit.CM)
    return c.Adjust("brim_mm" if found["part"] == "brim" else "depth_mm", amount)


_BY = r"\b(?:add|more|extra|another|less|off|take|further|again|only)\b"
"""Words by which the number is a difference."""
_WISH = r"\b(?:would rather|want|would like|prefer|make|change|let us have|give me|have)\b"


def wanted_size(words: str) -> c.Change | None:
    """The width of brim that plain words wish for, with its number; None for any other."""
    found = amounts(words)
    if len(found) != 1 or not re.search(_WISH, words) or not re.search(r"\bbrim\b", words):
        return None
    if found[0].unit not in {None, *TAPE_UNITS} or re.search(rf"{_ANY}|{_BY}", words):
        return None
    told = re.search(r"\b(?:i have|we have|is|has|measures)\b", words)
    return None if told else c.Change("brim_mm", found[0])


_WIDE = (
    r"(?:a |an |the |with |and |make (?:it |that )?|i (?:want|would like) |to |have |add |please "
    r"|actually |no |wider |wide )*"
)
_BRIM = rf"{_WIDE}{MASK}(?: (?:wide |broad )?brim)(?: please| then| instead| now)*"
_BRIM_OF = (
    rf"{_WIDE}(?:(?:wider|narrower|bigger|smaller) )?brim(?: (?:of|to be|at|with|about))* {MASK}"
    r"(?: wide)?(?: please| then| instead)*"
)

_AT_MOST = r"\b(?:but )?(?:(?:no|not) (?:more|wider|bigger|broader) than|at (?:the )?most|up to)\b"


def brim_of(words: str) -> c.Change | None:
    """The width of brim that is told by its number alone: "a two inch brim"; None for any other."""
    words = re.sub(_AT_MOST, "of", words)
    found = amounts(words)
    if len(found) != 1 or found[0].unit not in {None, *TAPE_UNITS}:
        return None
    without = masked(words)
    told = re.fullmatch(_BRIM, without) or re.fullmatch(_BRIM_OF, without)
    return c.Change("brim_mm", found[0]) if told else None
