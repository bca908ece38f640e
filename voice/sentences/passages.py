"""Words where one part ends and the next begins: clauses, and sentences for "tell me more"."""

from __future__ import annotations

from pattern.plan.brim import brim_total
from pattern.plan.next_round import rounds_of
from pattern.plan.piece import Piece, girth_of
from pattern.session.commands import Kind
from pattern.shape.rounds import Round
from voice.sentences import parts
from voice.sentences.amounts import counted, joined, with_unit
from voice.sentences.measured_now import Measured


def ended(piece: Piece, part: int, _measured: Measured) -> str:
    """That a part ends."""
    return f"the {_verb(piece.stretches[part].called, 'ends', 'end')} here"


def of_end(piece: Piece, _part: int, _measured: Measured) -> str:
    """Its stitches and how far around it is."""
    stitches = counted(piece.stitches, "stitch", "stitches")
    around = with_unit(girth_of(piece, piece.stitches).mean, piece.settings, 8)
    return joined(f"{stitches}, about {around} around.")


def crown_ended(piece: Piece, part: int, measured: Measured) -> str:
    """That a crown is wide enough, or how much it lacks."""
    if piece.stretches[part + 1].shaping.tapers:
        return ended(piece, part, measured)
    return parts.crown_ended(piece, piece.stitches)


def of_crown_end(piece: Piece, part: int, measured: Measured) -> str:
    """Why its increases stop, by the tape."""
    if piece.stretches[part + 1].shaping.tapers:
        return of_end(piece, part, measured)
    across_mm = measured.get(Kind.ACROSS)
    return parts.crown_across(piece, piece.stitches, piece.finished, across_mm)


def sides_ended(piece: Piece, part: int, measured: Measured) -> str:
    """How deep sides are."""
    stretch = piece.stretches[part]
    are = _verb(stretch.called, "is", "are")
    deep = parts.depth_so_far(piece, measured.get(Kind.DEPTH))
    if stretch.end_depth_mm is None:
        deep = "high enough"
    return f"the {are} {deep}"


def _verb(called: str, one: str, many: str) -> str:
    """A part with its verb: "the brim ends", "the sides end"."""
    return f"{called} {many if called.endswith('s') else one}"


def comes(piece: Piece, offered: Round) -> str:
    """The coming part and its rounds."""
    rounds = counted(rounds_of(piece, offered.part, piece.finished), "round")
    return f"now the {piece.stretches[offered.part].called}, about {rounds}"


def of_coming(piece: Piece, offered: Round) -> str:
    """How it changes."""
    stretch = piece.stretches[offered.part]
    way = "wider" if stretch.end_girth_mm > girth_of(piece, piece.stitches).mean else "narrower"
    to = with_unit(stretch.end_girth_mm, piece.settings, 8)
    return f"The {_verb(stretch.called, 'gets', 'get')} {way}, to {to} around."


def sides_come(piece: Piece, offered: Round) -> str:
    """Coming sides and how deep they get."""
    stretch = piece.stretches[offered.part]
    if stretch.end_depth_mm is None:
        return comes(piece, offered)
    deep = with_unit(stretch.end_depth_mm, piece.settings, 8)
    return f"now the {stretch.called}, to {deep} deep"


def of_coming_sides(piece: Piece, offered: Round) -> str:
    """How they are measured."""
    stretch = piece.stretches[offered.part]
    they = _verb(stretch.called, "goes", "go")
    measured = "; that is measured from the centre, down along the cloth"
    return f"The {they} straight on{measured if stretch.end_depth_mm is not None else ''}."


def brim_comes(piece: Piece, _offered: Round) -> str:
    """The coming brim and its rounds."""
    return f"now the brim, {counted(brim_total(piece), 'round')}"


def of_coming_brim(piece: Piece, _offered: Round) -> str:
    """How wide it gets."""
    return f"The brim is to be {with_unit(piece.settings.brim, piece.settings, 8)} wide."
