"""One pattern for several sizes, with the numbers of the other sizes in brackets."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from pattern.forecast.rest_of_piece import begun_again, rounds_ahead
from pattern.forecast.stitch_spread import stitches_unsure
from pattern.forecast.yarn_left import at_most
from pattern.gauge.yarn_use import Need
from pattern.session.decide_yarn import use_of
from pattern.session.events import QuestionAnswered
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Round
from pattern.shape.settings import Answered
from pattern.writeup.at_a_glance import tens, yards
from pattern.writeup.document import Block, Paragraph, Section, Steps, Table
from pattern.writeup.measure_text import plain_length, trade_length
from pattern.writeup.merged_lines import lines_of, runs_of
from pattern.writeup.misfits import misfitting
from pattern.writeup.named_measures import head_mm
from pattern.writeup.written_rounds import short_name


@dataclass(frozen=True, slots=True)
class Size:
    """One size of a pattern, as planned now."""

    state: State
    """The piece at its ring."""
    rounds: tuple[Round, ...]
    need: Need

    @property
    def head_mm(self) -> float:
        """Girth of the head that this size is for."""
        return head_mm(self.state.settings)


def size_of(state: State) -> Size:
    """The size of a piece, worked from its ring with the current gauge."""
    fresh = begun_again(state)
    rounds = rounds_ahead(fresh)
    unsure = stitches_unsure(fresh.piece, rounds)
    need = use_of(state).for_stitches(sum(round_.after for round_ in rounds), unsure)
    return Size(fresh, rounds, need)


def sizes_of(state: State) -> tuple[Size, ...]:
    """The size of a piece and the other sizes wanted, smallest first.

    The depth follows each head; the brim is the same for all.
    """
    if not state.settings.shape.for_head:
        return (size_of(state),)
    others = (size_of(for_head(state, head_mm)) for head_mm in state.other_heads_mm)
    sizes = (size_of(state), *others)
    return tuple(sorted(sizes, key=lambda size: size.head_mm))


def for_head(state: State, head_mm: float) -> State:
    """The piece at its ring for another head, of unknown age."""
    asked, brim = state.settings.shape.asked, state.settings.brim
    answers: dict[str, Answered] = {
        "age_years": None,
        "head_mm": head_mm,
        "depth_mm": None,
        "brim_mm": brim,
    }
    turn = tuple(
        QuestionAnswered(key, value)
        for key, value in answers.items()
        if key in asked or key == "age_years"
    )
    return fold(begun_again(state), turn)


def cover_line(state: State) -> str:
    """The sizes in one line, such as "Sizes: head 54 (57, 60) cm."; empty for one size."""
    return cover(sizes_of(state)) if state.other_heads_mm else ""


def cover(sizes: Sequence[Size]) -> str:
    """The heads of the sizes in one line."""
    heads = [plain_length(size.head_mm, size.state.settings.unit) for size in sizes]
    (first, unit), *others = (head.rsplit(" ", 1) for head in heads)
    more = f" ({', '.join(number for number, _ in others)})" if others else ""
    return f"Sizes: head {first}{more} {unit}."


def in_sizes(state: State) -> tuple[Section, ...]:
    """The section with the other sizes wanted; empty if there are none."""
    if not state.other_heads_mm:
        return ()
    sizes = sizes_of(state)
    about = Paragraph(f"As planned with the gauge of this piece. {ABOUT}")
    blocks: tuple[Block, ...] = (about, table(sizes), *misfits_of(sizes))
    return (Section(f"In {len(sizes)} sizes", blocks, tuple(by_part(sizes))),)


def misfits_of(sizes: Sequence[Size]) -> Iterator[Paragraph]:
    """Parts that cannot be as narrow as asked, size by size."""
    for size in sizes:
        head = plain_length(size.head_mm, size.state.settings.unit)
        yield from misfitting(size.state.piece, f"For a head of {head}: ")


ABOUT = (
    "The first size stands before the round brackets, the others in them, in order. A single "
    "number is for every size. What only some sizes work begins with their numbers, and has "
    "numbers for these alone. Measure the head, then choose the size."
)
"""How to read a pattern for several sizes."""


def table(sizes: Sequence[Size]) -> Table:
    """The measures and the yarn of the sizes."""
    states, needs = [size.state for size in sizes], [size.need for size in sizes]
    unit = states[0].settings.unit
    wants: list[tuple[str, Callable[[State], str]]] = [
        ("Head", lambda s: plain_length(head_mm(s.settings), unit)),
        ("Circumference", lambda s: trade_length(s.piece.settings.girth_mm, unit)),
        ("Depth", lambda s: trade_length(s.piece.settings.depth, unit)),
    ]
    if any(state.settings.brim for state in states):
        wants.append(("Brim", lambda s: trade_length(s.piece.settings.brim, unit)))
    rows = [(what, *map(value, states)) for what, value in wants]
    metres, grams = ([getattr(need, of).mean for need in needs] for of in ("metres", "grams"))
    rows.append(("Yarn, m", *(f"{tens(amount)}" for amount in metres)))
    rows.append(("Yarn, yd", *(f"{yards(tens(amount))}" for amount in metres)))
    rows.append(("Yarn, g", *(f"{tens(amount)}" for amount in grams)))
    if all(need.balls for need in needs):
        balls = (math.ceil(at_most(need.balls)) for need in needs if need.balls)
        rows.append(("Balls, to be safe", *(f"{count}" for count in balls)))
    return Table("Sizes", ("Size", *(f"{n}" for n in range(1, len(states) + 1))), tuple(rows))


def by_part(sizes: Sequence[Size]) -> list[Section]:
    """The rounds of the sizes, part by part."""
    settings = sizes[0].state.settings
    short = short_name(settings.stitch, settings.terms)
    sections = []
    for number, part in enumerate(settings.shape.parts):
        runs = [
            runs_of([one for one in size.rounds if one.part == number], short) for size in sizes
        ]
        if any(runs):
            steps = Steps(tuple(lines_of(runs)))
            sections.append(Section(part.called.capitalize(), (steps,)))
    return sections
