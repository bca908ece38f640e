"""Whatever a maker might say: strategies of every class of command, found by introspection."""

from __future__ import annotations

from dataclasses import fields
from typing import get_args

from hypothesis import strategies as st

from pattern.session.commands import Command
from pattern.shape.interview import QUESTIONS
from pattern.shape.limits import LIMITS
from pattern.shape.reading_kinds import TAPE
from pattern.trade.lengths import Amount, Unit

COMMANDS: tuple[type[Command], ...] = get_args(Command)
KEYS = sorted({*LIMITS, *QUESTIONS, "girth"})
TAPES = st.sampled_from(sorted(TAPE))
AMOUNTS = st.builds(
    Amount,
    st.integers(-3, 90) | st.floats(-10, 800) | st.sampled_from([0.0, 22.0, 57.0, 1e9]),
    st.sampled_from([1.0, 0.5, 0.25, 0.125, 0.1]),
    st.none() | st.sampled_from(Unit),
)
NUMBERS = st.integers(-2, 130)
st.register_type_strategy(Amount, AMOUNTS)


def some(kind: type[Command]) -> st.SearchStrategy[Command]:
    """Any command of a class, with numbers near those that make sense."""
    named = {
        "key": st.sampled_from(KEYS),
        "count": NUMBERS,
        "rounds": st.integers(-1, 4),
        "value": st.sampled_from(["double", "uk", "inch", True, None, 8, 40.0, "gram"]),
        "age_years": st.none() | st.floats(-1, 130),
        "every_min": st.sampled_from([0, 5, 20, 180]) | NUMBERS,
        "stitches": st.none() | NUMBERS,
    }
    mine = {item.name: named[item.name] for item in fields(kind) if item.name in named}
    return st.builds(kind, **mine)


ANY = st.sampled_from(COMMANDS).flatmap(some)
