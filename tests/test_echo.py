"""The deaf time after speech: never shorter than the echo that was heard, never too long."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voice.dialogue import echo as e
from voice.dialogue.echo import GAP_S, LONGEST_S, MARGIN_S, REPLIES, Echo

TAILS = st.floats(0.0, LONGEST_S)
SOUNDS = st.lists(st.tuples(st.floats(-0.1, 1.5), st.floats(0.0, 1.5)), max_size=6)


def after_reply(echo: Echo, *sounds: tuple[float, float]) -> Echo:
    """What is known after a reply and what was heard then: (began, length)."""
    echo = e.began(echo)
    for began_s, length_s in sorted(sounds):
        echo = e.heard(echo, began_s, began_s + length_s)
    assert e.settled(echo, LONGEST_S) == echo, "too soon to tell"
    return e.settled(echo, LONGEST_S + GAP_S)


@given(st.lists(TAILS, min_size=REPLIES, max_size=10))
def test_no_echo_as_long_as_those_heard_last_is_taken_for_the_maker(tails_s: list[float]) -> None:
    echo = Echo()
    for count, tail_s in enumerate(tails_s, 1):
        echo = after_reply(echo, (0.0, tail_s))
        assert GAP_S <= echo.deaf_s <= LONGEST_S
        assert count >= REPLIES or echo.deaf_s == LONGEST_S
    longest_s = max(tails_s[-REPLIES:])
    assert echo.deaf_s >= min(longest_s + MARGIN_S, LONGEST_S)


@given(SOUNDS, st.lists(TAILS, min_size=REPLIES, max_size=REPLIES))
def test_a_maker_who_speaks_early_never_shortens_it(
    sounds: list[tuple[float, float]], tails_s: list[float]
) -> None:
    """The echo is there as well; whatever the maker adds, it is not taken to be shorter."""
    alone = heard = Echo()
    for tail_s in tails_s:
        alone = after_reply(alone, (0.0, tail_s))
        heard = after_reply(heard, (0.0, tail_s), *sounds)
    assert heard.deaf_s >= alone.deaf_s


@pytest.mark.parametrize(
    ("sounds", "deaf_s"),
    [
        ((), GAP_S),
        (((0.0, 0.2),), 0.3),
        (((0.0, 0.46),), LONGEST_S),
        (((0.7, 0.4),), GAP_S),
        (((0.1, 0.1), (0.3, 0.1)), LONGEST_S),
        (((0.2, 0.9),), LONGEST_S),
    ],
)
def test_it_follows_what_is_heard_after_replies(
    sounds: tuple[tuple[float, float], ...], deaf_s: float
) -> None:
    echo = Echo()
    for _ in range(REPLIES):
        echo = after_reply(echo, *sounds)
    assert echo.deaf_s == pytest.approx(deaf_s)
