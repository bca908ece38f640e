"""One more of the same sort, asked for at the end: a journal of its own, and what was learned."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.decide_asides import STEP_WPM
from pattern.session.folding import QUIET, fold
from pattern.session.history import CODEC, state_after
from pattern.session.next_piece import another
from pattern.session.refusals import Reason, Refused
from pattern.session.state import BESIDE_UNDO, FINISHING_STEPS, State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.hats import why_refused
from tests.pieces import NEXT, begun, told
from voice.caller.caller import ALONE, Caller
from voice.words.phrases import read

SMALL = {"head_mm": 420.0, "yarn": 6, "hook_mm": 9.0, "brim_mm": 40.0}
HEAD = c.Another(Amount(52.0, unit=Unit.CM))


def finished(*, measured: bool, **answers: str | float) -> State:
    state = told(begun(**{**SMALL, **answers}), *[NEXT] * 5)
    if measured:
        girth = Amount(round(1.1 * state.piece.stitches * state.piece.gauge.width_mm), unit=Unit.MM)
        state = told(state, c.Measured(girth, Kind.AROUND), c.Yes())
    while state.stage is not Stage.FINISHING:
        state = told(state, c.Skip(), NEXT)
    return state


def next_one(state: State, command: c.Another) -> State:
    return fold(State(), another(state, "hat 1", command))


@pytest.mark.parametrize("measured", [True, False])
def test_the_next_one_has_its_own_head_and_the_other_answers(measured: bool) -> None:
    state = finished(measured=measured, joined=True, depth_mm=150.0, fibre="cotton")
    made = next_one(state, HEAD)
    assert made.stage is Stage.RING
    assert made.settings.head_mm == 520.0
    assert made.settings.depth_mm is None, "its depth follows its own head"
    same = ("yarn", "hook_mm", "brim_mm", "joined", "fibre", "shape", "terms")
    assert [getattr(made.settings, key) for key in same] == [
        getattr(state.settings, key) for key in same
    ]
    assert (made.known is not None) is measured
    if measured:
        assert made.piece.gauge.width_mm == state.piece.gauge.width_mm


def test_another_yarn_asks_for_its_hook_and_keeps_the_head() -> None:
    made = next_one(finished(measured=True, fibre="cotton"), c.Another(yarn=3))
    assert made.question == "hook_mm"
    assert (made.settings.yarn, made.settings.head_mm) == (3, 420.0)
    assert made.settings.fibre is None
    with pytest.raises(Refused):
        another(finished(measured=True), "hat 1", c.Another(yarn=9))


def test_what_is_no_hat_gets_its_width() -> None:
    state = begun(shape="mat", across_mm=150.0, yarn=6, hook_mm=9.0)
    while state.stage is not Stage.FINISHING:
        state = told(state, c.Skip(), NEXT)
    made = next_one(state, c.Another(Amount(20.0, unit=Unit.CM)))
    assert (made.settings.shape, made.settings.across_mm) == (state.settings.shape, 200.0)


def test_while_rounds_are_left_there_is_no_next_one() -> None:
    assert why_refused(State(), HEAD) is Reason.STILL_SETUP
    assert why_refused(begun(**SMALL), HEAD) is Reason.NOT_DONE


@contextmanager
def calling(folder: Path) -> Iterator[Caller]:
    """A caller of a small hat that can begin another one."""
    with ExitStack() as opened:
        names = iter(["hat 2"])
        caller = Caller(
            opened.enter_context(Journal.open(folder, "hat 1", CODEC)),
            new_piece=lambda: opened.enter_context(Journal.open(folder, next(names), CODEC)),
        )
        caller.open(
            [
                c.Change("head_mm", Amount(42.0, unit=Unit.CM)),
                c.Choose("yarn", 6),
                c.Change("hook_mm", Amount(9.0)),
                c.Choose("brim_mm", 0),
            ]
        )
        yield caller


def finish(caller: Caller) -> None:
    """Work the piece to its end."""
    while caller.state.stage is not Stage.FINISHING:
        caller.hear("skip")
        caller.hear("next")


MANNERS = (
    "slower",
    "quieter",
    "another voice",
    "brief",
    "say it in words",
    "rest every twenty minutes",
    "ask again after two minutes",
    "my finger is twenty millimetres",
)
"""What is said once and holds for every piece."""


def test_the_next_one_is_spoken_of_in_the_same_manner(tmp_path: Path) -> None:
    with calling(tmp_path) as caller:
        for words in MANNERS:
            assert caller.hear(words).events, words
        finish(caller)
        before = caller.state
        said = caller.hear("another one for a head of fifty two centimetres")
        assert said.say.startswith("A new hat.")
        after = caller.state
        for name in set(BESIDE_UNDO) - {"paused"}:
            assert getattr(after, name) == getattr(before, name) != getattr(State(), name), name
        slower = caller.hear("slower").state.speech
        assert slower == replace(before.speech, rate_wpm=before.speech.rate_wpm - STEP_WPM)
        caller.hear("undo")
    with Journal.open(tmp_path, "hat 2", CODEC) as second:
        assert state_after(second.turns).speech == slower


def test_with_no_manner_chosen_the_next_one_keeps_none(tmp_path: Path) -> None:
    with calling(tmp_path) as caller:
        finish(caller)
        caller.hear("another one")
    with Journal.open(tmp_path, "hat 2", CODEC) as second:
        assert not any(isinstance(event, QUIET) for event in second.turns[0].events)


def test_a_rate_chosen_beforehand_is_what_slower_is_slower_than(tmp_path: Path) -> None:
    with calling(tmp_path) as caller:
        chosen = replace(caller.state.speech, rate_wpm=200)
        caller.choose(chosen)
        caller.choose(chosen)
        assert caller.hear("slower").state.speech.rate_wpm == 200 - STEP_WPM
    with Journal.open(tmp_path, "hat 1", CODEC) as first:
        assert [turn.events for turn in first.turns[1:]] == [
            (chosen,),
            (replace(chosen, rate_wpm=200 - STEP_WPM),),
        ]


def test_it_goes_into_a_journal_of_its_own_and_the_first_is_done(tmp_path: Path) -> None:
    with calling(tmp_path) as caller:
        finish(caller)
        while caller.state.step < len(FINISHING_STEPS) - 1:
            caller.hear("next")
        refused = caller.hear("another one for a head of three hundred centimetres")
        assert refused.refused is not None
        assert caller.state.stage is Stage.FINISHING
        said = caller.hear("another one for a head of fifty two centimetres")
        assert said.say.startswith("A new hat.")
        assert "Fifty two centimetres" in said.say
        caller.hear("next")
        assert caller.state.piece.finished == 1
    with Journal.open(tmp_path, "hat 1", CODEC) as first:
        assert state_after(first.turns).stage is Stage.DONE
    with Journal.open(tmp_path, "hat 2", CODEC) as second:
        assert state_after(second.turns) == caller.state


def test_where_one_piece_is_kept_alone_it_says_so(tmp_path: Path) -> None:
    with Journal.open(tmp_path, "hat", CODEC) as journal:
        caller = Caller(journal)
        caller.state = finished(measured=False)
        assert caller.take(HEAD).say == ALONE


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("another one for a head of fifty four", c.Another(Amount(54.0))),
        ("another one of class three", c.Another(yarn=3)),
        ("another one", c.Another()),
    ],
)
def test_what_makers_say(said: str, command: c.Command) -> None:
    assert read(said) == command
