"""Learns the gauge from a reading that was taken, by the tape or by a word."""

from __future__ import annotations

from dataclasses import replace

from pattern.gauge.estimate import DOUBT
from pattern.plan.piece import Piece
from pattern.plan.readings import Reading, believed, deviations, expected, learned, noise_mm, row_of
from pattern.shape.fits import FITS
from pattern.shape.reading_kinds import Kind

SURPRISE, SURPRISED = 1.5, 0.2
"""A reading of the sides further off than so many standard deviations may be misread, or the hands
have changed: so much of what it was off, relative, is added to the spread, and it is measured again
sooner. No source; set while looking at `tests.bench hard`, seeds 1 to 3."""
LIKE_WORDS_MM = 14.0
"""A maker's words are off alike, so that many are not much surer than one, and the last says most.
No source; set while looking at `tests.bench fit`, seeds 1 to 3."""


def learn(piece: Piece, reading: Reading) -> Piece:
    """The piece with what the reading says of its gauge, and of stitches not counted.

    A reading that was insisted on although it was far off says that what was believed is too sure
    of itself: the belief is widened until the reading is two standard deviations off.
    """
    if not reading.tells_gauge:
        return piece
    off, hoped_mm = deviations(piece, reading), expected(piece, reading).mean
    if _told_before(reading, hoped_mm):
        return piece
    off_mm = abs(reading.value_mm - hoped_mm)
    if reading.kind is Kind.FIT:
        return learned(_no_surer(piece, reading, off_mm), reading)
    known = learned(_believing_less(piece, reading, off_mm) if off > DOUBT else piece, reading)
    if piece.shaping.straight and reading.kind is Kind.AROUND and off > SURPRISE:
        drift = SURPRISED * off_mm / max(reading.value_mm, hoped_mm)
        return replace(known, gauge=known.gauge.drifted(drift))
    return known


def _no_surer(piece: Piece, reading: Reading, off_mm: float) -> Piece:
    """The piece before a word: no surer of itself than LIKE_WORDS_MM, nor than the word allows."""
    if deviations(piece, reading) > DOUBT:
        piece = _believing_less(piece, reading, off_mm)
    own = piece.gauge.of(row_of(reading, piece.corners)).sd
    return replace(piece, gauge=piece.gauge.widened(max((LIKE_WORDS_MM / own) ** 2, 1.0)))


def _told_before(reading: Reading, hoped_mm: float) -> bool:
    """Whether it is a word for all that is tighter, or wider, and still more was expected."""
    ends = FITS[reading.fit].ends if reading.fit is not None else 0
    return ends * (hoped_mm - reading.value_mm) > 0


def _believing_less(piece: Piece, reading: Reading, off_mm: float) -> Piece:
    """The piece whose gauge is less sure, until the reading is two standard deviations off.

    What is not known of its stitches stays: more slips than usual are less likely than other hands.
    """
    own, whole = piece.gauge.of(row_of(reading, piece.corners)).sd, believed(piece, reading).sd
    noise = noise_mm(reading.kind, reading.value_mm, reading.step_mm)
    wanted = (off_mm / 2) ** 2 - noise**2 - (whole**2 - own**2)
    return replace(piece, gauge=piece.gauge.widened(max(wanted / own**2, 1.0)))
