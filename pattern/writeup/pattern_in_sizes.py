"""A whole pattern for several sizes, as planned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pattern.forecast.rest_of_piece import planned_end
from pattern.session.state import State
from pattern.trade.yarns_and_hooks import YARNS
from pattern.writeup.at_a_glance import gauge, hook, notions
from pattern.writeup.cautions import cautions
from pattern.writeup.document import Facts, Figure, Paragraph, Section, Writeup
from pattern.writeup.edition import USUAL, figure
from pattern.writeup.finished_piece import finished_piece
from pattern.writeup.finishing import finishing
from pattern.writeup.many_sizes import ABOUT, Size, by_part, cover, misfits_of, size_of, table
from pattern.writeup.terms_used import abbreviations, how_to_work


def as_sizes(states: Sequence[State]) -> Writeup:
    """The pattern, as planned now, for states that differ only in size.

    Raises: ValueError without states.
    """
    if not states:
        raise ValueError("no sizes")
    first, sizes = states[0], [size_of(state) for state in states]
    decreasing = any(round_.decreasing for size in sizes for round_ in size.rounds)
    settings, drawn = first.settings, _DRAWN.format(_middle(sizes) + 1)
    sections = (
        Section("At a glance", (_drawing(sizes), Facts(tuple(_for_all(first))))),
        Section("Sizes", (Paragraph(f"{ABOUT} {drawn}"), table(sizes), *misfits_of(sizes))),
        abbreviations(settings, decreasing=decreasing),
        how_to_work(settings),
        Section("Rounds", (), tuple(by_part(sizes))),
        finishing(settings),
        cautions(settings),
    )
    return Writeup(
        f"{settings.shape.noun.capitalize()} in {len(states)} sizes",
        settings.terms,
        sections,
        kind="Crochet pattern as planned",
        about=cover(sizes),
    )


def _drawing(sizes: Sequence[Size]) -> Figure:
    """The piece in its middle size."""
    end = planned_end(sizes[_middle(sizes)].state)
    return figure(lambda of: finished_piece(end, end.piece.finished, of), USUAL.letters)


_DRAWN = "The drawing has the measures of size {}."


def _middle(sizes: Sequence[Size]) -> int:
    return len(sizes) // 2


def _for_all(state: State) -> Iterator[tuple[str, str]]:
    kind = YARNS[state.settings.yarn].name.capitalize()
    yield "Yarn", f"{kind} (class {state.settings.yarn})"
    yield "Hook", hook(state.settings.hook)
    yield "Gauge", gauge(state)
    yield "Notions", notions(state.settings)
