"""The figures of rooms add up, and are told so that the worst is not hidden."""

from __future__ import annotations

from itertools import pairwise

import pytest

from voice.room_figures import Figure, expectations


@pytest.mark.parametrize("figure", expectations(), ids=lambda figure: figure.sentence)
def test_all_commands_are_accounted_for(figure: Figure) -> None:
    total = figure.right + figure.wrong + figure.asked + figure.missed
    assert total == pytest.approx(100.0, abs=0.2)
    for share in (figure.right, figure.wrong, figure.asked, figure.missed):
        assert f"{share:.0f}" in figure.sentence


def test_no_place_is_told_twice_and_quiet_comes_before_talk() -> None:
    places = [(f.addressed, f.distance_m, f.talk_db) for f in expectations()]
    assert len(set(places)) == len(places)
    for before, after in pairwise(expectations()):
        if (before.addressed, before.distance_m) == (after.addressed, after.distance_m):
            assert after.talk_db is not None
            assert before.talk_db is None or before.talk_db > after.talk_db
