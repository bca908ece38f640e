"""Readings: how one is asked for, read back, and what it means for the hat."""

from __future__ import annotations

from pattern.plan.brim import brim_stitches, brim_total
from pattern.plan.crown import by_tape, crown_target
from pattern.plan.next_round import rounds_of
from pattern.plan.piece import Piece, girth_of
from pattern.plan.readings import Reading, Want
from pattern.plan.sides import FITS_MM, WORTH_MM, correction, sides_left
from pattern.session.commands import Kind, Look
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage
from pattern.shape.settings import Settings
from voice.sentences.amounts import about_with_unit, counted, joined, length, with_unit
from voice.words.spoken_numbers import say_integer

_ASKED: dict[Kind, tuple[str, str]] = {
    Kind.ACROSS: ("Measure across the {called}, at its widest, to learn your stitch.", "Across?"),
    Kind.CORNERS: ("Measure from corner to corner, to learn your stitch.", "Across corners?"),
    Kind.AROUND: ("Measure around the edge, {why}.", "Around?"),
    Kind.ALONG: ("Measure {stitches} along the edge, to learn your stitch.", "{stitches}?"),
    Kind.DEPTH: ("Measure from the centre down along the cloth, to know the end.", "Depth?"),
    Kind.BRIM: ("Measure the width of the brim, to know the end.", "Brim width?"),
    Kind.LOOK: ("How does it lie: flat, rippling, or cupping?", "Flat, rippling, cupping?"),
}
"""What to measure and why in a few words; and the same in brief."""
_TO_SIDE = (
    "Measure from a corner to the middle of the side across from it, to learn your stitch.",
    "Corner to side?",
)
"""The same of a crown with an odd number of corners."""

PLACES: dict[Kind, str] = {
    Kind.ACROSS: "across",
    Kind.CORNERS: "across the corners",
    Kind.AROUND: "around",
    Kind.DEPTH: "deep",
    Kind.BRIM: "of brim",
}
"""What a length measures, in words that follow it."""

TOLD_MM = 3.0
"""Sides no further off than this are said to fit and no more: about half of what a tape shows, a
quarter of an inch or half a centimetre. Our choice."""
RIPPLE, DROOP = 1.07, 0.93
"""Fullness of a brim above which its edge is wavy, and below which it pulls down. Common practice,
one worker's test: flat within about 7 %."""


_WHY = {Stage.SIDES: "to see that it fits"}
"""Why the edge is measured, by stage; in the crown it is the stitch that is to be learned."""


def asked(want: Want, piece: Piece, brief: bool) -> str:
    """The request for a reading."""
    to_side = want.kind is Kind.CORNERS and piece.settings.corner_to_side
    full, short = _TO_SIDE if to_side else _ASKED[want.kind]
    stitches = counted(want.stitches or 0, "stitch", "stitches")
    why = _WHY.get(piece.stage, "to learn your stitch")
    words = short if brief else full
    return joined(words.format(stitches=stitches, why=why, called=piece.stretch.called))


def place(reading: Reading, settings: Settings, *, named: bool = False) -> str:
    """The reading in words, "six and a half across"; with its unit where that is `named`."""
    said = (with_unit if named else length)(reading.value_mm, settings)
    if reading.kind is Kind.ALONG:
        return f"{counted(reading.stitches, 'stitch', 'stitches')} in {said}"
    if reading.kind is Kind.CORNERS and settings.corner_to_side:
        return f"{said} from corner to side"
    return f"{said} {PLACES[reading.kind]}"


def count_taken(count: int, before: State, after: State) -> str:
    """A count read back, and how a slip is mended."""
    slip, said = after.piece.slip, say_integer(count)
    if slip == 0:
        return joined(f"{said}, that is right.")
    many = counted(abs(slip), "stitch", "stitches")
    way = f"{many} too many" if slip > 0 else f"{many} short"
    if before.stage is Stage.BRIM:
        return joined(f"{said} counted: {way}.", "The next rounds take it up.")
    if after.piece.sides_known:
        return joined(f"{said} counted: {way}.", fit(after.piece))
    mend = f"{say_integer(abs(slip))} {'fewer' if slip > 0 else 'more'}"
    return joined(
        f"{said} counted: {way}.", f"The next round makes {mend}, so nothing is ripped back."
    )


def taken(reading: Reading, state: State) -> str:
    """A reading read back, and what it means; `state` is the one after it."""
    said = joined(f"{place(reading, state.settings)}.")
    if state.brief:
        return said
    return joined(said, _meaning(reading, state.piece))


def _meaning(reading: Reading, piece: Piece) -> str:
    if piece.stage is Stage.SIDES and reading.kind in {Kind.AROUND, Kind.ALONG}:
        return fit(piece)
    if piece.stage is Stage.SIDES:
        left = max(round(sides_left(piece).mean), 0)
        called = piece.stretch.called
        more = f"About {counted(left, 'more round')} of {called}."
        return more if left else "That is deep enough."
    if piece.stage is Stage.BRIM:
        left = max(brim_total(piece) - piece.brim_rounds, 0)
        return f"{counted(left, 'more round')} of brim." if left else "That is wide enough."
    if piece.stage is not Stage.CROWN or by_tape(piece):
        left = rounds_of(piece, piece.index, piece.finished)
        return f"About {counted(left, 'more round')} of the {piece.stretch.called}."
    end = counted(crown_target(piece), "stitch", "stitches")
    return f"The {piece.stretch.called} should end at {end}."


def fit(piece: Piece) -> str:
    """How the sides fit, and what the correction does; what is too little for one is told."""
    off = girth_of(piece, piece.stitches).mean - piece.settings.girth_mm
    change, way = correction(piece), "over" if off > 0 else "under"
    if not change and abs(off) <= TOLD_MM:
        return "That fits."
    told = f"{about_with_unit(abs(off), piece.settings)} {way}"
    if change and abs(off) < 2 * WORTH_MM:  # roughly, it would be no more than what is left alone
        told = f"{with_unit(abs(off), piece.settings, 8)} {way}"
    if not change:
        return joined(f"{told}: that fits." if abs(off) <= FITS_MM else f"{told}.")
    does = f"take out {say_integer(-change)}" if change < 0 else f"add {say_integer(change)}"
    return joined(f"{told}.", f"The next round will {does}, evenly.")


def look_taken(look: Look, state: State) -> str:
    """What is done about the way the edge lies."""
    brim = state.piece.stage is Stage.BRIM
    if look is Look.FLAT:
        return "Flat, good."
    if look is Look.RIPPLES:
        return "It ripples: a round without increases lets it settle."
    return (
        "It droops: the next round has more increases."
        if brim
        else ("It cups: the next round has more increases.")
    )


def brim_lies(piece: Piece, offered: Round) -> str:
    """Whether the brim is going to ripple or droop with the offered round; nothing when neither.

    A round of increases serves two rounds, so a round's growth either way is as it should be.
    """
    rounds = piece.brim_rounds
    if offered.after > RIPPLE * brim_stitches(piece, rounds + 2):
        return "It will ripple a little."
    return "It will droop a little." if offered.after < DROOP * brim_stitches(piece, rounds) else ""
