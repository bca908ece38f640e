"""The interview: what is asked, what is taken for an answer, and what can be changed later."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.gauge.prior import prior
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES, Shape
from pattern.shape.interview import BEGIN, QUESTIONS, questions
from pattern.shape.limits import IN_GRAMS, LIMITS
from pattern.shape.rounds import Stage
from pattern.shape.settings import Answered, Settings
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Stitch, Terms
from tests.hats import begun, said, until, why_refused

CM = Unit.CM


def asked(key: str, unit: str = "inch") -> State:
    """An interview in which this is asked."""
    state = said(State(), c.Choose("unit", unit), c.EveryQuestion())
    while state.question != key:
        state = said(state, c.Skip())
    return state


@given(st.sampled_from(sorted(LIMITS)), st.floats() | st.integers(-10, 800))
def test_a_number_is_taken_or_refused_for_its_limits(key: str, value: float) -> None:
    """Units said, so that none is guessed; nothing but a refusal comes of a bad number."""
    amount = Amount(value, 1.0, Unit.MM if LIMITS[key].tape else None)
    shape = "bowl" if key in {"across_mm", "height_mm"} else "brimmed hat"
    before = said(State(), c.Choose("shape", shape))
    if LIMITS[key].hold(value):
        state = said(before, c.Change(key, amount))
        assert getattr(state.settings, key) == pytest.approx(value)
    else:
        assert why_refused(before, c.Change(key, amount)) is Reason.OUT_OF_LIMITS


@given(
    st.text(max_size=8) | st.sampled_from(QUESTIONS),
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=6),
)
def test_a_word_is_taken_or_refused(key: str, value: str | float | bool | None) -> None:
    try:
        decide(State(), c.Choose(key, value))
    except Refused as refused:
        reason = refused.reason
    else:
        return
    assert reason in {
        Reason.WRONG_ANSWER,
        Reason.OUT_OF_LIMITS,
        Reason.NO_SUCH_STITCH,
        Reason.NOT_OF_SHAPE,
    }


@given(st.floats(11.1, 28.3))
def test_a_bare_head_in_inches_or_centimetres(head_in: float) -> None:
    """The unit that makes it a head is the one that is meant, when it is the maker's own."""
    state = said(asked("head_mm"), c.Answer(Amount(head_in)))
    assert state.settings.head_mm == pytest.approx(head_in * 25.4)
    metric = said(asked("head_mm", "centimeter"), c.Answer(Amount(head_in * 2.54)))
    assert metric.settings.head_mm == pytest.approx(head_in * 25.4)


@pytest.mark.parametrize(
    ("unit", "amount", "reason"),
    [
        ("centimeter", Amount(22), Reason.OTHER_UNIT),
        ("inch", Amount(56), Reason.OTHER_UNIT),
        ("millimeter", Amount(22), Reason.OTHER_UNIT),
        ("inch", Amount(22, unit=CM), Reason.OUT_OF_LIMITS),
        ("centimeter", Amount(22, unit=CM), Reason.OUT_OF_LIMITS),
        ("inch", Amount(0), Reason.OUT_OF_LIMITS),
        ("inch", Amount(-22), Reason.OUT_OF_LIMITS),
        ("inch", Amount(5), Reason.OUT_OF_LIMITS),
        ("inch", Amount(math.inf), Reason.OUT_OF_LIMITS),
        ("inch", Amount(22, unit=Unit.GRAM), Reason.WRONG_UNIT),
        ("inch", Amount(22, unit=Unit.YARD), Reason.WRONG_UNIT),
    ],
)
def test_heads_that_are_none(unit: str, amount: Amount, reason: Reason) -> None:
    state = asked("head_mm", unit)
    assert why_refused(state, c.Answer(amount)) is reason
    assert why_refused(state, c.Change("head_mm", amount)) is reason


def test_the_other_unit_is_named() -> None:
    with pytest.raises(Refused) as caught:
        decide(asked("head_mm", "centimeter"), c.Answer(Amount(22)))
    assert caught.value.detail == {"value": 22, "unit": "inch"}


def test_a_unit_said_once_is_the_makers_own() -> None:
    state = said(asked("head_mm"), c.Answer(Amount(56, unit=CM)))
    assert state.settings.unit is CM
    assert state.settings.head_mm == pytest.approx(560)
    deep = said(state, c.Change("depth_mm", Amount(18)))
    assert deep.settings.depth == pytest.approx(180)


@pytest.mark.parametrize(
    "key",
    sorted(set(LIMITS) - {"hook_mm"} - {key for key, limits in LIMITS.items() if limits.tape}),
)
@pytest.mark.parametrize("unit", [Unit.MM, CM, Unit.GRAM])
def test_counts_classes_and_slopes_have_no_unit(key: str, unit: Unit) -> None:
    """Each in the middle of its limits, so that only the unit can be refused; but weights do."""
    if key in IN_GRAMS and unit is Unit.GRAM:
        assert decide(State(), c.Change(key, Amount(100, unit=unit)))[0] == (
            e.QuestionAnswered(key, 100.0)
        )
        return
    value = (LIMITS[key].least + LIMITS[key].most) // 2
    assert why_refused(State(), c.Change(key, Amount(value, unit=unit))) is Reason.WRONG_UNIT


@pytest.mark.parametrize(
    "command",
    [
        c.Change("unit", Amount(1)),
        c.Change("girth", Amount(1)),
        c.Adjust("head_mm", Amount(1)),
        c.Adjust("fullness", Amount(1)),
        c.Choose("unit", "gram"),
        c.Choose("joined", "maybe"),
    ],
)
def test_what_is_no_answer_to_that(command: c.Command) -> None:
    assert why_refused(State(), command) is Reason.WRONG_ANSWER


@given(st.sampled_from(["depth_mm", "brim_mm"]), st.floats(0.1, 5), st.booleans())
def test_more_and_less(key: str, by_cm: float, less: bool) -> None:
    before = State().settings
    was = before.depth if key == "depth_mm" else before.brim
    after = said(State(), c.Adjust(key, Amount(by_cm, unit=CM), less)).settings
    now = after.depth if key == "depth_mm" else after.brim
    assert now - was == pytest.approx(-10 * by_cm if less else 10 * by_cm)


def skipped(state: State) -> tuple[list[str], State]:
    """The questions that are asked while all are left, and the state after them."""
    keys = []
    while state.question is not None:
        keys.append(state.question)
        state = said(state, c.Skip())
    return keys, state


def test_questions_in_their_order_until_the_ring() -> None:
    keys, state = skipped(said(State(), c.EveryQuestion()))
    assert tuple(keys) == questions(Settings())
    assert set(keys) <= set(QUESTIONS)
    assert state.stage is Stage.RING
    assert state.settings == Settings()


@pytest.mark.parametrize("shape", [shape.name for shape in SHAPES])
def test_few_questions_are_asked_unless_all_are_wanted(shape: str) -> None:
    """A size, the unit where no length told it, yarn and hook; and whether to begin."""
    before = said(State(), c.Choose("shape", shape))
    keys, state = skipped(before)
    size = "head_mm" if before.settings.shape.for_head else "across_mm"
    assert sorted(keys) == sorted([size, "unit", "yarn", "hook_mm", BEGIN])
    assert keys[-1] == BEGIN
    assert state.stage is Stage.RING


@given(st.sampled_from([shape for shape in SHAPES if shape.for_head]), st.floats(300, 700))
def test_a_length_with_its_unit_leaves_no_unit_to_be_asked(shape: Shape, head_mm: float) -> None:
    for unit in (Unit.INCH, CM, Unit.MM):
        head = Amount(head_mm / Amount(1.0, unit=unit).mm(unit), unit=unit)
        keys, state = skipped(said(State(), c.Choose("shape", shape.name), c.Answer(head)))
        assert keys == ["yarn", "hook_mm", BEGIN]
        assert state.settings.unit is unit


@given(st.sampled_from(["brimmed hat", "bucket hat"]))
def test_no_slope_is_asked_after_no_brim(shape: str) -> None:
    state = said(State(), c.Choose("shape", shape), c.EveryQuestion(), c.Choose("brim_mm", 0))
    keys, _ = skipped(state)
    assert "slope_deg" not in keys
    assert "joined" in keys


@pytest.mark.parametrize("command", [c.Begin(), c.Yes(), c.Next(), c.GoOn(), c.Skip()])
def test_any_yes_begins(command: c.Command) -> None:
    _, state = skipped(said(State(), c.Choose("unit", "inch")))
    asked_last = said(begin_asked(), command)
    assert asked_last.stage is state.stage is Stage.RING
    assert asked_last.offered is not None


def begin_asked() -> State:
    """An interview whose last question stands."""
    head = c.Answer(Amount(56.0, unit=CM))
    return said(State(), head, c.Answer(Amount(4.0)), c.Answer(Amount(5.0)))


def test_a_bare_no_changes_nothing_where_it_is_asked_whether_to_begin() -> None:
    state = begin_asked()
    assert state.question == BEGIN
    assert decide(state, c.No()) == ()
    mended = said(state, c.No(Amount(6.0)))
    assert mended.settings.hook_mm == pytest.approx(6.0)


@given(st.floats(300, 700), st.sampled_from([Unit.INCH, CM]))
def test_caps_hold_by_being_smaller_and_hats_with_a_brim_do_not(head_mm: float, unit: Unit) -> None:
    """About an inch of a grown head: common practice, no source."""
    answers = (c.Choose("unit", unit.value), c.Change("head_mm", Amount(head_mm, unit=Unit.MM)))
    for shape in SHAPES:
        if not shape.for_head:
            continue
        state = said(State(), c.Choose("shape", shape.name), *answers, c.Begin())
        brimless = not any(part.shaping.flared for part in shape.parts)
        assert (state.settings.ease_mm < 0) is brimless
        assert -0.1 * head_mm < state.settings.ease_mm <= 0
        if brimless:
            assert state.settings.ease_mm == pytest.approx(-0.05 * head_mm, abs=3.2)
        own = said(State(), c.Choose("shape", shape.name), *answers, c.Change("ease_mm", Amount(0)))
        assert said(own, c.Begin()).settings.ease_mm == 0


def test_the_unit_said_with_the_last_answer_ends_the_interview_too() -> None:
    """Answers by name leave the unit open, until a length in centimetres says it by the way."""
    rest = [key for key in questions(Settings()) if key not in {"unit", "head_mm"}]
    state = fold(State(), (e.Begun(), *(e.QuestionSkipped(key) for key in rest)))
    assert state.question == "head_mm"
    ready = said(state, c.Change("head_mm", Amount(56.0, unit=CM)))
    assert ready.stage is Stage.RING
    assert ready.offered is not None


def test_an_answer_given_early_is_not_asked() -> None:
    state = said(State(), c.Choose("terms", "uk"), c.Choose("stitch", "double crochet"))
    assert state.settings.stitch is Stitch.SINGLE
    assert state.settings.terms is Terms.UK
    keys, _ = skipped(said(state, c.EveryQuestion()))
    assert not {"terms", "stitch"} & set(keys)
    assert keys[0] == "head_mm"


@pytest.mark.parametrize(
    ("age", "sex", "cm"),
    [
        (1.0, Sex.MALE, 46.07),
        (1.0, Sex.FEMALE, 44.90),
        (None, Sex.MALE, 57.4),
        (None, Sex.FEMALE, 56.1),
        (None, None, 56.75),
    ],
)
def test_heads_by_age(age: float | None, sex: Sex | None, cm: float) -> None:
    """Sources: WHO Child Growth Standards 2006; ANSUR II, NATICK/TR-15/007, 2014."""
    settings = said(State(), c.HeadOf(age, sex)).settings
    assert settings.head_mm == pytest.approx(10 * cm)
    assert settings.age_years == (18 if age is None else age)


@pytest.mark.parametrize("age", [-1.0, 121.0, math.nan])
def test_ages_that_are_none(age: float) -> None:
    assert why_refused(State(), c.HeadOf(age)) is Reason.OUT_OF_LIMITS


@pytest.mark.parametrize("key", ["start", "stitch", "joined"])
def test_what_the_ring_fixes(key: str) -> None:
    worked = until(lambda now: now.piece.finished == 1, begun())
    values: dict[str, Answered] = {"start": 8, "stitch": "double", "joined": True}
    assert why_refused(worked, c.Choose(key, values[key])) is Reason.FIXED


def test_other_yarn_in_work_scales_what_was_learned() -> None:
    """The published widths give the ratio; what was learned of this maker stays in it."""
    worked = until(lambda now: now.piece.finished == 4, begun(yarn=4, hook_mm=5.0))
    after = said(worked, c.Change("yarn", Amount(5)))
    old, new = prior(worked.settings), prior(after.settings)
    assert after.piece.gauge.width_mm == pytest.approx(
        worked.piece.gauge.width_mm * new.width_mm / old.width_mm
    )
    assert after.piece.finished == 4


def test_no_with_a_number_mends_the_last_answer() -> None:
    state = said(asked("head_mm"), c.Answer(Amount(15)), c.No(Amount(22)))
    assert state.settings.head_mm == pytest.approx(22 * 25.4)
    again = said(state, c.No(Amount(23)))
    assert again.settings.head_mm == pytest.approx(23 * 25.4)
    for after in (said(state, c.Undo()), said(state, c.No()), said(again, c.Undo())):
        assert (after.settings.head_mm, after.question) == (None, "head_mm")
