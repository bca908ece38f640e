"""How big a head is at an age, by the tables."""

from __future__ import annotations

from dataclasses import replace

from pattern.session.commands import HeadOf, HeadSize
from pattern.session.state import State
from pattern.trade.head_medians import Sex
from pattern.trade.head_sizes import TABLED_AGES, head_range
from pattern.trade.lengths import Unit
from voice.sentences.amounts import about, about_with_unit, counted, joined, length, with_unit
from voice.words.spoken_numbers import say_integer

_WHO: dict[Sex, tuple[str, str]] = {Sex.MALE: ("a boy", "a man"), Sex.FEMALE: ("a girl", "a woman")}
GROWN_YEARS = TABLED_AGES[-1]
_TOLD_AGES = (0.0, 1.0, 3.0, 6.0, 10.0, GROWN_YEARS)
"""Ages that are told where none is named."""


def answer(state: State, command: HeadSize) -> str:
    """The middle and the range, and that a measured head wins."""
    age = GROWN_YEARS if command.age_years is None else command.age_years
    sexes = [command.sex] if command.sex else list(Sex)
    found = [head_range(age, sex) for sex in sexes]
    who = [_who(age, sex) for sex in sexes]
    settings = state.settings
    middles = [
        f"{length(heads.middle, settings, 8)} for {name}"
        for heads, name in zip(found, who, strict=True)
    ]
    middles[0] = f"{with_unit(found[0].middle, settings, 8)} for {who[0]}"
    small, large = min(h.small for h in found), max(h.large for h in found)
    return joined(
        f"{', '.join(middles)}, in the middle.",
        f"Nearly all have {about(small, settings)} to {about(large, settings)}.",
        "A measured head wins.",
    )


def taken(command: HeadOf, state: State) -> str:
    """A head that was told by its wearer, read back; in both units while none is known."""
    age = command.age_years
    grown = age is None or age >= GROWN_YEARS
    if grown:
        who = (
            {Sex.MALE: "man's ", Sex.FEMALE: "woman's "}.get(command.sex, "") if command.sex else ""
        )
        said = f"a grown {who}head"
    else:
        who = {Sex.MALE: "a boy", Sex.FEMALE: "a girl"}[command.sex] if command.sex else "a child"
        who = "a baby" if age is not None and age < 2 and not command.sex else who
        said = f"the head of {who} of {_old(age or 0.0)}"
    settings = state.settings
    size = with_unit(settings.head, settings, 8)
    if "unit" not in state.answered:
        metric = with_unit(settings.head, replace(settings, unit=Unit.CM), 8)
        size = f"{size}, or {metric}"
    return joined(f"{said}, about {size}.")


def _old(years: float) -> str:
    return counted(round(12 * years), "month") if years < 2 else counted(round(years), "year")


def table(state: State) -> str:
    """Middle heads of a few ages; each age can be asked for."""
    said: list[str] = []
    for age in _TOLD_AGES:
        middle = sum(head_range(age, sex).middle for sex in Sex) / len(Sex)
        how_old = (
            "newborn"
            if not age
            else "grown"
            if age >= GROWN_YEARS
            else (f"at {say_integer(int(age))}")
        )
        size = (
            about_with_unit(middle, state.settings) if not said else (about(middle, state.settings))
        )
        said.append(f"{size} {how_old}")
    return joined(
        f"{', '.join(said)}.", "A measured head wins.", "Ask for one age to hear its range."
    )


def _who(age: float, sex: Sex) -> str:
    child, grown = _WHO[sex]
    if age >= GROWN_YEARS:
        return grown
    return f"{child} of {_old(age)}"
