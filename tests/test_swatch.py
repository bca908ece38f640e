"""A swatch before the first stitch: the gauge it teaches, and the hat that fits after washing."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.gauge.prior import prior
from pattern.plan.crown import crown_target
from pattern.session import commands as c
from pattern.session.decisions import decide, first_turn
from pattern.session.folding import fold
from pattern.session.next_piece import carried
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.hats import why_refused
from tests.pieces import NEXT, begun, told
from tests.properties import examples
from voice.sentences.reply import reply
from voice.words.phrases import read


def swatch(count: int, length_mm: float, *, rounds: bool = False, washed: bool = False) -> c.Swatch:
    return c.Swatch(count, Amount(length_mm, 1.0, Unit.MM), rounds, washed)


@settings(max_examples=examples(40))
@given(st.floats(0.75, 1.3), st.integers(15, 40), st.booleans())
def test_a_swatch_says_most_of_what_is_true(factor: float, count: int, rounds: bool) -> None:
    """Hands far from the tables are found within the 3 % by which a piece differs from a swatch."""
    state = begun()
    usual = prior(state.settings)
    true = factor * (usual.height_mm if rounds else usual.width_mm)
    gauge = told(state, swatch(count, true * count, rounds=rounds)).piece.gauge
    found = gauge.height_mm if rounds else gauge.width_mm
    assert abs(found / true - 1) < 0.03
    row = (0.0, 1.0, 0.0) if rounds else (1.0, 0.0, 0.0)
    assert gauge.of(row).sd < usual.of(row).sd / 2


@settings(max_examples=examples(40))
@given(st.floats(0.8, 1.1), st.floats(0.8, 1.1))
def test_what_washing_takes_is_added_beforehand(wide: float, high: float) -> None:
    """The stitches called, at the size they have after washing, make the head's girth."""
    state = told(
        begun(),
        swatch(30, 210),
        swatch(30, 210 * wide, washed=True),
        swatch(20, 150, rounds=True),
        swatch(20, 150 * high, rounds=True, washed=True),
    )
    washed_mm = state.piece.gauge.width_mm * wide
    assert abs(crown_target(state.piece) * washed_mm - 560) <= washed_mm / 2 + 1e-6
    assert state.settings.girth_mm == 560
    assert state.piece.settings.depth * high == pytest.approx(state.settings.depth)
    assert state.piece.settings.brim * high == pytest.approx(state.settings.brim)


def test_the_washed_swatch_teaches_nothing_twice() -> None:
    before = told(begun(), swatch(30, 210))
    after = told(before, swatch(30, 200, washed=True))
    assert after.piece.gauge == before.piece.gauge
    assert after.washing is not None
    alone = told(begun(), swatch(30, 200, washed=True))
    assert alone.washing is None
    assert alone.piece.gauge.of((1.0, 0.0, 0.0)).sd > before.piece.gauge.of((1.0, 0.0, 0.0)).sd


def test_answers_after_washing_are_still_those_wanted() -> None:
    state = told(begun(), swatch(30, 210), swatch(30, 189, washed=True))
    bigger = told(state, c.Change("head_mm", Amount(600, 1.0, Unit.MM)))
    assert bigger.settings.girth_mm == 600
    assert bigger.piece.settings.girth_mm == pytest.approx(600 / 0.9)
    deeper = told(state, c.Adjust("depth_mm", Amount(20, 1.0, Unit.MM)))
    assert deeper.settings.depth == pytest.approx(state.settings.depth + 20)
    worked = told(state, *[NEXT] * 8, c.RippedBack(3))
    assert worked.piece.settings == state.piece.settings


def test_a_swatch_is_mended_and_taken_back() -> None:
    state = told(begun(), swatch(30, 210), swatch(30, 189, washed=True))
    mended = told(state, c.No(Amount(200, 1.0, Unit.MM)))
    assert [one.length_mm for one in mended.swatches] == [210, 200]
    assert mended.washing is not None
    assert mended.washing.width == pytest.approx(200 / 210)
    undone = told(state, c.Undo())
    assert (undone.washing, undone.wanted) == (None, None)
    assert undone.piece.settings == undone.settings


def test_the_yarn_said_after_its_swatch_keeps_it_and_another_yarn_drops_it() -> None:
    setup = fold(State(), first_turn())
    early = told(setup, swatch(30, 150), c.Choose("yarn", 3))
    assert early.piece.gauge.width_mm == pytest.approx(5.0, rel=0.03)
    assert told(early, c.Choose("yarn", 5)).swatches == ()


def test_the_next_piece_of_the_same_yarn_shrinks_alike() -> None:
    state = told(begun(), swatch(30, 210), swatch(30, 189, washed=True), *[NEXT] * 8)
    state = told(state, c.Measured(Amount(33.0, 0.5, Unit.CM), c.Kind.AROUND), c.Yes())
    head = c.Change("head_mm", Amount(52.0, unit=Unit.CM))
    same = fold(State(), first_turn((head,), carried(state, "hat 1", (head,))))
    assert same.piece.settings.girth_mm == pytest.approx(520 / 0.9)
    yarn = c.Choose("yarn", 6)
    other = fold(State(), first_turn((yarn, head), carried(state, "hat 1", (yarn, head))))
    assert other.washing is None


@pytest.mark.parametrize(
    ("command", "reason"),
    [
        (swatch(2, 14), Reason.ODD_SWATCH),
        (swatch(20, 2000), Reason.ODD_SWATCH),
        (c.Swatch(20, Amount(-3.0)), Reason.ODD_SWATCH),
        (c.Swatch(20, Amount(30.0, unit=Unit.GRAM)), Reason.WRONG_UNIT),
    ],
)
def test_what_is_no_swatch_is_refused(command: c.Swatch, reason: Reason) -> None:
    assert why_refused(begun(), command) is reason


def test_felting_is_not_washing() -> None:
    state = told(begun(), swatch(30, 210))
    assert why_refused(state, swatch(30, 110, washed=True)) is Reason.ODD_WASHING


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("swatch twenty stitches eleven centimetres", c.Swatch(20, Amount(11.0, unit=Unit.CM))),
        ("Swatch 12 rows in 10 cm", c.Swatch(12, Amount(10.0, unit=Unit.CM), by_rounds=True)),
        (
            "washed swatch twenty stitches ten and a half",
            c.Swatch(20, Amount(10.5, 0.5), washed=True),
        ),
        ("washed twelve rounds nine", c.Swatch(12, Amount(9.0), by_rounds=True, washed=True)),
    ],
)
def test_what_makers_say_of_a_swatch(said: str, command: c.Command) -> None:
    assert read(said) == command


def test_both_numbers_are_said_and_written() -> None:
    state = told(begun(unit="centimeter"), c.Swatch(30, Amount(21.0, 0.1, Unit.CM)))
    washed = c.Swatch(30, Amount(18.9, 0.1, Unit.CM), washed=True)
    after = told(state, washed)
    said = reply(state, washed, decide(state, washed), after)
    assert "shrinks by ten percent" in said
    assert "sixty two point two centimetres around" in said  # 56 / 0.9
    assert "washed it is fifty six around" in said
    text = as_text(as_made(after, "Test"), 200)
    assert "Circumference 62" in text
    assert "After washing" in text
