"""Merges the lines of several sizes into one, with numbers in brackets where they differ."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, zip_longest

from pattern.shape.rounds import Round
from pattern.writeup.document import Step
from pattern.writeup.written_rounds import stitches, written


@dataclass(frozen=True, slots=True)
class Run:
    """Identical rounds, one after another."""

    text: str
    times: int


def runs_of(rounds: Sequence[Round], short: str) -> list[Run]:
    """Runs of identical rounds; `short` is the stitch's abbreviation."""
    texts = [f"{written(one, short)} - {stitches(one.after)}" for one in rounds]
    return [Run(text, len(list(same))) for text, same in groupby(texts)]


def lines_of(runs: Sequence[list[Run]]) -> list[Step]:
    """Lines of a part for all sizes, from the runs of each size.

    There is a line for each run if all sizes have the same number of runs, else for each round.
    """
    single = all(run.times == 1 for each in runs for run in each)
    if single or len({len(each) for each in runs}) > 1:
        rows = zip_longest(*([run.text for run in each for _ in range(run.times)] for each in runs))
        return [
            Step(f"Round {number}", merged(list(texts))) for number, texts in enumerate(rows, 1)
        ]
    lines = []
    for row in zip(*runs, strict=True):
        times = [run.times for run in row]
        many = _numbers([str(count) for count in times])
        name = "round" if max(times) == 1 else "rounds"
        lines.append(Step(f"{many} {name}", merged([run.text for run in row])))
    return lines


def merged(texts: Sequence[str | None]) -> str:
    """One line for all sizes, with brackets where only the numbers differ.

    None stands for a size without this line. Sizes with different words get text of their own.
    """
    alike: dict[str, list[int]] = {}
    for size, text in enumerate(texts):
        if text is not None:
            alike.setdefault(re.sub(r"\d+", "#", text), []).append(size)
    said = []
    for sizes in alike.values():
        only = f"(size {_listed(sizes)}) " if len(sizes) < len(texts) else ""
        said.append(only + _together([text for size in sizes if (text := texts[size])]))
    return " ".join(said)


def _together(texts: Sequence[str]) -> str:
    """One text from texts that differ only in their numbers."""
    pieces = zip(*(re.split(r"(\d+)", text) for text in texts), strict=True)
    return "".join(_numbers(numbers) for numbers in pieces)


def _numbers(numbers: Sequence[str]) -> str:
    """One number if all are equal, otherwise the first with the others in brackets."""
    if len(set(numbers)) == 1:
        return numbers[0]
    return f"{numbers[0]} ({', '.join(numbers[1:])})"


def _listed(sizes: Sequence[int]) -> str:
    return ", ".join(str(size + 1) for size in sizes)
