"""Answers of the interview, swatches, and what is known of the maker's stitch beforehand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from pattern.gauge.carry_over import prior_like
from pattern.gauge.estimate import Gauge
from pattern.gauge.prior import prior
from pattern.gauge.stitch_change import beside_scaled, scaled, unsettled
from pattern.gauge.swatch import Washing, all_learned, learned, to_work
from pattern.plan.next_round import next_part
from pattern.plan.piece import Piece
from pattern.session import events as e
from pattern.session.changes.hands import rechecked
from pattern.session.state import State
from pattern.shape.limits import with_answer
from pattern.shape.settings import Settings

_FITTING_KEYS = frozenset({"head_mm", "ease_mm", "age_years"})
_GAUGE_KEYS = frozenset({"yarn", "hook_mm", "stitch"})


def _answered(state: State, event: e.QuestionAnswered) -> State:
    key, settings = event.key, with_answer(state.settings, event.key, event.value)
    known = key in _GAUGE_KEYS and key not in state.answered
    if key == "yarn" and not known:
        state = replace(state, swatches=(), washing=None)
    before, state = state, _to_be_worked(state, settings)
    piece = state.piece
    if key in _GAUGE_KEYS:
        ratio = prior(settings).width_mm / prior(before.piece.settings).width_mm
        piece = replace(piece, gauge=_regauged(before, settings, known=known, ratio=ratio))
        if piece.finished:
            state, piece = (
                replace(rechecked(state), asks_in_all=0, hooks_before=_laid_aside(before, key)),
                replace(
                    piece,
                    sides_known=False,
                    changed_after=piece.finished,
                    changed_ratio=ratio,
                    miscount=beside_scaled(piece.miscount, ratio, piece.finished),
                ),
            )
    piece = _for_another(_goes_on(piece, key), key)
    answered = state.answered if key in state.answered else (*state.answered, key)
    state = replace(state, fitted=tuple(one for one in state.fitted if one != key))
    weighed = () if key == "yarn" else state.weighed
    return replace(state, piece=piece, answered=answered, last=key, weighed=weighed)


def _laid_aside(before: State, key: str) -> tuple[tuple[int, float], ...]:
    """The hooks before another one is taken; one that worked no round was none."""
    worked, hooks = before.piece.finished, before.hooks_before
    if key != "hook_mm" or (hooks and hooks[-1][0] == worked):
        return hooks
    return (*hooks, (worked, before.settings.hook))


def _for_another(piece: Piece, key: str) -> Piece:
    """The piece whose sides were worked for another head, or to fit otherwise, or whose crown is
    wide enough by that: the next round makes up for it, as after a reading.
    """
    if key not in _FITTING_KEYS or not piece.finished:
        return piece
    following = next_part(piece)
    begins = following is not None and following == piece.index + 1
    sides = piece.side_rounds > 0 or (begins and piece.stretches[following or 0].shaping.straight)
    return replace(piece, sides_known=True) if sides else piece


def _goes_on(piece: Piece, key: str) -> Piece:
    """The piece whose part in work goes on to another depth, though the maker had ended it."""
    ended = piece.closed == piece.index + 1 and piece.stretch.end_depth_mm is not None
    return replace(piece, closed=piece.index) if key == "depth_mm" and ended else piece


def resized(state: State, key: str, value_mm: float) -> State:
    """The state with a size that was not answered, but found by trying on."""
    state = _to_be_worked(state, with_answer(state.settings, key, value_mm))
    fitted = (*(one for one in state.fitted if one != key), key)
    return replace(state, piece=_goes_on(state.piece, key), fitted=fitted, last=None)


def _to_be_worked(state: State, wanted: Settings) -> State:
    """The state with these answers, and the piece with the sizes that washing makes them of."""
    if state.washing is None:
        return replace(state, wanted=None, piece=replace(state.piece, settings=wanted))
    worked = to_work(wanted, state.washing)
    return replace(state, wanted=wanted, piece=replace(state.piece, settings=worked))


def _regauged(state: State, settings: Settings, *, known: bool, ratio: float) -> Gauge:
    """The gauge for other yarn or hook: the prior, or what was learned, scaled and less sure.

    Where it only becomes `known` with what a swatch was made, the swatch says the same of it.
    """
    piece = state.piece
    if piece.finished == 0 and (known or not state.swatches):
        return all_learned(prior_like(state.known, settings), state.swatches)
    changed = scaled(piece.gauge, ratio, piece.finished)
    return unsettled(changed, abs(ratio - 1) / 2, piece.finished)


def _known(state: State, event: e.GaugeKnown) -> State:
    gauge = prior_like(event, state.settings)
    return replace(state, known=event, piece=replace(state.piece, gauge=gauge))


def _swatched(state: State, event: e.SwatchTaken) -> State:
    gauge = learned(state.piece.gauge, event, state.swatches)
    piece = replace(state.piece, gauge=gauge, miscount=state.piece.miscount.apart())
    return replace(state, piece=piece, last=event, swatches=(*state.swatches, event))


def _washed(state: State, event: e.WashingKnown) -> State:
    washing = Washing(event.width, event.height)
    return _to_be_worked(replace(state, washing=washing), state.settings)


CHANGES: dict[type, Callable[[State, Any], State]] = {
    e.QuestionAnswered: _answered,
    e.QuestionSkipped: lambda state, event: replace(state, answered=(*state.answered, event.key)),
    e.QuestionReopened: lambda state, _event: replace(state, answered=state.answered[:-1]),
    e.SizesChosen: lambda state, event: replace(state, other_heads_mm=event.heads_mm),
    e.GaugeKnown: _known,
    e.SwatchTaken: _swatched,
    e.WashingKnown: _washed,
}
