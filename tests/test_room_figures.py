"""The figures of rooms add up, and are told so that the worst is not hidden."""

from __future__ import annotations

import pytest

from voice.room_figures import Figure, expectations


@pytest.mark.parametrize("figure", expectations(), ids=lambda figure: figure.sentence)
def test_all_commands_are_accounted_for(figure: Figure) -> None:
    total = figure.right + figure.wrong + figure.asked + figure.missed
    assert total == pytest.approx(100.0, abs=0.2)
    for share in (figure.right, figure.wrong, figure.asked, figure.missed):
        assert f"{share:.0f}" in figure.sentence


def test_louder_talk_is_never_said_to_be_heard_better() -> None:
    for addressed in (False, True):
        for distance_m in (0.3, 1.0):
            rows = [
                figure
                for figure in expectations()
                if (figure.addressed, figure.distance_m) == (addressed, distance_m)
            ]
            quiet_first = sorted(rows, key=lambda f: -(f.talk_db if f.talk_db is not None else 99))
            rights = [figure.right for figure in quiet_first]
            assert rights == sorted(rights, reverse=True)
