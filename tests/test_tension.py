"""Hands that change: what was learned is believed less, and a reading mends it sooner."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from pattern.gauge.estimate import LEFT_ALONE_CHANGE, TENSION_CHANGE
from pattern.journal.journal import Journal
from pattern.plan.readings import girth_finished
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import LONG_DAYS, taken_up
from pattern.session.events import LeftAlone, ReadingWanted
from pattern.session.folding import fold
from pattern.session.history import CODEC
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import why_refused
from tests.pieces import NEXT, begun, told
from voice.caller.caller import Caller


def around(state: State, factor: float) -> c.Measured:
    """A reading of hands whose stitch is `factor` times what is believed."""
    girth = state.piece.stitches * state.piece.gauge.width_mm * factor
    return c.Measured(Amount(round(girth), 1.0, Unit.MM), Kind.AROUND)


def known() -> State:
    state = told(begun(), *[NEXT] * 10)
    return told(state, around(state, 1.0), NEXT)


def test_the_mean_stays_and_the_spread_grows() -> None:
    state = known()
    after = told(state, c.Tension())
    before, wide = state.piece.gauge, after.piece.gauge
    assert wide.mean == before.mean
    width = wide.of((1.0, 0.0, 0.0)).sd
    assert width > 2 * before.of((1.0, 0.0, 0.0)).sd
    assert width > TENSION_CHANGE * before.width_mm
    assert np.linalg.eigvalsh(np.array(wide.covariance)).min() > 0
    assert after.want is not None
    assert after.want.kind is Kind.AROUND
    assert told(after, c.Undo()).piece.gauge == before


@pytest.mark.parametrize("factor", [0.93, 1.07])
def test_a_reading_after_it_is_believed_more(factor: float) -> None:
    """Hands 7 % tighter or looser: with it said, one reading finds most of that, undoubted."""
    state = told(known(), NEXT)
    told_so = told(state, c.Tension())
    reading = around(state, factor)
    mended = told(told_so, reading)
    assert mended.doubt is None
    changed = mended.piece.gauge.width_mm / state.piece.gauge.width_mm
    assert abs(changed - factor) < 0.01
    silent = told(state, reading, c.Yes()).piece.gauge.width_mm / state.piece.gauge.width_mm
    assert abs(changed - factor) < abs(silent - factor)


def test_where_nothing_is_worked_nothing_is_believed_yet() -> None:
    assert why_refused(State(), c.Tension()) is Reason.STILL_SETUP
    assert why_refused(begun(), c.Tension()) is Reason.TOO_EARLY
    end = known()
    while end.stage is not Stage.FINISHING:
        end = told(end, c.Skip(), NEXT)
    assert why_refused(end, c.Tension()) is Reason.NOT_HERE
    brim = known()
    while brim.stage is not Stage.BRIM or brim.piece.brim_rounds < 2:
        brim = told(brim, c.Skip(), NEXT)
    wide = told(brim, c.Skip(), c.Tension())
    assert girth_finished(wide.piece) == girth_finished(brim.piece), "it is made already"
    assert wide.want is None or not isinstance(wide.want, ReadingWanted)


def test_days_away_widen_a_little_and_undo_passes_over_it() -> None:
    state = known()
    assert taken_up(state, LONG_DAYS - 0.1) == ()
    assert taken_up(State(), 100.0) == ()
    after = fold(state, taken_up(state, 5.0))
    before = state.piece.gauge.of((1.0, 0.0, 0.0)).sd
    added = LEFT_ALONE_CHANGE * state.piece.gauge.width_mm
    assert after.piece.gauge.of((1.0, 0.0, 0.0)).sd == pytest.approx(np.hypot(before, added))
    assert told(after, c.Undo()).piece.finished == state.piece.finished - 1


def test_a_piece_taken_up_after_days_says_so_and_the_last_reading(tmp_path: Path) -> None:
    now = [datetime(2026, 3, 1, 18, 30, tzinfo=UTC)]

    def opened(*words: str) -> tuple[str, tuple[object, ...]]:
        with Journal.open(tmp_path, "hat", CODEC) as journal:
            caller = Caller(journal, lambda: now[0])
            first = caller.open([c.HeadOf(), c.Choose("yarn", 4), c.Change("hook_mm", Amount(5))])
            for said in words:
                caller.hear(said)
            return first.say, first.events

    opened(*["next"] * 9, "around 13 inches")
    now[0] += timedelta(days=1)
    assert opened()[1] == ()
    now[0] += timedelta(days=5)
    said, events = opened()
    assert events == (LeftAlone(6.0),)
    assert said.startswith("Welcome back. It has been six days. It should lie flat, about ")
    assert "Last reading: thirteen around" in said
    assert opened()[1] == (), "only once"
