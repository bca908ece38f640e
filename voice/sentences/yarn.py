"""Yarn: what is needed, whether it lasts, and what would make it last."""

from __future__ import annotations

import math

from pattern.forecast.yarn_left import Fit, Lasting, at_most, edge_rounds, latest_brim, left, so_far
from pattern.forecast.yarn_left import enough as lasting
from pattern.forecast.yarn_savings import Saving
from pattern.gauge.estimate import Estimate
from pattern.gauge.yarn_use import Need
from pattern.plan.brim import brim_total
from pattern.session.decide_yarn import on_hand, use_of
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Unit
from voice.sentences.amounts import counted, joined, with_unit
from voice.words.spoken_numbers import say_integer

TAIL_MM, INCHES_MM = 150.0, 152.4
"""A tail that can be woven in, as it is said in cm and in inches: common practice, no source."""
SURE = 3.0
"""Standard deviations above what is needed from which yarn is said to last for sure; our choice."""
UNKNOWN = "I do not know how much yarn you have: say, I have two hundred grams."


def needed(state: State) -> str:
    """The yarn that the rounds left need."""
    need = left(state)
    if not need.grams.mean:
        return "No rounds are left, so no more yarn is needed."
    return joined(
        f"{_give(need.grams, 'gram')}, for the rounds left.",
        f"That is {_give(need.metres, 'metre')}.",
        _balls(need),
    )


def used(state: State) -> str:
    """The yarn that went into what is worked."""
    took = so_far(state)
    if not took.grams.mean:
        return "Nothing is worked yet, so no yarn is used."
    ended = state.stage in {Stage.FINISHING, Stage.DONE}
    return joined(
        f"{_give(took.grams, 'gram')}, {'in all' if ended else 'so far'}.",
        f"That is {_give(took.metres, 'metre')}.",
    )


def enough(state: State) -> str:
    """Whether the yarn lasts; if not, what would fit, and when the brim has to begin."""
    use = use_of(state)
    have = on_hand(state, use)
    if have is None:
        return joined(needed(state), UNKNOWN)
    found = lasting(state, use, grams=have.mean)
    if found.enough:
        sure = have.mean >= found.need.grams.mean + SURE * found.need.grams.sd
        return joined(_verdict("yes" if sure else "probably", have, found))
    latest = latest_brim(state, use, have.mean)
    return joined(_verdict("no", have, found), _fits(found, state), _latest(latest, state))


def new_ball(state: State) -> str:
    """How a ball is joined: common practice, no source."""
    tail = with_unit(INCHES_MM if state.settings.unit is Unit.INCH else TAIL_MM, state.settings)
    between = (
        "between two increases"
        if state.offered and state.offered.places
        else ("within plain stitches")
    )
    return joined(
        f"{tail} of tail on both yarns.",
        f"Change {between}, away from the marker: draw the new yarn through the last "
        "loops of a stitch, and leave both tails inside.",
    )


def weighed(grams: float, after: State) -> str:
    """A weight read back, with what it means."""
    said = joined(f"{_grams(grams)} left.")
    return said if after.brief or after.stage is Stage.SETUP else joined(said, enough(after))


def stash(after: State) -> str:
    """The meaning of the yarn in stock for the work."""
    return "" if after.brief or after.stage is Stage.SETUP else enough(after)


def _verdict(word: str, have: Estimate, found: Lasting) -> str:
    if not found.need.grams.mean:
        return "Yes: no rounds are left."
    if word == "no" and found.need.grams.mean <= have.mean:
        word = "perhaps not"
    has = _grams(have.mean) if _about(have.mean) else "none left"
    return f"{word}: you need {_give(found.need.grams, 'gram')}; you have {has}."


def _fits(found: Lasting, state: State) -> str:
    if not found.fits:
        return "Nothing that I can change would make it last: get more yarn."
    ways = [_fit(fit, state) for fit in found.fits]
    return f"It would last with {'; or '.join(ways)}."


def _fit(fit: Fit, state: State) -> str:
    match fit.saving:
        case Saving.NARROWER_BRIM:
            return f"a brim of {with_unit(fit.value_mm, state.settings, 8)}"
        case Saving.SHORTER_SIDES:
            return f"a hat {with_unit(fit.value_mm, state.settings, 8)} deep"
        case Saving.OTHER_COLOUR_EDGE:
            rounds = edge_rounds(state, fit)
            if rounds == brim_total(state.piece):
                return "a plain brim in another colour"
            last = "round" if rounds == 1 else f"{say_integer(rounds)} rounds"
            return f"the last {last} of the brim plain, in another colour"


def _latest(round_: int | None, state: State) -> str:
    if round_ is None or not brim_total(state.piece):
        return ""
    if round_ <= state.piece.finished:
        return "For the brim as planned, start it now."
    return f"For the brim as planned, start it after round {say_integer(round_)} at the latest."


def _give(value: Estimate, of: str) -> str:
    """As it probably is, never nothing, and the most that it may surely be."""
    mean = max(_about(value.mean), 1)
    return f"{counted(mean, of)}, at most {say_integer(max(_about(at_most(value)), mean + 1))}"


def _grams(grams: float) -> str:
    return counted(_about(grams), "gram")


def _about(number: float) -> int:
    """To whole numbers, and from a hundred to fives: kitchen scales show grams."""
    return round(number) if number < 100 else 5 * round(number / 5)


def _balls(need: Need) -> str:
    """Whole balls for the most that is needed."""
    if need.balls is None:
        return ""
    return f"Have {counted(math.ceil(at_most(need.balls)), 'ball')} to be safe."
