"""Rounds in written notation, which describes exactly the stitches placed.

Square brackets hold what is repeated, braces hold repeats of repeats, and round brackets the
stitches at the end of the round. Source: abbreviations and terms of the Craft Yarn Council (from
memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from pattern.shape.repeats import Group, Repeat, recipe
from pattern.shape.rounds import Round
from pattern.trade.stitches import STITCHES, Stitch, Terms
from pattern.writeup.document import Step


def short_name(stitch: Stitch, terms: Terms) -> str:
    """The abbreviation in the maker's terms, such as "sc"."""
    facts = STITCHES[stitch]
    return facts.us_short if terms is Terms.US else facts.uk_short


def slip_name(terms: Terms) -> str:
    """The abbreviation of a slip stitch."""
    return "sl st" if terms is Terms.US else "ss"


@dataclass(frozen=True, slots=True)
class Written:
    """A round to be written, with its counted stitches if they were counted."""

    round: Round
    counted: int | None = None

    @property
    def found(self) -> int:
        """Number of stitches that the next round is worked into."""
        return self.round.after if self.counted is None else self.counted


def written(round_: Round, short: str) -> str:
    """The stitches of a round, such as "[2 sc in next st, sc in next 5 sts] 8 times".

    `short` is the stitch's abbreviation.
    """
    if round_.ring:
        return f"{round_.after} {short} in an adjustable ring"
    if not round_.places:
        return f"{short} in each st around"
    if round_.after == 2 * round_.before:
        return f"2 {short} in each st around"
    said = recipe(round_)
    change = f"{short}2tog" if round_.decreasing else f"2 {short} in next st"
    if all(not repeat.plain for group in said.groups for repeat in group.repeats) and not said.tail:
        return f"{change} around"
    steps = [_group(group, said.lead, change, short) for group in said.groups]
    return ", ".join(steps + _plain(said.tail, short))


def written_lines(rounds: Iterable[Written], short: str) -> tuple[Step, ...]:
    """One line for each round; like rounds one after another share a line.

    A count that differs from the called one is added to it.
    """
    gathered: list[list[Written]] = []
    for line in rounds:
        if gathered and _alike(gathered[-1][-1], line):
            gathered[-1].append(line)
        else:
            gathered.append([line])
    return tuple(_line(run[0], run[-1], short) for run in gathered)


def _alike(one: Written, next_one: Written) -> bool:
    return (
        not one.round.places
        and not next_one.round.places
        and one.round.stage is next_one.round.stage
        and not one.round.ring
        and one.found == one.round.after == next_one.found == next_one.round.after
    )


def _line(first: Written, last: Written, short: str) -> Step:
    begin, end = first.round.number, last.round.number
    numbers = f"Round {begin}" if begin == end else f"Rounds {begin} to {end}"
    count = stitches(last.round.after)
    if last.found != last.round.after:
        count += f", counted {stitches(last.found)}"
    return Step(numbers, written(first.round, short), count)


def stitches(count: int) -> str:
    """A number of stitches in words."""
    return f"{count} st" if count == 1 else f"{count} sts"


def _group(group: Group, lead: int, change: str, short: str) -> str:
    repeats = [_repeat(repeat, lead, change, short) for repeat in group.repeats]
    if group.times == 1:
        return ", ".join(repeats)
    return f"{{{', '.join(repeats)}}} {group.times} times"


def _repeat(repeat: Repeat, lead: int, change: str, short: str) -> str:
    steps = [*_plain(lead, short), change, *_plain(repeat.plain - lead, short)]
    text = ", ".join(steps)
    if repeat.times == 1:
        return text
    return f"[{text}] {repeat.times} times"


def _plain(count: int, short: str) -> list[str]:
    if count == 0:
        return []
    return [f"{short} in next st" if count == 1 else f"{short} in next {count} sts"]


def rounds_counted(count: int) -> str:
    """A number of rounds in words."""
    return "1 round" if count == 1 else f"{count} rounds"
