"""The figures of rooms add up, and are told so that the worst is not hidden."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from voice.cli.room_figures import MEASURED_BY, Figure, expectations


@pytest.mark.parametrize("figure", expectations(), ids=lambda figure: figure.sentence)
def test_all_commands_are_accounted_for(figure: Figure) -> None:
    total = figure.right + figure.wrong + figure.asked + figure.missed
    assert total == pytest.approx(100.0, abs=0.2)
    told = re.findall(r"(\d+)(?= of 100| taken| asked| missed)", figure.sentence)
    shares = (figure.right, figure.wrong, figure.asked, figure.missed)
    assert told == [f"{share:.0f}" for share in shares]


def test_no_place_is_told_twice_and_quiet_comes_before_talk() -> None:
    assert len({figure.place for figure in expectations()}) == len(expectations())
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


ALL = [f"| {f.place} | {f.right} | {f.wrong} | {f.asked} | {f.missed} |" for f in expectations()]
WITH_INTERVALS = [
    f"| {f.place} | {f.right} | {f.right_95} | {f.wrong} | {f.wrong_95} | {f.asked} | {f.missed} |"
    for f in expectations()
]


def test_the_manual_tells_the_same_and_how_sure_it_is() -> None:
    assert rows("voice/manual/listening.md") == WITH_INTERVALS
    page = Path(__file__).parents[1] / "voice" / "manual" / "listening.md"
    assert MEASURED_BY in page.read_text(encoding="utf-8")


def test_the_readme_tells_six_of_them_and_not_the_good_ones_alone() -> None:
    told = rows("README.md")
    assert len(told) == 6
    assert [row for row in ALL if row in told] == told
    assert any(f.right < 85 for f, row in zip(expectations(), ALL, strict=True) if row in told)
    assert any(f.wrong > 0 for f, row in zip(expectations(), ALL, strict=True) if row in told)
