"""One pattern for several sizes, with the numbers of the other sizes in brackets."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from pattern.forecast.rest_of_piece import begun_again, rounds_ahead
from pattern.gauge.yarn_use import Need
from pattern.session.decide_yarn import use_of
from pattern.session.events import QuestionAnswered
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Round
from pattern.shape.settings import Answered
from pattern.writeup import parts
from pattern.writeup.cautions import cautions
from pattern.writeup.document import Block, Items, Paragraph, Section, Table, Writeup
from pattern.writeup.finishing import finishing
from pattern.writeup.measure_text import plain_length
from pattern.writeup.merged_lines import lines_of, runs_of
from pattern.writeup.misfits import misfitting
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
        return self.state.settings.girth_mm - self.state.settings.ease_mm


def size_of(state: State) -> Size:
    """The size of a piece, worked from its ring with the current gauge."""
    fresh = begun_again(state)
    rounds = rounds_ahead(fresh)
    need = use_of(state).for_stitches(sum(round_.after for round_ in rounds))
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


def as_sizes(states: Sequence[State]) -> Writeup:
    """The pattern, as planned now, for states that differ only in size.

    Raises: ValueError without states.
    """
    if not states:
        raise ValueError("no sizes")
    first, sizes = states[0], [size_of(state) for state in states]
    decreasing = any(round_.decreasing for size in sizes for round_ in size.rounds)
    sections = (
        Section(
            "About this pattern", (Paragraph(_about(sizes)), _table(sizes), *_misfitting(sizes))
        ),
        parts.gauge(first),
        parts.abbreviations(first.settings, decreasing=decreasing),
        Section("Rounds", parts.how_to_work(first.settings), tuple(_by_part(sizes))),
        finishing(first.settings),
        cautions(first.settings),
    )
    noun = first.settings.shape.noun.capitalize()
    return Writeup(
        f"{noun} in {len(states)} sizes: pattern as planned", first.settings.terms, sections
    )


def in_sizes(state: State) -> tuple[Section, ...]:
    """The section with the other sizes wanted; empty if there are none."""
    if not state.other_heads_mm:
        return ()
    sizes = sizes_of(state)
    about = Paragraph(f"As planned with the stitch of this piece. {_about(sizes)}")
    blocks: tuple[Block, ...] = (about, _table(sizes), *_misfitting(sizes))
    return (Section(f"In {len(sizes)} sizes", blocks, tuple(_by_part(sizes))),)


def _misfitting(sizes: Sequence[Size]) -> Iterator[Paragraph]:
    """Parts that cannot be as narrow as asked, size by size."""
    for size in sizes:
        head = plain_length(size.head_mm, size.state.settings.unit)
        yield from misfitting(size.state.piece, f"For a head of {head}: ")


def _about(sizes: Sequence[Size]) -> str:
    return (
        f"{len(sizes)} sizes: the first stands before the brackets, the others in them, in "
        "order. A single number is for every size. What only some sizes work begins with their "
        "numbers, and has numbers for these alone. Measure the head, then choose the size."
    )


def _table(sizes: Sequence[Size]) -> Table:
    states, needs = [size.state for size in sizes], [size.need for size in sizes]
    unit = states[0].settings.unit
    wants: list[tuple[str, Callable[[State], str]]] = [
        ("Head", lambda s: plain_length(s.settings.girth_mm - s.settings.ease_mm, unit)),
        ("Circumference", lambda s: plain_length(s.piece.settings.girth_mm, unit)),
        ("Depth along the cloth", lambda s: plain_length(s.piece.settings.depth, unit)),
    ]
    if any(state.settings.brim for state in states):
        wants.append(("Brim", lambda s: plain_length(s.piece.settings.brim, unit)))
    rows = [(what, *map(value, states)) for what, value in wants]
    rows.append(("Yarn, metres", *(f"{need.metres.mean:.0f}" for need in needs)))
    rows.append(("Yarn, grams", *(f"{need.grams.mean:.0f}" for need in needs)))
    if all(need.balls for need in needs):
        rows.append(("Yarn, balls", *(f"{need.balls.mean:.1f}" for need in needs if need.balls)))
    return Table("Sizes", ("What", *(f"Size {n}" for n in range(1, len(states) + 1))), tuple(rows))


def _by_part(sizes: Sequence[Size]) -> list[Section]:
    settings = sizes[0].state.settings
    short = short_name(settings.stitch, settings.terms)
    sections = []
    for number, part in enumerate(settings.shape.parts):
        runs = [
            runs_of([one for one in size.rounds if one.part == number], short) for size in sizes
        ]
        if any(runs):
            block: Block = Items(tuple(lines_of(runs)))
            sections.append(Section(part.called.capitalize(), (block,)))
    return sections
