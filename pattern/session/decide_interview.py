"""Answers to the interview, and changes of them later."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.decide_yarn import stitches_done
from pattern.session.folding import Unfolding
from pattern.session.refusals import Reason, Refused
from pattern.session.spoken_units import in_mm, in_own_unit, plausible_unit, remembered
from pattern.session.state import State
from pattern.shape.interview import FIXED_BY_RING, OF_SHAPES
from pattern.shape.limits import LIMITS, MOST_ALONG_MM, too_long, with_answer
from pattern.shape.rounds import Stage
from pattern.shape.settings import Answered
from pattern.shape.usual import usual_ease_mm
from pattern.trade.head_medians import Sex, head_median_mm
from pattern.trade.lengths import Amount
from pattern.trade.stitches import stitch_called

ADULT_YEARS = 18.0
MOST_OTHERS = 5
"""Heads that a pattern is written for, besides its own; our choice: more are hard to follow."""
SAME_HEAD_MM = 2.0
"""Heads that differ by less are one size; our choice."""


def changed(
    state: State, command: c.Choose | c.Change | c.Adjust | c.HeadOf
) -> tuple[e.Event, ...]:
    """The events of an answer given by a word, or of one that is to be another.

    Raises: Refused when the value makes no sense, or can no longer change.
    """
    match command:
        case c.Choose("stitch", name):
            stitch = stitch_called(str(name).removesuffix(" crochet"), state.settings.terms)
            if stitch is None:
                raise Refused(Reason.NO_SUCH_STITCH, state.stage, command, {"name": str(name)})
            return _answer(state, command, "stitch", stitch.value)
        case c.Choose(key, value):
            return _answer(state, command, key, value)
        case c.Change(key, amount):
            return _number(state, command, key, amount)
        case c.Adjust():
            return _adjusted(state, command)
        case c.HeadOf():
            return _head(state, command)


def answered(state: State, key: str, amount: Amount, command: c.Command) -> tuple[e.Event, ...]:
    """The events of a bare number or length that answers a question.

    Raises: Refused when it is no answer to that question.
    """
    if key not in LIMITS:
        raise Refused(Reason.WRONG_ANSWER, state.stage, command, {"key": key})
    if key == "ease_mm" and amount.value > 0:
        raise Refused(Reason.WHICH_WAY, state.stage, command, {"key": key})
    return _number(state, command, key, amount)


def closed(so_far: Unfolding) -> Unfolding:
    """The turn, with the end of the interview where no question is left."""
    if so_far.now.stage is Stage.SETUP and so_far.now.question is None:
        return done(so_far)
    return so_far


def done(so_far: Unfolding) -> Unfolding:
    """The turn, with the usual difference to the head where none was said, and the end."""
    ease = usual_ease(so_far.now) if "ease_mm" not in so_far.now.answered else ()
    return so_far.then(*ease, e.SetupDone())


def usual_ease(state: State) -> tuple[e.Event, ...]:
    """The event that a cap or a band is worked smaller than the head; none for other pieces."""
    ease_mm = usual_ease_mm(state.settings)
    return (e.QuestionAnswered("ease_mm", ease_mm),) if ease_mm else ()


def _number(state: State, command: c.Command, key: str, amount: Amount) -> tuple[e.Event, ...]:
    if key not in LIMITS:
        raise Refused(Reason.WRONG_ANSWER, state.stage, command, {"key": key})
    unit = state.settings.unit
    if not LIMITS[key].tape:
        value = amount.value if amount.unit is None else in_own_unit(state, command, key, amount)
        return _answer(state, command, key, value)
    if amount.unit is None and key == "head_mm":
        unit = plausible_unit(state, command, amount)
    return (
        *remembered(state, amount, unit, tells=key == "head_mm"),
        *_answer(state, command, key, in_mm(state, command, key, amount, unit)),
    )


def _adjusted(state: State, command: c.Adjust) -> tuple[e.Event, ...]:
    settings = state.settings
    if command.key not in {"depth_mm", "brim_mm"}:
        raise Refused(Reason.WRONG_ANSWER, state.stage, command, {"key": command.key})
    key = command.key
    if key == "depth_mm" and "height_mm" in settings.shape.asked:
        key = "height_mm"
    by = in_mm(state, command, key, command.amount, settings.unit)
    now = {"depth_mm": settings.depth, "height_mm": settings.height}.get(key, settings.brim)
    return _answer(state, command, key, now - by if command.less else now + by)


def _head(state: State, command: c.HeadOf) -> tuple[e.Event, ...]:
    age = ADULT_YEARS if command.age_years is None else command.age_years
    _within_limits(state, command, "age_years", age)
    sexes = [command.sex] if command.sex else list(Sex)
    girth = sum(head_median_mm(age, sex) for sex in sexes) / len(sexes)
    age_known = e.QuestionAnswered("age_years", age)
    return (age_known, *_answer(state, command, "head_mm", girth))


def head_asked(state: State, command: c.HeadSize) -> tuple[e.Event, ...]:
    """Only an answer. Raises: Refused for an age that nobody has."""
    if command.age_years is not None:
        _within_limits(state, command, "age_years", command.age_years)
    return ()


def also_for(state: State, command: c.AlsoFor) -> tuple[e.Event, ...]:
    """The event of one more head that the pattern is written for.

    Raises: Refused for no head, one that is there already, or one too many.
    """
    heads = state.other_heads_mm
    if not state.settings.shape.for_head:
        raise Refused(Reason.NOT_OF_SHAPE, state.stage, command, {"key": "head_mm"})
    amount, unit = command.amount, state.settings.unit
    if amount.unit is None:
        unit = plausible_unit(state, command, amount)
    head_mm = in_mm(state, command, "head_mm", amount, unit)
    _within_limits(state, command, "head_mm", head_mm)
    own = state.settings.girth_mm - state.settings.ease_mm
    if any(abs(head_mm - known) < SAME_HEAD_MM for known in (own, *heads)):
        raise Refused(Reason.SIZE_KNOWN, state.stage, command)
    if len(heads) == MOST_OTHERS:
        raise Refused(Reason.SIZES_FULL, state.stage, command, {"most": MOST_OTHERS + 1})
    chosen = e.SizesChosen(tuple(sorted((*heads, head_mm))))
    return (*remembered(state, amount, unit, tells=True), chosen)


def one_size(state: State, command: c.OneSize) -> tuple[e.Event, ...]:
    """The event that the pattern is written for one head again. Raises: Refused where it is."""
    if not state.other_heads_mm:
        raise Refused(Reason.NO_SIZES, state.stage, command)
    return (e.SizesChosen(()),)


def _answer(state: State, command: c.Command, key: str, value: Answered) -> tuple[e.Event, ...]:
    if key in FIXED_BY_RING and state.piece.finished:
        raise Refused(Reason.FIXED, state.stage, command, {"key": key})
    if key in OF_SHAPES and key not in state.settings.shape.asked:
        raise Refused(Reason.NOT_OF_SHAPE, state.stage, command, {"key": key})
    if key in LIMITS and isinstance(value, float | int):
        _within_limits(state, command, key, value)
        value = int(value) if LIMITS[key].whole else float(value)
    try:
        changed = with_answer(state.settings, key, value)
    except ValueError:
        raise Refused(Reason.WRONG_ANSWER, state.stage, command, {"key": key}) from None
    if (key == "shape" or key in OF_SHAPES) and too_long(changed):
        raise Refused(Reason.TOO_LONG, state.stage, command, {"most": MOST_ALONG_MM // 1000})
    turn: tuple[e.Event, ...] = (e.QuestionAnswered(key, value),)
    if key == "stash_g" and isinstance(value, float):
        turn = (*turn, e.YarnWeighed(value, stitches_done(state), fresh=True))
    return turn


def _within_limits(state: State, command: c.Command, key: str, value: float) -> None:
    limits = LIMITS[key]
    if not limits.hold(value):
        raise Refused(
            Reason.OUT_OF_LIMITS,
            state.stage,
            command,
            {"key": key, "least": limits.least, "most": limits.most},
        )
