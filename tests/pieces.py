"""Pieces for tests: driven by hand, or at random through everything a maker may say."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.shape.settings import Answered
from pattern.trade.lengths import Amount, Unit
from tests.openings import opening


def begun(**answers: Answered) -> State:
    """A piece at its ring, for a head of 56 cm unless said otherwise."""
    known = {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0, **answers}
    return fold(State(), opening(State(), known))


def told(state: State, *commands: c.Command) -> State:
    """The state after commands; one that is refused changes nothing."""
    for command in commands:
        try:
            state = fold(state, decide(state, command))
        except Refused:
            continue
    return state


NEXT = c.Next()
FINGERS_OR_CM = [Amount(2.0), Amount(3.0, 0.5, Unit.CM)]
COMMANDS = st.one_of(
    st.just(NEXT),
    st.just(NEXT),
    st.just(NEXT),
    st.sampled_from(
        [
            c.Skip(),
            c.Yes(),
            c.No(),
            c.Undo(),
            c.StartSides(),
            c.StartBrim(),
            c.StartNext(),
            c.FinishNow(),
            c.Lies(c.Look.RIPPLES),
            c.Lies(c.Look.CUPS),
            c.Back(),
            c.RippedBack(1),
            c.RippedBack(3),
            c.Change("brim_mm", Amount(3.0, unit=Unit.CM)),
            c.Pause(),
            c.Resume(),
            c.TapeThere(there=False),
            c.HeadThere(there=True),
            c.HeadThere(there=False),
        ]
    ),
    st.builds(c.TriedOn, st.sampled_from(c.Fit), st.none() | st.sampled_from(FINGERS_OR_CM)),
    st.integers(1, 9).map(c.Sets),
    st.integers(3, 160).map(c.Counted),
    st.builds(
        lambda cm, kind: c.Measured(Amount(cm, 0.5, Unit.CM), kind),
        st.integers(4, 130).map(lambda half: half / 2),
        st.sampled_from([None, c.Kind.ACROSS, c.Kind.AROUND, c.Kind.DEPTH, c.Kind.BRIM]),
    ),
)
"""Anything that may be said at the work, half of the time that a round is done."""


SHAPED = [SHAPES[0].name, *(shape.name for shape in SHAPES)]
"""Names of shapes, the hat twice as often as any other."""


@dataclass(frozen=True)
class Story:
    """What a maker said: short to print when a test fails, unlike the state it leads to."""

    answers: tuple[tuple[str, Answered], ...]
    commands: tuple[c.Command, ...]

    @property
    def state(self) -> State:
        """The piece at the end of it."""
        return told(begun(**dict(self.answers)), *self.commands)


@st.composite
def stories(draw: st.DrawFn) -> Story:
    """A piece somewhere in its making, after up to ninety turns."""
    answers: st.SearchStrategy[dict[str, Answered]] = st.fixed_dictionaries(
        {
            "shape": st.sampled_from(SHAPED),
            "yarn": st.sampled_from([3, 4, 5, 7]),
            "stitch": st.sampled_from(["single", "half double", "double"]),
            "terms": st.sampled_from(["us", "uk"]),
            "unit": st.sampled_from(["inch", "centimeter", "millimeter"]),
            "brim_mm": st.sampled_from([None, 0.0, 60.0]),
            "stacked": st.booleans(),
            "joined": st.booleans(),
        }
    )
    first = (NEXT,) * draw(st.integers(0, 30))
    then = draw(st.lists(COMMANDS, max_size=60))
    return Story(tuple(draw(answers).items()), (*first, *then))
