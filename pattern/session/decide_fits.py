"""Decides on what is said of a piece that is tried on, and on what there is to measure with."""

from __future__ import annotations

import math
from dataclasses import replace

from pattern.plan.asking_worn import edge_near
from pattern.plan.next_round import next_round
from pattern.plan.part_ends import target
from pattern.plan.piece import Piece, left_in
from pattern.plan.readings import Reading
from pattern.plan.sides import CORRECT_AT_MOST, band_rounds, correction
from pattern.plan.trying_on import Head, around_reading, sits_now
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decide_edge import edge_seen, sized
from pattern.session.folding import Decided, Turn, Unfolding, unfolding
from pattern.session.next_offer import offered_after, refused, reopened
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.fits import BY_LENGTH, FITS, Fit, Word, by_amount
from pattern.shape.reading_kinds import Kind
from pattern.shape.rounds import Stage
from pattern.trade.lengths import TAPE_UNITS

ROUNDS_TO_SEE = 2.0
"""Rounds after a correction until it shows; our choice."""
ENDS_BRIM = frozenset({Fit.WIDE, Fit.HIDES})
"""Words after which the brim gets no wider."""


def tried_on(state: State, command: c.TriedOn) -> Decided:
    """A reading of the head, where the edge of now sits at it; elsewhere only an answer.

    Raises: Refused for a piece that is not worn, and for a length that cannot be.
    """
    if state.stage is Stage.SETUP:
        raise refused(state, command, Reason.STILL_SETUP)
    if not state.settings.shape.for_head:
        raise refused(state, command, Reason.NOT_OF_SHAPE, key="head_mm")
    word = _word(state, command)
    here = replace(state.means, head=Head.HERE)
    known: Turn = () if here == state.means else (e.MeansKnown(here.tape, here.head),)
    if word.kind is Kind.WORN:
        return _brim(state, command, known)
    if not sits_now(state.piece) or state.step:
        return ()
    if word.kind is Kind.FIT:
        reading = around_reading(state.piece, state.settings, command.fit, word)
        return _around(unfolding(state, *known, e.ReadingTaken(reading)), word)
    return edge_seen(state, command, known, word)


def _to_crown(state: State) -> int:
    """Rounds to rip back into the crown, where too few are left to bring the sides to the head; 0
    for none. The crown's last round comes out with them, or as many as are too wide.
    """
    piece = state.piece
    if not piece.shaping.straight:
        return 0
    wanted = target(piece, piece.index)
    needed = abs(math.log(wanted / piece.stitches)) / math.log(1 + 1 / CORRECT_AT_MOST)
    spare = left_in(piece, piece.index).mean - band_rounds(piece)
    if piece.index != 1 or needed <= 1 or needed + ROUNDS_TO_SEE < spare:
        return 0
    crown = [made.round.after for made in state.rounds_made() if made.round.part == 0]
    wide = sum(after > wanted for after in crown)
    return piece.side_rounds + min(max(wide, 1), len(crown) - 1)


def _around(so_far: Unfolding, word: Word) -> Unfolding:
    """The turn, with what the word says of the rounds, and the next question while it is worn."""
    if word.ends > 0 and not _pinched(so_far.before):
        return offered_after(so_far, rips=False).then(e.ReadingWanted(Kind.PINCH))
    if rounds := _to_crown(so_far.now):
        return offered_after(so_far.then(e.RoundsTakenBack(rounds, ripped=True)))
    ripped = offered_after(so_far)
    if any(isinstance(one, e.RoundsTakenBack) for one in ripped.turn):
        return ripped
    if _ends_off(so_far.now):
        last = e.RoundsTakenBack(1, ripped=True)
        return offered_after(so_far.then(last), rips=False)
    so_far = ripped
    more = _asked_with(so_far.before, so_far.now)
    return so_far.then(e.ReadingWanted(more)) if more else reopened(so_far)


def _ends_off(state: State) -> bool:
    """Whether the sides would end here though a word says that they do not fit; the tape, which is
    surer, leaves more of that to the cloth.
    """
    piece, following = state.piece, next_round(state.piece)
    if not piece.shaping.straight:
        return False
    ends = following is None or following.part != piece.index
    return ends and not state.sets and piece.side_rounds > 1 and correction(piece) != 0


def _pinched(state: State) -> bool:
    """Whether it was just asked how much can be pinched, and left out."""
    return state.want is not None and state.want.kind is Kind.PINCH


def _asked_with(before: State, now: State) -> Kind | None:
    """The question that belongs to the same trying on, where one does."""
    if before.want is None or before.want.kind not in {Kind.FIT, Kind.PINCH}:
        return None
    return Kind.EDGE if "depth_mm" in now.settings.shape.asked and edge_near(now.piece) else None


def _brim(state: State, command: c.TriedOn, known: Turn) -> Decided:
    """The brim ends where it is said to be wide enough, or hides the eyes; else only an answer."""
    piece = state.piece
    if not piece.brim_rounds or state.step:
        return ()
    rounds, now_mm = piece.high(piece.brim_rounds), brim_now_mm(state)
    told = Reading(Kind.WORN, now_mm, 0.0, rounds, piece.stitches, command.fit)
    so_far = unfolding(state, *known, e.ReadingTaken(told))
    if command.fit not in ENDS_BRIM or state.stage is Stage.FINISHING:
        return so_far
    return offered_after(so_far.then(sized("brim_mm", now_mm)))


def brim_now_mm(state: State) -> float:
    """Width of the brim as it is made, after washing where that is known."""
    piece = state.piece
    now_mm = piece.high(piece.brim_rounds) * piece.gauge.height_mm
    return now_mm * state.settings.brim / piece.settings.brim if piece.settings.brim else now_mm


def _word(state: State, command: c.TriedOn) -> Word:
    """How much the word says. Raises: Refused for a length that it cannot have."""
    amount = command.amount
    if command.fit is Fit.FINGERS or command.fit in BY_LENGTH:
        if amount is None or amount.value <= 0:
            raise refused(state, command, Reason.NOT_A_LENGTH)
        if amount.unit is not None and amount.unit not in TAPE_UNITS:
            raise refused(state, command, Reason.WRONG_UNIT, unit=amount.unit.value)
        if command.fit is Fit.FINGERS:
            return by_amount(command.fit, min(amount.value, MOST_FINGERS))
        length_mm = amount.mm(state.settings.unit)
        if length_mm > MOST_MM:
            hoped = _hoped(state.piece)
            raise refused(state, command, Reason.ABSURD, expected_mm=hoped)
        folded = state.want is not None and state.want.kind is Kind.PINCH
        return by_amount(command.fit, length_mm, folded=folded)
    return FITS[command.fit]


MOST_FINGERS, MOST_MM = 8.0, 300.0
"""More fingers, or a longer length, cannot be meant of a hat that is tried on; our choice."""


def _hoped(piece: Piece) -> float:
    return piece.settings.girth_mm
