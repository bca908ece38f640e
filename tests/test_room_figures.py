"""The figures of rooms add up, and are told so that the worst is not hidden."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from voice.cli.room_figures import (
    FILMS_MEASURED_BY,
    MEASURED_BY,
    Figure,
    expectations,
    over_films,
)

EVERY = (*expectations(), *over_films())


@pytest.mark.parametrize("figure", EVERY, ids=lambda figure: figure.sentence)
def test_all_commands_are_accounted_for(figure: Figure) -> None:
    total = figure.right + figure.wrong + figure.asked + figure.missed
    assert total == pytest.approx(100.0, abs=0.2)
    told = re.findall(r"(\d+)(?= of 100| taken| asked| missed)", figure.sentence)
    shares = (figure.right, figure.wrong, figure.asked, figure.missed)
    assert told == [f"{share:.0f}" for share in shares]


def test_no_place_is_told_twice_and_quiet_comes_before_talk() -> None:
    assert len({figure.place for figure in EVERY}) == len(EVERY)
    for before, after in pairwise(expectations()):
        if (before.addressed, before.distance_m) == (after.addressed, after.distance_m):
            assert after.weaker_db is not None
            assert before.weaker_db is None or (before.other, -before.weaker_db) < (
                after.other,
                -after.weaker_db,
            )


def rows(path: str) -> list[str]:
    text = (Path(__file__).parents[1] / path).read_text(encoding="utf-8")
    return [line for line in text.splitlines() if line.startswith("| ") and " m away, " in line]


def row(figure: Figure) -> str:
    shares = (figure.right, figure.wrong, figure.asked, figure.missed)
    return f"| {figure.place} | {' | '.join(map(str, shares))} |"


WITH_INTERVALS = [
    f"| {f.place} | {f.right} | {f.right_95} | {f.wrong} | {f.wrong_95} | {f.asked} | {f.missed} |"
    for f in EVERY
]


def test_the_manual_tells_the_same_and_how_sure_it_is() -> None:
    assert rows("voice/manual/listening.md") == WITH_INTERVALS
    page = Path(__file__).parents[1] / "voice" / "manual" / "listening.md"
    text = page.read_text(encoding="utf-8")
    assert MEASURED_BY in text
    assert FILMS_MEASURED_BY in text


def test_the_readme_tells_six_of_them_and_not_the_good_ones_alone() -> None:
    told = rows("README.md")
    assert told == [row(figure) for figure in EVERY if row(figure) in told]
    films = [figure for figure in over_films() if row(figure) in told]
    rooms = [figure for figure in expectations() if row(figure) in told]
    assert (len(rooms), len(films)) == (4, 2)
    assert any(figure.right < 85 for figure in rooms)
    assert any(figure.wrong > 0 for figure in rooms)
