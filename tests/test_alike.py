"""A new piece that begins with what another taught: surer than the tables, and kept in its own
journal, so that the other may be gone.
"""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.errors import NothingLearned
from pattern.gauge.carry_over import BETWEEN_PIECES, prior_like
from pattern.gauge.estimate import Gauge
from pattern.gauge.prior import prior
from pattern.journal.lines import Turn, read_lines, write_line
from pattern.plan.readings import girth_finished
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decisions import first_turn
from pattern.session.folding import fold
from pattern.session.history import CODEC, VERSION, state_after
from pattern.session.next_piece import carried
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Stitch
from pattern.writeup.edition import Edition
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.hats import AT, kept
from tests.pieces import NEXT, begun, told
from tests.properties import examples

ROOT = Path(__file__).parent.parent
HEAD = c.Change("head_mm", Amount(52.0, unit=Unit.CM))


def hat(factor: float, **answers: float) -> State:
    """A measured hat by hands whose stitch is `factor` times that of the tables."""
    state = begun(**answers)
    width = factor * prior(state.settings).width_mm
    for rounds in (8, 4, 6):
        state = told(state, *[NEXT] * rounds)
        around = Amount(round(state.piece.stitches * width), 1.0, Unit.MM)
        state = told(state, c.Measured(around, Kind.AROUND), c.Yes())
    return state


def next_hat(state: State, *answers: c.Command) -> State:
    return fold(State(), first_turn(answers, carried(state, "hat 1", answers)))


def width_sd(gauge: Gauge) -> float:
    return gauge.of((1.0, 0.0, 0.0)).sd / gauge.width_mm


@settings(max_examples=examples(20))
@given(st.floats(0.85, 1.15), st.sampled_from([4.0, 5.0, 6.0]))
def test_the_same_yarn_begins_with_the_makers_own_stitch(factor: float, hook_mm: float) -> None:
    first = hat(factor, hook_mm=hook_mm)
    second = next_hat(first, HEAD)
    assert second.stage is Stage.RING
    assert second.settings.hook_mm == hook_mm
    assert second.piece.gauge.width_mm == first.piece.gauge.width_mm
    assert second.piece.gauge.width_mm == pytest.approx(
        factor * prior(second.settings).width_mm, rel=0.03
    )
    expected = math.hypot(width_sd(first.piece.gauge), BETWEEN_PIECES)
    assert width_sd(second.piece.gauge) == pytest.approx(expected, rel=1e-6)
    assert width_sd(second.piece.gauge) < width_sd(prior(second.settings)) / 2
    assert girth_finished(second.piece).sd < girth_finished(begun(head_mm=520.0).piece).sd / 2


@given(st.floats(0.85, 1.15), st.integers(2, 7), st.floats(3, 12), st.sampled_from(Stitch))
@settings(max_examples=examples(60))
def test_another_yarn_is_scaled_and_never_less_sure_than_the_tables(
    factor: float, yarn: int, hook_mm: float, stitch: Stitch
) -> None:
    known = carried(hat(factor), "hat 1")[0]
    wanted = Settings(yarn=yarn, hook_mm=hook_mm, stitch=stitch)
    gauge, usual = prior_like(known, wanted), prior(wanted)  # type: ignore[arg-type]
    assert gauge.width_mm / usual.width_mm == pytest.approx(factor, rel=0.04)
    assert gauge.ring_mm == usual.ring_mm
    assert width_sd(gauge) < width_sd(usual)
    assert np.linalg.eigvalsh(np.array(gauge.covariance)).min() > 0
    assert prior_like(None, wanted) == usual


def test_another_yarn_asks_for_its_hook() -> None:
    yarn = c.Choose("yarn", 6)
    state = next_hat(hat(1.0), HEAD, yarn)
    assert state.stage is Stage.SETUP
    assert state.question == "hook_mm"
    assert next_hat(hat(1.0), HEAD, yarn, c.Change("hook_mm", Amount(9.0))).stage is Stage.RING
    later = told(next_hat(hat(0.9), HEAD), c.Change("hook_mm", Amount(6.0)))
    assert later.piece.gauge == prior_like(later.known, later.settings)


def test_fewer_readings_are_asked_for() -> None:
    def asked(state: State) -> int:
        count = 0
        while state.stage is not Stage.FINISHING:
            count += state.want is not None
            state = told(state, c.Skip(), NEXT) if state.want is not None else told(state, NEXT)
        return count

    assert asked(next_hat(hat(1.0), HEAD)) <= asked(begun(head_mm=520.0))


def test_a_piece_that_was_never_measured_teaches_nothing() -> None:
    with pytest.raises(NothingLearned, match="never measured"):
        carried(told(begun(), *[NEXT] * 9), "hat 1")


def test_the_maker_is_spoken_with_as_before() -> None:
    slower, signs = c.Speak(c.Manner.SLOWER), c.Signal(c.Signs.WORDS)
    first = told(hat(1.0), slower, signs)
    second = next_hat(first, HEAD)
    assert second.speech == first.speech != State().speech
    assert second.signs is c.Signs.WORDS
    assert next_hat(hat(1.0), HEAD).signs is c.Signs.SOUNDS


def test_its_journal_alone_gives_it_back() -> None:
    turn = first_turn((HEAD,), carried(hat(0.9), "hat 1"))
    line = write_line(CODEC, 1, Turn(turn, AT))
    assert json.loads(line)["v"] == VERSION
    assert state_after(read_lines(kept("Hat"), line, CODEC).turns) == fold(State(), turn)


def test_the_write_up_says_where_the_gauge_is_from() -> None:
    assert "Carried over from hat 1" in as_text(
        as_made(next_hat(hat(1.0), HEAD), "Hat", Edition(readings=True)), 200
    )


def call(folder: Path, *args: str, typed: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "voice", "call", "--typed", "--folder", str(folder), *args]
    return subprocess.run(command, input=typed, capture_output=True, cwd=ROOT, check=False)


def test_by_the_command_line(tmp_path: Path) -> None:
    options = ("--head", "52cm", "--yarn", "4", "--hook", "4.5", "--unit", "cm")
    call(tmp_path, "--piece", "first", *options, typed=b"next\n" * 9)
    refused = call(tmp_path, "--like", "first", "--head", "54cm")
    assert (refused.returncode, refused.stderr.count(b"\n")) == (1, 1)
    assert b"never measured" in refused.stderr
    call(tmp_path, "--piece", "first", typed=b"around 36 cm\n")
    done = call(tmp_path, "--like", "first", "--head", "54cm")
    assert done.returncode == 0
    said = done.stdout.decode()
    assert "The piece is called hat 1." in said
    assert "learned on your other piece" in said
    assert "Round one" in said
    (tmp_path / "first.jsonl").unlink()
    assert "Welcome back. Round one" in call(tmp_path, "--piece", "hat 1").stdout.decode()
    assert call(tmp_path, "--like", "nowhere").returncode == 1
