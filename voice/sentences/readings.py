"""Readings: how one is asked for, read back, and what it means for the hat."""

from __future__ import annotations

from pattern.plan.piece import Piece
from pattern.plan.readings import Reading, Want
from pattern.plan.sides import correction
from pattern.session.commands import Kind, Look
from pattern.session.state import State
from pattern.shape.settings import Settings
from voice.sentences import fits
from voice.sentences.amounts import counted, joined, length, with_unit
from voice.sentences.fitting import fit
from voice.sentences.part_words import PART_WORDS
from voice.words.spoken_numbers import say_integer

_ASKED: dict[Kind, tuple[str, str]] = {
    Kind.ACROSS: ("Measure across the {called}, at its widest, to learn your gauge.", "Across?"),
    Kind.CORNERS: ("Measure from corner to corner, to learn your gauge.", "Across corners?"),
    Kind.AROUND: ("Measure around the edge, {why}.", "Around?"),
    Kind.ALONG: ("Measure {stitches} along the edge, to learn your gauge.", "{stitches}?"),
    Kind.DEPTH: ("Measure from the centre down along the cloth, to know the end.", "Depth?"),
    Kind.BRIM: ("Measure the width of the brim, to know the end.", "Brim width?"),
    Kind.LOOK: ("How does it lie: flat, rippling, or cupping?", "Flat, rippling, cupping?"),
}
"""The thing to measure and why, in a few words; and the same in brief."""
_TO_SIDE = (
    "Measure from a corner to the middle of the side across from it, to learn your gauge.",
    "Corner to side?",
)
"""The same of a crown with an odd number of corners."""

_AROUND = frozenset({Kind.AROUND, Kind.ALONG})
PLACES: dict[Kind, str] = {
    Kind.ACROSS: "across",
    Kind.CORNERS: "across the corners",
    Kind.AROUND: "around",
    Kind.DEPTH: "deep",
    Kind.BRIM: "of brim",
}
"""The thing that a length measures, in words that follow it."""


def asked(want: Want, piece: Piece, *, brief: bool, before: bool = False) -> str:
    """The request for a reading; shorter where some were asked for `before` in the same part."""
    if want.kind in fits.ASKED:
        return fits.asked(want, brief=brief, before=before)
    to_side = want.kind is Kind.CORNERS and piece.settings.corner_to_side
    full, short = _TO_SIDE if to_side else _ASKED[want.kind]
    stitches = counted(want.stitches or 0, "stitch", "stitches")
    why, words = PART_WORDS[piece.stage].why, short if brief else full
    return joined(words.format(stitches=stitches, why=why, called=piece.stretch.called))


def taken_back(before: State) -> str:
    """The thing that is taken back: a length by its name, so that no other is meant."""
    last = before.last
    if not isinstance(last, Reading) or not last.by_tape or last.kind not in PLACES:
        return "Taken back."
    told = length(last.value_mm, before.settings)
    return joined(f"{told} {PLACES[last.kind]}: taken back.")


_OR_GO_ON: dict[Kind, str] = {
    Kind.ACROSS: "measure across",
    Kind.CORNERS: "measure from corner to corner",
    Kind.AROUND: "measure around the edge",
    Kind.ALONG: "measure {stitches} along the edge",
    Kind.DEPTH: "measure down from the centre",
    Kind.BRIM: "measure the width of the brim",
    Kind.LOOK: "say how it lies",
    Kind.FIT: "try it on and say how it fits",
    Kind.PINCH: "say how far a fold stands out",
    Kind.EDGE: "try it on and say where it ends",
    Kind.WORN: "try it on and say how the brim falls",
}
"""Requests as clauses, before what goes on without them."""


def asked_shortly(want: Want) -> str:
    """The request for a reading as a clause."""
    return _OR_GO_ON[want.kind].format(stitches=counted(want.stitches or 0, "stitch", "stitches"))


def place(reading: Reading, settings: Settings, *, named: bool = False) -> str:
    """The reading in words, "six and a half across"; with its unit where that is `named`."""
    if reading.fit is not None:
        return fits.said(reading.fit)
    said = (with_unit if named else length)(reading.value_mm, settings)
    if reading.kind is Kind.ALONG:
        return f"{counted(reading.stitches, 'stitch', 'stitches')} in {said}"
    if reading.kind is Kind.CORNERS and settings.corner_to_side:
        return f"{said} from corner to side"
    return f"{said} {PLACES[reading.kind]}"


_AT_END = {
    Look.RIPPLES: "dry it flat and pinned out, or rip back and work fewer increases",
    Look.CUPS: "dry it flat and pinned out, or rip back and work looser",
}
"""Advice after the last round. Common practice, no source."""


def count_taken(count: int, before: State, after: State) -> str:
    """A count read back, and how a slip is mended."""
    slip, said = after.piece.slip, say_integer(count)
    if slip == 0:
        return joined(f"{said}, that is right.")
    many = counted(abs(slip), "stitch", "stitches")
    way = f"{many} too many" if slip > 0 else f"{many} short"
    if before.offered is not None and PART_WORDS[before.offered.stage].slips_later:
        return joined(f"{said}, {way}.", "The next rounds take it up.")
    if after.piece.sides_known and not correction(after.piece):
        return joined(f"{said}, {way}.", "Leave it: it fits.")
    return joined(f"{said}, {way}.", "The next round mends it: leave it as it is.")


def taken(reading: Reading, state: State) -> str:
    """A reading read back, and what it means; `state` is the one after it."""
    said = joined(f"{place(reading, state.settings)}.")
    if state.brief:
        return said
    if reading.fit is not None:
        return joined(said, fits.meaning(reading, state))
    if state.offered is None and not state.piece.shaping.flared:
        fits_so = state.piece.shaping.straight and reading.kind in _AROUND
        return joined(said, fit(state.piece, ended=True) if fits_so else "")
    return joined(said, PART_WORDS[state.piece.stage].meaning(reading, state.piece))


def look_taken(look: Look, state: State) -> str:
    """Advice on the way the edge lies."""
    if look is Look.FLAT:
        return "Flat, good."
    way = "ripples" if look is Look.RIPPLES else PART_WORDS[state.piece.stage].cups
    if state.offered is None:
        return f"It {way}: {_AT_END[look]}."
    if look is Look.RIPPLES:
        after = "after this round, " if state.sets else ""
        return f"It {way}: {after}one round without increases lets it settle."
    if state.sets:
        return f"It {way}: the round after this one has more increases."
    more = state.offered.sets > state.piece.settings.increases or state.piece.shaping.flared
    return f"It {way}: the next round has {'more' if more else 'the last'} increases."
