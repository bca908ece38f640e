"""Whether the piece looks as it should: told from where it is and what the estimate knows.

Common practice, no source, unless said beside a sentence; each answer says when it would not be
normal any more.
"""

from __future__ import annotations

from collections.abc import Callable

from pattern.plan.crown import by_tape, crown_target
from pattern.plan.next_round import rounds_of
from pattern.plan.piece import Piece, fullness
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.techniques import Technique
from voice.sentences.amounts import counted, joined
from voice.words.spoken_numbers import say_integer

FLAT_WITHIN, SHOWS = 0.07, 0.15
"""Fullness off 1 by less than the first lies flat, and by more than the second waves or bowls.
Common practice, one worker's test: flat within about 7 %, a slight cup 20 % under, crowded 20 %
over."""
TURNED = 3
"""Straight rounds until the sides have turned down. Common practice, no source."""
OFF_MARK = 5
"""Stitches from the mark within which the repeats of a brim round may end. Common practice, no
source."""


def _of_all(state: State) -> str:
    """The answer to "is that normal?", by the part in work."""
    piece = state.piece
    if state.stage is Stage.SETUP or piece.finished < 3:
        return (
            "Yes: the first three rounds curl like a small cup. Not normal: a hole in the middle "
            "that stays when you pull the tail."
        )
    if state.stage in {Stage.FINISHING, Stage.DONE}:
        return "Small unevenness goes when it is washed and shaped. A hole or a loop does not."
    if piece.shaping.straight:
        return _not_turning(state)
    if piece.shaping.by_look and not piece.shaping.hangs:
        return _edge(piece)
    return (
        "Yes: it narrows or widens in steps, and hangs unevenly while it is short. Not normal: "
        "it waves at its edge, or puckers. Then count the round."
    )


def _edge(piece: Piece) -> str:
    """How full the edge is, and what of that is seen."""
    brim = piece.shaping.flared
    full = fullness(piece, piece.stitches, piece.brim_rounds if brim else piece.finished).mean
    percent = say_integer(round(100 * abs(full - 1)))
    there = f"it has about {percent} in a hundred {'more' if full > 1 else 'fewer'} stitches than"
    flat = "fall evenly" if brim else "lie flat"
    if abs(full - 1) <= FLAT_WITHIN:
        said = f"By what I know it should {flat} now: a little buckling is normal, and settles."
    elif full > 1:
        said = f"By what I know {there} {flat}: it waves a little, and settles as it grows."
    else:
        way = "droops" if brim else "bowls"
        said = f"By what I know {there} {flat}: it {way} a little, and flattens as it grows."
    if abs(full - 1) > SHOWS:
        seen = "it ripples" if full > 1 else "it droops" if brim else "it cups"
        return joined(f"By what I know {there} {flat}: that shows.", f"Say {seen}, and I mend it.")
    never = "Not normal: folds as deep as a finger. Then say: it ripples, or it cups."
    return joined(said, never)


def _corners(state: State) -> str:
    piece = state.piece
    many = counted(piece.settings.increases, "corner")
    if piece.settings.stacked:
        return f"Yes: your increases are stacked, so it has {many}, and keeps them."
    if piece.shaping.straight or piece.shaping.flared:
        return (
            f"Soft ones from the crown are normal, {many} of them, and go when it is shaped. "
            "Not normal here: a corner at one place only; then count the round."
        )
    return (
        f"Soft corners are normal, {many} of them: increases pull there. I shift them from round "
        "to round, and the sides take them out. Not normal: sharp points; then say where am I."
    )


def _twists(state: State) -> str:
    if state.settings.joined:
        return (
            "Yes: the seam of joined rounds slants a little. Not normal: more than a stitch a "
            "round; then a stitch is left out at the join: count the round."
        )
    return (
        "Yes: in a spiral the first stitch wanders by about half a stitch a round, and the hat "
        "turns with it. Not normal: increases that wander the other way; then count the round."
    )


def _not_turning(state: State) -> str:
    piece = state.piece
    if piece.shaping.straight and piece.side_rounds <= TURNED:
        more = counted(TURNED + 1 - piece.side_rounds, "round")
        return (
            "Yes: sides need two or three rounds until they turn down. "
            f"Not normal: no turn after {more} more; then count the round."
        )
    if piece.shaping.straight:
        return (
            "The sides should hang straight by now; a soft shoulder is normal. Not normal: they "
            "still spread, so there are too many stitches. Count the round."
        )
    if piece.shaping.flared:
        return "The brim should not curl: it spreads from the sides. If it stands up, say so."
    if by_tape(piece) or not piece.shaping.flat:
        return "It should not curl in: it lies as its shape does. If it bowls, say: it cups."
    left = max(rounds_of(piece, 0, piece.finished), 0)
    return (
        f"Yes: the crown lies flat until it has {say_integer(crown_target(piece))} stitches, "
        f"about {counted(left, 'more round')}. It turns down when the increases stop."
    )


def _looser(state: State) -> str:
    known = state.piece.sides_known or state.taken is not None
    told = "My counts go by your last reading." if known else "A reading would show by how much."
    return joined(
        "Yes: straight rounds come out a little looser than a crown, and hands loosen as they warm "
        f"up. {told}",
        "More than a stitch in twenty is not normal: then say, my tension changed.",
    )


def _bump(state: State) -> str:
    if state.settings.joined:
        return (
            "Yes: a small ridge stays where rounds are joined; wear it at the back. Not normal: a "
            "hole or a step; then the join goes into the wrong stitch: it goes into the first one."
        )
    return (
        "A spiral has no seam. A bump is normal only at its end, and two slip stitches level it. "
        "Elsewhere two stitches sit in one: count the round."
    )


def _gap(state: State) -> str:
    if state.settings.joined:
        return (
            "A small gap at the join is normal; pull the chain tighter, and it closes. Not normal: "
            "a hole as wide as a stitch; then the first stitch was left out: count the round."
        )
    return (
        "In a spiral there is no join: a gap there is a stitch left out, or a loop that was pulled "
        "long when it was tried on. Count the round; draw the loop tight."
    )


def _off_mark(state: State) -> str:
    offered = state.offered
    if offered is not None and state.piece.stretches[offered.part].shaping.flared:
        return (
            f"In the brim that is fine: repeats may end within {say_integer(OFF_MARK)} stitches of "
            "the mark. Work plain to the mark, and go on; no count is needed."
        )
    if offered is not None and state.to_count == offered.number:
        return "This round must fit: count it, and tell me the count."
    return (
        "One or two stitches off are mended in the next round: count this one, and tell me. "
        f"Only in the brim may it be {say_integer(OFF_MARK)} stitches."
    )


ANSWERS: dict[Technique, Callable[[State], str]] = {
    Technique.NORMAL: _of_all,
    Technique.CORNERS: _corners,
    Technique.TWISTS: _twists,
    Technique.NOT_TURNING: _not_turning,
    Technique.LOOSENS: _looser,
    Technique.BUMP: _bump,
    Technique.GAP: _gap,
    Technique.OFF_MARK: _off_mark,
}
"""The answer to each question whether something is normal."""
