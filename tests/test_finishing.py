"""Finishing: every step told, and the washing by the fibre, which may be said at any time."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest

from pattern.journal.journal import Journal
from pattern.session import commands as c
from pattern.session.decisions import decide, first_turn
from pattern.session.folding import fold
from pattern.session.history import CODEC
from pattern.session.next_piece import carried
from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.rounds import Stage
from pattern.trade.fibres import CARE, LABEL, Fibre
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.pieces import NEXT, begun, told
from voice.caller.caller import Caller
from voice.cli import option_answers, options
from voice.sentences import finishing
from voice.sentences.reply import reply
from voice.words.phrases import read


def finished(**settings: str | float) -> State:
    state = begun(head_mm=420.0, yarn=6, hook_mm=9.0, **settings)
    while state.stage is not Stage.FINISHING:
        state = told(state, c.Skip(), NEXT)
    return state


def at_step(name: str, state: State) -> State:
    return told(state, *[NEXT] * FINISHING_STEPS.index(name))


@pytest.mark.parametrize("fibre", Fibre)
def test_each_fibre_has_its_way_and_the_label_wins(fibre: Fibre) -> None:
    state = told(begun(), c.Choose("fibre", fibre.value))
    said = finishing.washing(state)
    assert said.startswith(CARE[fibre].wash)
    assert CARE[fibre].brim in said
    assert said.endswith(LABEL)
    assert CARE[fibre].brim not in finishing.washing(told(state, c.Choose("brim_mm", 0)))
    text = as_text(as_made(state, "Test"), 400)
    assert CARE[fibre].wash in text
    assert f"Medium (class 4), {fibre.value}" in text


def test_heat_is_ruled_out_for_acrylic_and_wringing_for_wool() -> None:
    """Common practice, no source."""
    assert "no iron" in CARE[Fibre.ACRYLIC].wash
    assert "never wring" in CARE[Fibre.WOOL].wash


def test_the_fibre_is_asked_for_at_its_step_where_it_is_unknown() -> None:
    state = at_step("shape", finished())
    assert "tell me the fibre" in finishing.step(state)
    answer = c.Choose("fibre", "cotton")
    after = told(state, answer)
    said = reply(state, answer, decide(state, answer), after)
    assert "starch" in said
    assert after.step == state.step
    assert told(after, NEXT).step == state.step + 1


def test_in_the_work_the_round_is_not_called_again_for_it() -> None:
    state = told(begun(), NEXT)
    answer = c.Choose("fibre", "wool")
    assert reply(state, answer, decide(state, answer), told(state, answer)) == "Wool."


@pytest.mark.parametrize(
    ("joined", "words"),
    [
        (False, "slip stitch into the next two stitches"),
        (True, "slip stitch in its first stitch"),
    ],
)
def test_a_spiral_and_joined_rounds_end_in_their_own_ways(joined: bool, words: str) -> None:
    state = finished(joined=joined)
    assert words in finishing.step(state)
    assert words in finishing.steps(state)


def test_the_next_piece_of_the_same_yarn_has_the_same_fibre() -> None:
    state = told(
        begun(),
        c.Choose("fibre", "cotton"),
        *[NEXT] * 8,
        c.Measured(Amount(33.0, 0.5, Unit.CM), c.Kind.AROUND),
        c.Yes(),
    )
    again = fold(State(), first_turn((), carried(state, "hat 1")))
    assert again.settings.fibre is Fibre.COTTON
    yarn = (c.Choose("yarn", 3),)
    assert fold(State(), first_turn(yarn, carried(state, "hat 1", yarn))).settings.fibre is None


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("the yarn is washable wool", c.Choose("fibre", "washable wool")),
        ("it is cotton", c.Choose("fibre", "cotton")),
        ("wool yarn", c.Choose("fibre", "wool")),
        ("how do I wash it", c.Ask(c.Asked.WASHING)),
        ("How do I finish?", c.Ask(c.Asked.FINISHING)),
    ],
)
def test_what_makers_say(said: str, command: c.Command) -> None:
    assert read(said) == command


def test_the_fibre_by_option() -> None:
    parser = argparse.ArgumentParser()
    options.add_arguments(parser)
    given = option_answers.answers(parser.parse_args(["--fibre", "acrylic"]))
    assert c.Choose("fibre", "acrylic") in given


@pytest.mark.parametrize(
    "words",
    [
        "slower",
        "brief",
        "rest every ten minutes",
        "note it is a present",
        "also write it for a head of fifty four",
        "only one size",
        "where am i",
        "undo",
        "next",
    ],
)
def test_what_is_said_of_a_done_piece_does_not_end_the_call(tmp_path: Path, words: str) -> None:
    with Journal.open(tmp_path, "hat", CODEC) as journal:
        caller = Caller(journal)
        caller.open(
            [
                c.Change("head_mm", Amount(42.0, unit=Unit.CM)),
                c.Choose("yarn", 6),
                c.Change("hook_mm", Amount(9.0)),
                c.Choose("brim_mm", 0),
            ]
        )
        finished = False
        while caller.state.stage is not Stage.DONE:
            assert not finished
            assert not caller.hear("skip").finished
            reply = caller.hear("next")
            finished = reply.finished
            assert not reply.ends
        assert finished, "the step that makes it done"
        assert not caller.hear(words).ends
        assert caller.hear("leave").ends
