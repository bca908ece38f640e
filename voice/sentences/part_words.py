"""Words for each kind of part, one row each; the ring has a row of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from pattern.plan.brim import brim_total
from pattern.plan.crown import by_tape, crown_target
from pattern.plan.next_round import rounds_of
from pattern.plan.piece import Piece
from pattern.plan.readings import Reading
from pattern.plan.sides import sides_left
from pattern.session.commands import Kind
from pattern.shape.rounds import Round, Stage
from voice.sentences import misfits, passages
from voice.sentences.amounts import counted, joined
from voice.sentences.fitting import brim_lies, fit
from voice.sentences.measured_now import Measured


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
    return f"{counted(left, 'more round')}." if left else "That is wide enough."


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
    ended: Callable[[Piece, int, Measured], str] = passages.ended
    """That it ends, as a clause, with what was just measured."""
    of_end: Callable[[Piece, int, Measured], str] = passages.of_end
    """Why it ends, for "tell me more"."""
    comes: Callable[[Piece, Round], str] = passages.comes
    """The coming part, where it begins with the offered round, as a clause."""
    of_coming: Callable[[Piece, Round], str] = passages.of_coming
    """More on it, for "tell me more"."""
    meaning: Callable[[Reading, Piece], str] = _more_rounds
    """The meaning of a reading of it."""
    will_lie: Callable[[Piece, Round], str] = lambda _piece, _offered: ""
    """How it is going to lie with the offered round, where that is not as it should."""


PART_WORDS: dict[Stage, PartWords] = {
    Stage.RING: PartWords("The ring comes first; say next when it is worked.", looks="lie flat"),
    Stage.CROWN: PartWords(
        "In the crown I take across, around, a count, or how it lies.",
        looks="lie flat",
        ended=passages.crown_ended,
        of_end=passages.of_crown_end,
        meaning=_of_crown,
    ),
    Stage.DOME: PartWords("In the dome I take around, depth, or how many stitches."),
    Stage.SIDES: PartWords(
        "On the sides I take around, depth, or how many stitches.",
        looks="hang straight",
        why="to see that it fits",
        ended=passages.sides_ended,
        of_end=lambda _piece, _part, _measured: "",
        comes=passages.sides_come,
        of_coming=passages.of_coming_sides,
        meaning=_of_sides,
    ),
    Stage.TAPER: PartWords("Here I take around, depth, or how many stitches."),
    Stage.BRIM: PartWords(
        "On the brim I take its width, around, a count, or how it lies.",
        looks="fall evenly",
        cups="droops",
        slips_later=True,
        comes=passages.brim_comes,
        of_coming=passages.of_coming_brim,
        meaning=_of_brim,
        will_lie=brim_lies,
    ),
    Stage.BALL: PartWords("On the ball I take around, depth, or how many stitches."),
}


def comes(piece: Piece, offered: Round) -> str:
    """The part that begins, as a clause; the first part begins without words."""
    part = offered.part
    return PART_WORDS[piece.stretches[part].stage].comes(piece, offered) if part else ""


def begins(piece: Piece, offered: Round, measured: Measured) -> str:
    """The part that begins and the one that ended, in one sentence."""
    if _goes_on(piece, offered):
        return ""
    last = offered.part - 1
    ended = PART_WORDS[piece.stretches[last].stage].ended(piece, last, measured)
    ended = misfits.ended(piece, last).removesuffix(".") or ended
    return joined(f"{comes(piece, offered)}: {ended}.")


def details(piece: Piece, offered: Round, measured: Measured) -> str:
    """More on both, for "tell me more"."""
    if _goes_on(piece, offered):
        return ""
    last = offered.part - 1
    return joined(
        PART_WORDS[piece.stretches[last].stage].of_end(piece, last, measured),
        PART_WORDS[piece.stretches[offered.part].stage].of_coming(piece, offered),
    )


def _goes_on(piece: Piece, offered: Round) -> bool:
    return offered.part == 0 or bool(piece.rounds_in(offered.part))
