"""Words for each kind of part, one row each; the ring has a row of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from pattern.plan.brim import brim_total
from pattern.plan.crown import by_tape, crown_target
from pattern.plan.next_round import rounds_of
from pattern.plan.piece import Piece, girth_of
from pattern.plan.readings import Reading
from pattern.plan.sides import sides_left
from pattern.session.commands import Kind
from pattern.shape.rounds import Round, Stage
from voice.sentences import misfits, parts
from voice.sentences.amounts import counted, joined, with_unit
from voice.sentences.fitting import brim_lies, fit
from voice.sentences.measured_now import Measured


def _ends(piece: Piece, part: int, _measured: Measured) -> str:
    called = piece.stretches[part].called
    stitches = counted(piece.stitches, "stitch", "stitches")
    around = with_unit(girth_of(piece, piece.stitches).mean, piece.settings, 8)
    return f"{stitches}: the {_verb(called, 'ends', 'end')} here, about {around} around."


def _crown_ends(piece: Piece, part: int, measured: Measured) -> str:
    if piece.stretches[part + 1].shaping.tapers:
        return _ends(piece, part, measured)
    across_mm = measured.get(Kind.ACROSS)
    return parts.crown_ends(piece, piece.stitches, piece.finished, across_mm)


def _sides_end(piece: Piece, part: int, measured: Measured) -> str:
    stretch = piece.stretches[part]
    are = _verb(stretch.called, "is", "are")
    deep = parts.depth_so_far(piece, measured.get(Kind.DEPTH))
    if stretch.end_depth_mm is None:
        deep = "high enough"
    return f"the {are} {deep}."


def _verb(called: str, one: str, many: str) -> str:
    """A part with its verb: "the brim ends", "the sides end"."""
    return f"{called} {many if called.endswith('s') else one}"


def _comes(piece: Piece, offered: Round) -> str:
    stretch = piece.stretches[offered.part]
    way = "wider" if stretch.end_girth_mm > girth_of(piece, piece.stitches).mean else "narrower"
    to = with_unit(stretch.end_girth_mm, piece.settings, 8)
    return f"now the {stretch.called}, {way} to {to} around: about {_rounds(piece, offered)}."


def _sides_come(piece: Piece, offered: Round) -> str:
    stretch = piece.stretches[offered.part]
    if stretch.end_depth_mm is None:
        return f"now the {stretch.called}, straight on: about {_rounds(piece, offered)}."
    deep = with_unit(stretch.end_depth_mm, piece.settings, 8)
    they = "they are" if stretch.called.endswith("s") else "it is"
    return f"now the {stretch.called}, until {they} {deep} from the centre."


def _rounds(piece: Piece, offered: Round) -> str:
    return counted(rounds_of(piece, offered.part, piece.finished), "round")


def _more_rounds(_reading: Reading, piece: Piece) -> str:
    left = rounds_of(piece, piece.index, piece.finished)
    return f"About {counted(left, 'more round')} of the {piece.stretch.called}."


def _of_crown(reading: Reading, piece: Piece) -> str:
    if by_tape(piece):
        return _more_rounds(reading, piece)
    end = counted(crown_target(piece), "stitch", "stitches")
    return f"The {piece.stretch.called} should end at {end}."


def _of_sides(reading: Reading, piece: Piece) -> str:
    if reading.kind in {Kind.AROUND, Kind.ALONG}:
        return fit(piece)
    left = max(round(sides_left(piece).mean), 0)
    more = f"About {counted(left, 'more round')} of {piece.stretch.called}."
    return more if left else "That is deep enough."


def _of_brim(_reading: Reading, piece: Piece) -> str:
    left = max(brim_total(piece) - piece.brim_rounds, 0)
    return f"{counted(left, 'more round')} of brim." if left else "That is wide enough."


@dataclass(frozen=True, slots=True)
class PartWords:
    """The words for a kind of part."""

    here: str
    """Commands that make sense in it, named after one that does not."""
    looks: str = "be even"
    """How its edge should lie, after "it should"."""
    cups: str = "cups"
    """The way an edge with too few stitches lies, after "it"."""
    why: str = "to learn your gauge"
    """Why its edge is measured."""
    slips_later: bool = False
    """A slip is made up for over some rounds, and not in the next one."""
    ends: Callable[[Piece, int, Measured], str] = _ends
    """Why it ends, before the part that follows it, with what was just measured."""
    comes: Callable[[Piece, Round], str] = _comes
    """Words on the coming part, where it begins with the offered round."""
    meaning: Callable[[Reading, Piece], str] = _more_rounds
    """The meaning of a reading of it."""
    will_lie: Callable[[Piece, Round], str] = lambda _piece, _offered: ""
    """How it is going to lie with the offered round, where that is not as it should."""


PART_WORDS: dict[Stage, PartWords] = {
    Stage.RING: PartWords("The ring comes first; say next when it is worked.", looks="lie flat"),
    Stage.CROWN: PartWords(
        "In the crown I take across, around, a count, or how it lies.",
        looks="lie flat",
        ends=_crown_ends,
        meaning=_of_crown,
    ),
    Stage.DOME: PartWords("In the dome I take around, depth, or how many stitches."),
    Stage.SIDES: PartWords(
        "On the sides I take around, depth, or how many stitches.",
        looks="hang straight",
        why="to see that it fits",
        ends=_sides_end,
        comes=_sides_come,
        meaning=_of_sides,
    ),
    Stage.TAPER: PartWords("Here I take around, depth, or how many stitches."),
    Stage.BRIM: PartWords(
        "On the brim I take its width, around, a count, or how it lies.",
        looks="fall evenly",
        cups="droops",
        slips_later=True,
        comes=lambda piece, _offered: parts.brim_begins(piece),
        meaning=_of_brim,
        will_lie=brim_lies,
    ),
    Stage.BALL: PartWords("On the ball I take around, depth, or how many stitches."),
}


def begins(piece: Piece, offered: Round, measured: Measured) -> str:
    """The part that ended and the one that begins; the first part begins without words."""
    part = offered.part
    if part == 0 or piece.rounds_in(part):
        return ""
    return joined(
        PART_WORDS[piece.stretches[part - 1].stage].ends(piece, part - 1, measured),
        misfits.ended(piece, part - 1),
        PART_WORDS[piece.stretches[part].stage].comes(piece, offered),
    )
