"""A session that is killed anywhere goes on, at most one turn short.

The journal is written between deciding and folding: a crash after deciding loses the turn that was
never told; a crash within the write leaves a torn line, which is dropped.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pattern.journal.journal import Journal
from pattern.journal.lines import Turn, read_lines
from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.events import Event
from pattern.session.folding import fold
from pattern.session.history import CODEC, state_after
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import AT, SMALL
from tests.openings import opening
from tests.properties import examples

ROOT = Path(__file__).parents[1]
SAID: tuple[c.Command, ...] = (
    c.Next(),
    c.Next(),
    c.Sets(2),
    c.Measured(Amount(11.5, 0.5, Unit.CM)),
    c.No(Amount(9.0)),
    c.Pause(),
    c.Resume(),
    c.Next(),
    c.Counted(19),
    c.Undo(),
    c.Next(),
    c.RippedBack(1),
    c.Next(),
    c.Wording(True),
    c.Leave(),
    c.StartSides(),
    c.Yes(),
)
"""A short session with something of each kind."""
HARMLESS = [HealthCheck.function_scoped_fixture]


def keep(folder: Path, commands: tuple[c.Command, ...] = SAID) -> list[State]:
    """Writes a session as the caller does; the state after each turn, the empty one first."""
    states = [State()]
    with Journal.open(folder, "Hat", CODEC) as journal:
        events = opening(states[0], SMALL)
        for command in (*commands, None):
            journal.append(events, AT)
            states.append(fold(states[-1], events))
            if command is not None:
                events = decide(states[-1], command)
    return states


def read_back(folder: Path) -> State:
    with Journal.open(folder, "Hat", CODEC) as journal:
        return state_after(journal.turns)


def test_cut_at_every_byte(tmp_path: Path) -> None:
    """Every cut gives back the turns that are whole, and they add up to the state then."""
    states = keep(tmp_path)
    path = tmp_path / "Hat.jsonl"
    whole = path.read_bytes()
    ends = [found.end() for found in re.finditer(rb"\n", whole)]
    assert len(ends) == len(states) - 1
    turns = read_lines(path, whole, CODEC).turns
    for kept in range(len(states)):
        assert state_after(turns[:kept]) == states[kept]
    for cut in range(len(whole) + 1):
        assert (
            read_lines(path, whole[:cut], CODEC).turns
            == turns[: sum(end - 1 <= cut for end in ends)]
        )


@settings(max_examples=examples(10), suppress_health_check=HARMLESS)
@given(turn=st.integers(1, len(SAID)), share=st.floats(0, 1, exclude_max=True))
def test_after_a_torn_turn_it_can_be_said_again(tmp_path: Path, turn: int, share: float) -> None:
    path = tmp_path / "Hat.jsonl"
    path.unlink(missing_ok=True)
    states = keep(tmp_path, SAID[:turn])
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:-1]) + lines[-1][: int(share * (len(lines[-1]) - 1))])
    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        lost = state_after(journal.turns)
        assert lost == states[-2]
        journal.append(decide(lost, SAID[turn - 1]), AT)
    assert read_back(tmp_path) == states[-1]


CHILD = """
import os, sys
from pathlib import Path
from pattern.session.decisions import decide
from pattern.session.history import CODEC, state_after
from pattern.journal.journal import Journal
from pattern.session.folding import fold
from tests.test_crash import AT, SAID

steps = int(sys.argv[2])
def step():
    global steps
    steps -= 1
    if steps < 0:
        os.kill(os.getpid(), 9)

with Journal.open(Path(sys.argv[1]), "Hat", CODEC) as journal:
    state = state_after(journal.turns)
    for command in SAID[:3]:
        step()
        events = decide(state, command)
        step()
        journal.append(events, AT)
        step()
        state = fold(state, events)
"""
"""A real second process that kills itself before its n-th step: decide, append or fold."""


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL")
@pytest.mark.parametrize("steps", range(9))
def test_killed_between_two_steps(tmp_path: Path, steps: int) -> None:
    states = keep(tmp_path, ())
    for command in SAID[:3]:
        states.append(fold(states[-1], decide(states[-1], command)))
    run = [sys.executable, "-c", CHILD, str(tmp_path), str(steps)]
    assert subprocess.run(run, cwd=ROOT, check=False).returncode == -9
    appended = (steps + 1) // 3  # the second step of each turn
    assert read_back(tmp_path) == states[1 + appended]


@settings(max_examples=examples(6), suppress_health_check=HARMLESS)
@given(restarts=st.lists(st.booleans(), max_size=12))
def test_undo_works_across_restarts(tmp_path: Path, restarts: list[bool]) -> None:
    """As often as wished, to the beginning, whether or not the session was restarted between."""
    (tmp_path / "Hat.jsonl").unlink(missing_ok=True)
    state = keep(tmp_path)[-1]
    undone = 0
    while state.undo is not None:
        with Journal.open(tmp_path, "Hat", CODEC) as journal:
            state = state_after(journal.turns)
            for _ in range(3 if restarts[undone : undone + 1] == [True] else 1):
                if state.undo is None:
                    break
                want, events = state.undo, decide(state, c.Undo())
                journal.append(events, AT)
                state = fold(state, events)
                undone += 1
                assert (state.piece, state.made, state.sets) == (want.piece, want.made, want.sets)
    assert state.piece == fold(State(), opening(State(), SMALL)).piece  # undo stops at the opening
    assert state.stage is Stage.RING
    assert read_back(tmp_path) == state


def test_the_session_holds_every_kind_of_turn(tmp_path: Path) -> None:
    """The cuts above go through all of these."""
    keep(tmp_path)
    with Journal.open(tmp_path, "Hat", CODEC) as journal:
        turns: tuple[Turn[Event], ...] = journal.turns
    kinds = {type(event).__name__ for turn in turns for event in turn.events}
    assert {
        "RoundOffered",
        "StartDoubted",
        "ReadingDoubted",
        "ReadingTaken",
        "Undone",
        "CountTaken",
        "Left",
        "RoundsTakenBack",
        "SetsWorked",
        "StageStarted",
        "Paused",
    } <= kinds
