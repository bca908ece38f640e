"""Where one part of a shape ends and the next begins: why, and what comes now."""

from __future__ import annotations

import math

from pattern.plan.brim import brim_total
from pattern.plan.crown import crown_target
from pattern.plan.next_round import rounds_of
from pattern.plan.piece import Piece, depth_at, girth_of
from pattern.shape.rounds import Round, Stage
from voice.sentences import misfits
from voice.sentences.amounts import about, about_with_unit, counted, joined, with_unit
from voice.words.spoken_numbers import say_integer

NEAR_MM = 3.0
"""A crown that measures within this of girth over pi is said to be just that; our choice."""


def begins(piece: Piece, offered: Round) -> str:
    """What ended and what begins with the offered round; the first part begins without words."""
    part = offered.part
    if part == 0 or piece.rounds_in(part):
        return ""
    return joined(_ended(piece, part - 1), misfits.ended(piece, part - 1), _comes(piece, offered))


def _ended(piece: Piece, part: int) -> str:
    stretch, narrowing = piece.stretches[part], piece.stretches[part + 1].stage is Stage.TAPER
    if stretch.stage is Stage.CROWN and not narrowing:
        return crown_ends(piece, piece.stitches, piece.finished)
    if stretch.stage is Stage.SIDES:
        if stretch.end_depth_mm is None:
            return f"the {_verb(stretch.called, 'is', 'are')} high enough."
        return f"the {_verb(stretch.called, 'is', 'are')} {depth_so_far(piece)}."
    stitches = counted(piece.stitches, "stitch", "stitches")
    around = about_with_unit(girth_of(piece, piece.stitches).mean, piece.settings)
    ends = _verb(stretch.called, "ends", "end")
    return f"{stitches}: the {ends} here, about {around} around."


def _verb(called: str, one: str, many: str) -> str:
    """A part with its verb: "the brim ends", "the sides end"."""
    return f"{called} {many if called.endswith('s') else one}"


def _comes(piece: Piece, offered: Round) -> str:
    stretch = piece.stretches[offered.part]
    if stretch.stage is Stage.BRIM:
        return brim_begins(piece)
    if stretch.stage is Stage.SIDES and stretch.end_depth_mm is not None:
        deep = with_unit(stretch.end_depth_mm, piece.settings, 8)
        they = "they are" if stretch.called.endswith("s") else "it is"
        return f"now the {stretch.called}, until {they} {deep} from the centre."
    rounds = counted(rounds_of(piece, offered.part, piece.finished), "round")
    if stretch.stage is Stage.SIDES:
        return f"now the {stretch.called}, straight on: about {rounds}."
    way = "wider" if stretch.end_girth_mm > girth_of(piece, piece.stitches).mean else "narrower"
    to = with_unit(stretch.end_girth_mm, piece.settings, 8)
    return f"now the {stretch.called}, {way} to {to} around: about {rounds}."


def crown_ends(piece: Piece, stitches: int, rounds: float) -> str:
    """Why increasing stops here, by the stitches and by the tape."""
    settings, called = piece.settings, piece.stretches[0].called
    across = piece.gauge.of((0.0, 2.0 * rounds, 2.0)).mean
    opened = girth_of(piece, stitches).mean / math.pi
    short = crown_target(piece) - stitches
    if short > piece.settings.increases // 2:
        around = about_with_unit(girth_of(piece, stitches).mean, settings)
        needs = "the head needs" if settings.shape.for_head else "you want"
        return joined(
            f"{counted(stitches, 'stitch', 'stitches')}, {say_integer(short)} fewer than "
            f"{needs}: it will be about {around} around."
        )
    seen = f"it measures about {about(across, settings)} across"
    if across < opened - NEAR_MM:
        why = f", and that is right: it opens to {about(opened, settings)}."
    elif across > opened + NEAR_MM:
        why = f"; the sides draw it in to {about(opened, settings)}."
    else:
        why = ", its distance around divided by pi."
    return joined(
        f"{counted(stitches, 'stitch', 'stitches')}: the {called} is wide enough.", seen + why
    )


def brim_begins(piece: Piece) -> str:
    """What the brim is going to be."""
    rounds = counted(brim_total(piece), "round")
    return f"Now the brim: {rounds}, {with_unit(piece.settings.brim, piece.settings, 8)} wide."


def one_more_row(piece: Piece) -> str:
    """What another round of brim would do."""
    width, height = piece.high(piece.brim_rounds) * piece.gauge.height_mm, piece.gauge.height_mm
    settings = piece.settings
    wider = with_unit(width + height, settings, 8)
    return joined(
        f"the brim is about {with_unit(width, settings, 8)}.",
        f"One more row would make it {wider}; say so before you fasten off.",
    )


def depth_so_far(piece: Piece) -> str:
    """The depth as it is believed."""
    depth = depth_at(piece, piece.finished - piece.brim_rounds).mean
    return f"about {with_unit(depth, piece.settings, 8)} deep"
