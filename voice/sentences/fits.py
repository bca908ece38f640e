"""Trying on: how it is asked for, read back, and what it means for the hat."""

from __future__ import annotations

from collections.abc import Callable

from pattern.plan.brim import brim_total
from pattern.plan.piece import Piece, depth_at
from pattern.plan.readings import Reading, Want
from pattern.plan.sides import correction
from pattern.plan.trying_on import Head, sits_now
from pattern.session import events as e
from pattern.session.commands import Fit, Kind
from pattern.session.state import State
from pattern.shape.fits import GIVES_MM
from pattern.shape.rounds import Stage
from pattern.trade.fibres import CARE
from voice.sentences import hook
from voice.sentences.amounts import counted, joined
from voice.sentences.fitting import fit

ASKED: dict[Kind, tuple[str, str]] = {
    Kind.FIT: (
        "Put a marker through the loop, and try it on: too tight, snug, just right, "
        "a little loose, or does it slide down?",
        "Try it on: how does it fit?",
    ),
    Kind.PINCH: (
        "Pinch the loose cloth into one fold: how far does the fold stand out?",
        "How wide a fold?",
    ),
    Kind.EDGE: (
        "Try it on: does it end at the hairline, well above the eyebrows, just above, at, or below "
        "them?",
        "Where does it end?",
    ),
    Kind.WORN: (
        "Try it on: does the brim fall well, droop, stand up, hide the eyes, or is it floppy?",
        "How does the brim fall?",
    ),
}
"""The question while the piece is tried on; and the same in brief."""
READ_BACK: dict[Fit, str] = {
    Fit.NOT_ON: "it will not go on",
    Fit.TIGHT_BY: "too tight",
    Fit.LOOSE_BY: "too wide",
    Fit.PINCH: "wide enough to be pinched",
    Fit.FINGERS: "fingers go under it",
    Fit.SHORT_BY: "too short",
    Fit.DEEP_BY: "too deep",
}
"""Words that are read back otherwise than they stand in the table."""


def said(fit_: Fit) -> str:
    """The word read back."""
    return READ_BACK.get(fit_, fit_.value)


def or_worn(state: State) -> str:
    """The request for the tape, or to try it on, while nobody said whose head it is for."""
    piece, want = state.piece, state.want
    if want is None or state.brief or state.means.head is not Head.UNKNOWN or not state.means.tape:
        return ""
    if not sits_now(piece):
        return ""
    if want.kind is Kind.AROUND and state.asks == 1:
        return "Measure around the edge, or try it on and say how it fits."
    if want.kind is Kind.DEPTH:
        return "Measure from the centre down along the cloth, or try it on and say where it ends."
    return ""


def meaning(reading: Reading, state: State) -> str:
    """The meaning of a word for the rounds left."""
    piece = state.piece
    if reading.kind is Kind.WORN:
        return _ON_BRIM[reading.fit](state) if reading.fit in _ON_BRIM else ""
    if reading.kind is Kind.EDGE:
        return _edge(piece)
    if state.want == Want(Kind.PINCH):
        return ""
    gives = piece.settings.fibre in GIVES_MM and reading.fit in {Fit.SNUG, Fit.RIGHT}
    worn = "Cotton gives when worn: a little snug is right." if gives else ""
    if reading.fit is Fit.RIGHT and not correction(piece):
        return joined("That fits.", worn)
    return joined(fit(piece), worn)


def _edge(piece: Piece) -> str:
    """How much deeper the sides get; they may be deeper than they have to be already."""
    height = piece.gauge.height_mm
    left = round((piece.settings.depth - depth_at(piece, piece.finished).mean) / height)
    if left > 0:
        return f"About {counted(left, 'more round')} of {piece.stretch.called}."
    if left < 0:
        return f"That is deep enough: {counted(-left, 'round')} too deep; rip back if you like."
    return "That is deep enough."


STILL_HIDES = "If it still hides them, rip back a round or two, and work the last firmly."


def _floppy(state: State) -> str:
    if state.stage is not Stage.FINISHING:
        return hook.for_last_round(state)
    fibre = state.settings.fibre
    care = CARE[fibre].brim if fibre is not None else "Starch firms cotton, steam firms wool."
    return joined(care, "A round of slip stitch, worked firmly, holds the edge.")


def _stands(state: State) -> str:
    looser = "; or work the next round looser" if state.offered is not None else ""
    return f"Its stitches are right: turn it down by hand, and dry it so{looser}."


def _ends(state: State) -> str:
    if state.offered is None:
        return ""
    left = brim_total(state.piece) - state.piece.brim_rounds
    return f"Then {counted(left, 'more round')}." if left > 0 else "Then the brim ends here."


def _hides(state: State) -> str:
    return joined(_ends(state), STILL_HIDES)


def _falls(_state: State) -> str:
    return "Good."


_ON_BRIM: dict[Fit | None, Callable[[State], str]] = {
    Fit.FLOPPY: _floppy,
    Fit.STANDS: _stands,
    Fit.WIDE: _ends,
    Fit.HIDES: _hides,
    Fit.FALLS: _falls,
}
"""Changes for the rounds of the brim that are left. Common practice, no source."""


def means(event: e.MeansKnown, before: State) -> str:
    """The readings that are asked for from now on."""
    if event.tape != before.means.tape:
        return _TAPE[event.tape] if event.head is not Head.AWAY else _NEITHER[event.tape]
    if event.head is Head.AWAY:
        return "Then I ask for the tape, and not to try it on."
    return "Good: near the end of each part I ask you to try it on."


_TAPE = {
    True: "Good: I ask for the tape again.",
    False: "Then I ask for no tape: try it on when I say, and tell me how it sits.",
}
_NEITHER = {
    True: _TAPE[True],
    False: "Then I ask for nothing. A string cut to the head, laid along the edge, tells the fit.",
}


def asked(want: Want, *, brief: bool, before: bool = False) -> str:
    """The question of a trying on; shorter where it was asked `before`."""
    full, short = ASKED[want.kind]
    if before and not brief:
        return _AGAIN.get(want.kind, full)
    return short if brief else full


_AGAIN = {
    Kind.FIT: (
        "Mark the loop, and try it on: too tight, snug, just right, a little loose, or does it "
        "slide down?"
    ),
}
"""A question that is asked again in the same part."""
