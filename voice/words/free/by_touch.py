"""Readings by touch in any words: a string cut to the head, lengths in fingers. Common usage."""

from __future__ import annotations

import re

from pattern.plan.readings import Want
from pattern.session import commands as c
from pattern.session.commands import Fit, Kind, OwnUnit
from pattern.session.decisions import decide
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.reading_kinds import TAPE
from pattern.trade.lengths import Amount
from voice.words.free.amounts import MASK, amounts, masked
from voice.words.free.hand_widths import OWN, Masked, one_amount
from voice.words.free.matched import Match

_ASKS = (
    r"(?:so |and |but |well )?(?:is|are|will|would|why|should|shall|does|do|did|what|how|when|can"
    r"|could|which|where|must|tell|show)\b"
)
_NOT = r"\b(?:not|never|nobody|no longer)\b"
_Q = rf"(?:{OWN}|{MASK})"
_STRING = r"\b(?:strings?|thread|threads)\b"
_MORE = r"(?:too (?:long|much)|longer|over|left(?: over)?|to spare|spare|extra|more than enough)"
_LESS = r"(?:too short|short|shorter|shy|missing|lacking|apart|not enough)"
_TOO_LONG = (
    rf"{_STRING}.*\b{_Q} {_MORE}\b",
    rf"{_STRING}.*\b(?:laps?|overlaps?|crosses|goes|runs|sticks|hangs|comes)\b.*\bby {_Q}",
    rf"{_STRING}.*\b(?:laps?|overlaps?|crosses|goes|runs|sticks|hangs) (?:over |out )?{_Q}",
    rf"\b(?:ends?|it) (?:laps? over|overlaps?|lap|crosses over)(?: each other)?(?: by)? {_Q}",
    rf"\b{_Q} of (?:the |my )?(?:string|thread)\b.* {_MORE}\b",
    rf"\b{_Q} (?:of )?overlap\b|\boverlap of {_Q}",
    rf"{_STRING}.*\b{_Q} (?:past|beyond|over) (?:the |its )?\w+",
)
_TOO_SHORT = (
    rf"{_STRING}.*\b{_Q} {_LESS}\b",
    rf"{_STRING}.*\b(?:lacks?|wants?|misses|needs?)(?: another)? {_Q}",
    rf"{_STRING}.*\b(?:gap|space) of {_Q}|\b(?:gap|space) of {_Q}.*(?:{_STRING}|\bends\b)",
    rf"{_STRING}.*\b{_Q} (?:of a )?gap\b|\b{_Q} (?:of a )?gap\b.*(?:{_STRING}|\bends\b)",
    rf"(?:{_STRING}|\bends\b).*\bmeets?\b.*\bby {_Q}",
    rf"\bends\b.*\b{_Q} apart\b",
    rf"{_STRING}.*\b{_Q} (?:from|off) (?:meeting|the)\b",
)
_SHORT_OF_KNOT = rf"\b{_Q} (?:short of|before|from) (?:the |my |its )?(?P<knot>\w+ )?knot\b"
_PAST_KNOT = rf"\b{_Q} (?:past|beyond|over) (?:the |my |its )?(?P<knot>\w+ )?knot\b"
_FOLDS = {"half": 2.0, "middle": 2.0, "halfway": 2.0, "quarter": 4.0}
"""Times that the edge is folded where it is laid to the knot of that name."""
_MEETS = (
    rf"{_STRING} (?:is |goes |comes |fits |meets |reaches |just |exactly |it |all )*"
    r"(?:meets|fits|(?:just|exactly|spot on|dead on|right|perfectly) ?(?:round|around|right)?"
    r"|round exactly|around exactly|end to end)"
    r"(?: (?:exactly|perfectly|nicely|just|round|around|right|now|the edge|end to end|on))*"
)


_OWN_WIDTH = (
    r"(?:and |so )?my (?:own )?(?:index |middle |first |fore)?(?P<own>finger|thumb|hand)s?"
    rf"(?: is| measures| comes to)?(?: about| just)? {MASK}(?: wide| across| broad| thick)?"
)


def by_touch(words: str, state: State) -> Match | None:
    """The meaning of plain words that tell what was felt; None for any others.

    A reading is asked about first, unless it changes nothing here, or is refused.
    """
    if re.match(_ASKS, words) or state.doubt is not None:
        return None
    if (own := re.fullmatch(_OWN_WIDTH, masked(words))) and len(lengths := amounts(words)) == 1:
        return Match(c.OwnWidth(OwnUnit(own["own"]), lengths[0]))
    if (command := reading(words, state)) is None:
        return None
    try:
        asks = bool(decide(state, command))
    except Refused:
        asks = False
    return Match(command, asks)


def reading(words: str, state: State) -> c.StringOff | c.ByHand | c.TriedOn | None:
    """The reading in plain words; None where they tell none."""
    found = one_amount(words)
    if found.amount is None:
        exact = re.fullmatch(rf"(?:my |the |and |so |now |well )*{_MEETS}", words)
        plain = exact and not re.search(_NOT, words)
        return c.StringOff(Amount(0.0), too_long=True, unit=OwnUnit.FINGER) if plain else None
    return _string(found) or _by_hand(found, state)


def _string(found: Masked) -> c.StringOff | None:
    """The string against the edge; a bare knot is the end of the head's length."""
    words, amount = found.words, found.amount
    assert amount is not None
    laid = re.search(_STRING, words) is not None
    for pattern, edge_less in ((_SHORT_OF_KNOT, True), (_PAST_KNOT, False)):
        if at := re.search(pattern, words):
            times = _FOLDS.get((at["knot"] or "").strip(), 1.0)
            folded = Amount(amount.value * times, amount.step * times, amount.unit)
            return c.StringOff(folded, edge_less != laid, found.unit)
    text = f"{words} {words}" if laid else words  # the string may be named last
    short = any(re.search(pattern, text) for pattern in _TOO_SHORT)
    if short or any(re.search(pattern, text) for pattern in _TOO_LONG):
        return c.StringOff(amount, not short, found.unit)
    return None


_ON_HEAD: tuple[tuple[str, Kind, Fit], ...] = (
    (rf"\b{OWN} too (?:tight|small|narrow)\b", Kind.FIT, Fit.TIGHT_BY),
    (rf"\btoo (?:tight|small|narrow) by {OWN}", Kind.FIT, Fit.TIGHT_BY),
    (rf"\b{OWN} too (?:loose|big|wide|roomy)\b", Kind.FIT, Fit.LOOSE_BY),
    (rf"\btoo (?:loose|big|wide|roomy) by {OWN}", Kind.FIT, Fit.LOOSE_BY),
    (rf"\b{OWN} too (?:deep|long|low)\b", Kind.EDGE, Fit.DEEP_BY),
    (rf"\btoo (?:deep|long|low) by {OWN}", Kind.EDGE, Fit.DEEP_BY),
    (rf"\b{OWN} too (?:short|high|shallow)\b", Kind.EDGE, Fit.SHORT_BY),
    (rf"\btoo (?:short|high|shallow) by {OWN}", Kind.EDGE, Fit.SHORT_BY),
    (rf"\b(?:wants|needs|lacks)(?: another| still| about)? {OWN}\b", Kind.EDGE, Fit.SHORT_BY),
    (rf"\b{OWN} (?:more|deeper|lower|still to go|to go)\b", Kind.EDGE, Fit.SHORT_BY),
    (rf"\bpinch(?: up| out| about)? {OWN}\b", Kind.FIT, Fit.PINCH),
)
_UNDER = rf"\b{OWN} (?:fits? |goes? |go |slips? )?(?:under|inside|beneath|between)\b"
_LENGTHS: tuple[tuple[str, Kind], ...] = (
    (rf"\b{OWN} (?:deep|in depth|down)\b|\bdepth (?:is |of )*{OWN}", Kind.DEPTH),
    (rf"\bbrim\b.*\b{OWN}\b|\b{OWN} of (?:the )?brim\b", Kind.BRIM),
    (rf"\b{OWN} (?:around|round|all (?:a)?round)\b", Kind.AROUND),
    (
        rf"\b{OWN} (?:across|wide|broad|over|in (?:width|diameter)"
        rf"|from (?:edge|side) to (?:edge|side))\b",
        Kind.ACROSS,
    ),
)
_BARE = rf"(?:(?:it|that|this) is |about |just |only |exactly |i make it |comes to )*{OWN}"


def _by_hand(found: Masked, state: State) -> c.ByHand | c.TriedOn | c.StringOff | None:
    """A length in widths of the hand, or a word of trying on told so."""
    words, amount, unit = found.words, found.amount, found.unit
    if amount is None or unit is None:
        return None
    if unit is OwnUnit.FINGER and re.search(_UNDER, words):
        return c.TriedOn(Fit.FINGERS, amount)
    around = state.want is not None and state.want.kind is Kind.AROUND
    for way, too_long in (("long", True), ("short", False)):
        if around and re.fullmatch(rf"(?:it is |about |just )*{OWN} too {way}", words):
            return c.StringOff(amount, too_long, unit)
    for pattern, kind, fit in _ON_HEAD:
        if re.search(pattern, words):
            return c.ByHand(kind, amount, unit, fit)
    for pattern, kind in _LENGTHS:
        if re.search(pattern, words):
            wide = kind is Kind.ACROSS and state.piece.brim_rounds > 0
            return c.ByHand(Kind.BRIM if wide else kind, amount, unit)
    return _wanted(words, amount, unit, state.want)


def _wanted(words: str, amount: Amount, unit: OwnUnit, want: Want | None) -> c.ByHand | None:
    """A bare amount is the reading that is wanted."""
    if want is None or want.kind not in TAPE - {Kind.ALONG} or not re.fullmatch(_BARE, words):
        return None
    return c.ByHand(want.kind, amount, unit)
