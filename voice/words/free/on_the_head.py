"""A hat that is too loose or too tight, or ends too high or too low, on the head that it is
tried on, in plain words. Common usage, no source.
"""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.commands import Fit
from pattern.session.state import State
from pattern.trade.lengths import TAPE_UNITS
from voice.words.free.amounts import MASK, amounts, masked

_TRIED = (
    r"(?:i (?:have )?(?:just )?(?:tried|put|had) it on(?: again| now| (?:my|his|her) head)?"
    r"|on (?:my|his|her|the) head|on (?:me|him|her)|when i (?:try|put) it on|trying it on)"
)
_LED = (
    rf"(?:(?:{_TRIED}|and|but|it|that|this|the hat|my hat|the sides|they|is|are|was|feels|felt"
    r"|looks|seems|still|well|oh|hm|hmm|i think|a|bit|little|touch|tad|much|far|way|just|rather"
    r"|quite|about|by) )*"
)
_FEELS = r"(?:feels|looks|seems|sits|comes up|is) (?:a (?:bit|little|touch|tad|shade)|rather|quite)"
_ON = r"(?: (?:on|for|still|i think|now|here|me|him|her|them|my|his|head|the|yet))*"
_SHORT, _DEEP = r"(?:short|shallow|high up)", r"(?:deep|long|low|low down|far down)"
_LOOSE, _TIGHT = r"(?:loose|big|wide|roomy|slack)", r"(?:tight|small|narrow)"
_NOT_ENOUGH = (
    r"(?:i do )?not (?:(?:quite|really|nearly|think (?:it|that|they|the sides) (?:is|are)) )*"
)
_LACKING = {
    **dict.fromkeys(("deep", "long"), Fit.SHORT),
    **dict.fromkeys(("big", "loose", "wide", "roomy"), Fit.TIGHT),
    **dict.fromkeys(("tight", "snug", "small"), Fit.LOOSE),
}
"""Of which there is not enough."""
_AROUND = (
    r" (?:on|at|around|round|all round|over|across|about) (?:(?:my|the|his|her|their) )?"
    r"(?:head|forehead|brow|brows|temples|ears)(?: still| now| i think)*"
)
_BELOW = (
    r"(?:comes|goes|sits|hangs|falls|drops|reaches|is)(?: right| all the way)?(?: down)?"
    r" (?:over|past|below|under|beneath) (?:(?:my|the|his|her|their) )?(?:eyebrows|brows|brow)"
)


_EARS = r"(?:the |my |his |her |their )?(?:tops? of (?:the |my |his |her |their )?)?ears"
_BARELY = (
    rf"(?:(?:barely|only just|hardly|scarcely|just about|almost|nearly)"
    rf" (?:covers|covering|reaches|reaching|over|touches) {_EARS}"
    rf"|(?:comes|goes|reaches|covers|is)? ?(?:about )?half(?:way| way)?"
    rf" (?:down|over|of|across|to) {_EARS}){_ON}"
)


def on_the_head(words: str, state: State) -> c.TriedOn | None:
    """How it sits on a head that it is tried on, where the edge ends, or by how much it is off."""
    if state.piece.brim_rounds or not state.settings.shape.for_head:
        return None
    for way, fit in (
        (rf"(?:far|much|way) too {_LOOSE}", Fit.SLIDES),
        (rf"(?:too )?{_LOOSE}", Fit.LOOSE),
        (rf"(?:too )?{_TIGHT}", Fit.TIGHT),
    ):
        if re.fullmatch(rf"{_LED}{way}{_AROUND}", words):
            return c.TriedOn(fit, None)
    if re.fullmatch(rf"{_LED}{_BARELY}", words):
        return c.TriedOn(Fit.ON_EARS, None)
    if re.fullmatch(rf"{_LED}{_BELOW}", words):
        return c.TriedOn(Fit.BELOW, None)
    if re.fullmatch(rf"{_LED}{_FEELS} {_SHORT}{_ON}", words):
        return c.TriedOn(Fit.SHORT, None)
    lacks = re.fullmatch(rf"{_LED}{_NOT_ENOUGH}(\w+) enough{_ON}", words)
    if lacks is not None and (lacking := _LACKING.get(lacks[1])) is not None:
        return c.TriedOn(lacking, None)
    found = [amount for amount in amounts(words) if amount.unit in {None, *TAPE_UNITS}]
    if len(found) > 1:
        return None
    by = found[0] if found else None
    much = rf"(?: by {MASK}{_ON})?" if found else ""
    for way, fit, fit_by in (
        (_SHORT, Fit.SHORT, Fit.SHORT_BY),
        (_DEEP, Fit.BELOW, Fit.DEEP_BY),
    ):
        forms = (rf"{_LED}too {way}{_ON}{much}", rf"{_LED}{MASK} too {way}{_ON}")
        if any(re.fullmatch(form, masked(words)) for form in forms):
            return c.TriedOn(fit, None) if by is None else c.TriedOn(fit_by, by)
    return None
