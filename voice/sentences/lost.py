"""A lost place: which round it must be, as an offer."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.forecast.find_place import Found, by_count, by_gap
from pattern.session.commands import LostAt
from pattern.session.state import State
from voice.sentences.amounts import counted
from voice.words.spoken_numbers import say_integer


def answer(state: State, command: LostAt) -> str:
    """The round it must be, and how to go there."""
    found = (by_gap if command.between else by_count)(state, command.count)
    here = state.piece.finished
    if here in found.worked:
        return _here(found, here)
    if found.ahead and not (found.worked and here - found.worked[-1] < found.ahead[0] - here):
        return _ahead(found.ahead[0], here)
    if found.worked:
        return _back(found.worked, here)
    seen = (
        f"{say_integer(command.count)} between increases"
        if command.between
        else (counted(command.count, "stitch", "stitches"))
    )
    return f"No round near here has {seen}: count again, or say where am I."


def _here(found: Found, here: int) -> str:
    said = f"That is round {say_integer(here)}, the last one done: that is where you are."
    if len(found.worked) == 1:
        return said
    others = found.worked[:-1]
    alike = "Round {} looks" if len(others) == 1 else "Rounds {} look"
    return f"{said} {alike.format(_listed(others))} the same: count them down to be sure."


def _ahead(number: int, here: int) -> str:
    if number == here + 1:
        return f"That is round {say_integer(number)}, the one called now: say next if it is whole."
    times = "twice" if number == here + 2 else f"{say_integer(number - here)} times"
    return f"That would be round {say_integer(number)}; say next {times} to go there."


def _back(worked: Sequence[int], here: int) -> str:
    number = worked[-1]
    rip = counted(here - number, "round")
    said = f"That is round {say_integer(number)}; say ripped back {rip} to go there."
    if len(worked) == 1:
        return said
    return f"{said} It may be {_listed(worked[:-1])} as well: count the rounds to be sure."


def _listed(numbers: Sequence[int]) -> str:
    """Numbers in words; a long run by its ends."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{say_integer(numbers[0])} to {say_integer(numbers[-1])}"
    words = [say_integer(number) for number in numbers]
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
