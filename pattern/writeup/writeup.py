"""The write-up of a piece: the pattern as it was made, and the rest of it as planned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from pattern.forecast.rest_of_piece import begun_again, planned_end, rounds_ahead
from pattern.forecast.stitch_spread import stitches_unsure
from pattern.gauge.yarn_use import Need
from pattern.session.decide_yarn import use_of
from pattern.session.state import State
from pattern.shape.catalogue import BRIMMED_HAT
from pattern.shape.settings import Settings
from pattern.trade.stitches import stitch_name
from pattern.writeup.at_a_glance import glance
from pattern.writeup.cautions import cautions
from pattern.writeup.decorating import decorating
from pattern.writeup.document import Items, Section, Writeup
from pattern.writeup.edition import USUAL, Edition, figure
from pattern.writeup.finished_piece import finished_piece
from pattern.writeup.finishing import finishing, trims
from pattern.writeup.learned_gauge import appendix
from pattern.writeup.many_sizes import cover_line, in_sizes
from pattern.writeup.measures import measures
from pattern.writeup.misfits import misfitting
from pattern.writeup.named_measures import named_measures
from pattern.writeup.outlines import outline_words
from pattern.writeup.round_sections import Worked, round_sections
from pattern.writeup.terms_used import abbreviations, how_to_work
from pattern.writeup.without_slips import without_slips
from pattern.writeup.written_rounds import Written, rounds_counted


def as_made(state: State, name: str, edition: Edition = USUAL) -> Writeup:
    """The pattern as made; rounds not made yet are given as planned now."""
    end = planned_end(state)
    called = [Written(made.round, made.counted) for made in end.rounds_made()][::-1]
    unsure = stitches_unsure(state.piece, rounds_ahead(state))
    need = use_of(state).for_stitches(sum(line.round.after for line in called), unsure)
    lines = called if edition.as_worked else without_slips(called)
    worked = Worked(end, tuple(lines), state.piece.finished, _sets(state))
    return Writeup(
        _title(name, state.settings),
        state.settings.terms,
        tuple(_sections(state, worked, need, edition)),
        kind=_kind(state.piece.finished, len(lines), edition),
        about=" ".join(filter(None, (_about(state.settings), cover_line(state)))),
    )


def as_planned(state: State, name: str, edition: Edition = USUAL) -> Writeup:
    """The whole pattern from its ring, as planned with the current gauge."""
    return as_made(begun_again(state), name, edition)


def _sections(state: State, worked: Worked, need: Need, edition: Edition) -> Iterator[Section]:
    letters, end = edition.letters, worked.end
    named = named_measures(end)
    decreasing = any(line.round.decreasing for line in worked.rounds)
    drawing = figure(lambda of: finished_piece(end, worked.finished, of), letters)
    facts = glance(end, need, named)
    yield Section("At a glance", (drawing, facts, *misfitting(end.piece)))
    yield abbreviations(state.settings, decreasing=decreasing)
    yield how_to_work(state.settings)
    yield Section("Rounds", (), tuple(round_sections(worked, letters)))
    yield from in_sizes(state)
    yield finishing(state.settings)
    yield from trims(end)
    yield from decorating(end)
    yield cautions(_worn_by(end))
    if edition.as_worked:
        yield from notes(state)
    if edition.readings:
        yield appendix(state, end, need, named, letters)


def notes(state: State) -> tuple[Section, ...]:
    """The maker's notes; empty without notes."""
    items = tuple(
        f"{f'Round {one.round}' if one.round else 'Before round 1'}: {one.text}"
        for one in state.notes
    )
    return (Section("Notes", (Items(items),)),) if items else ()


def _worn_by(end: State) -> Settings:
    """The settings with the brim as made, and an unknown age if it is also for other heads."""
    brim = measures(end.piece).brim
    age = None if end.other_heads_mm else end.settings.age_years
    return replace(end.settings, age_years=age, brim_mm=brim.mean if brim else 0.0)


def _title(name: str, settings: Settings) -> str:
    title = "".join(sign if sign.isprintable() else " " for sign in name).strip()
    return title or _called(settings).capitalize()


def _called(settings: Settings) -> str:
    """The name of the shape; a brimmed hat that has no brim is a hat."""
    brimless = settings.shape.name == BRIMMED_HAT.name and not settings.brim
    return settings.shape.noun if brimless else settings.shape.name


def _kind(finished: int, total: int, edition: Edition) -> str:
    how = "as worked" if edition.as_worked else "as made"
    if not finished:
        return "Crochet pattern as planned"
    so_far = f" so far, {finished} of {rounds_counted(total)}" if finished < total else ""
    return f"Crochet pattern {how}{so_far}"


def _about(settings: Settings) -> str:
    """One sentence on the piece: its shape, its parts and its stitch."""
    name = _called(settings)
    article = "An" if name[0] in "aeiou" else "A"
    stitch = stitch_name(settings.stitch, settings.terms)
    rounds = "joined rounds" if settings.joined else "a spiral"
    parts = f" with {outline_words(settings)}" if len(settings.shape.parts) > 1 else ""
    return f"{article} {name}{parts}, worked in {stitch} in {rounds} from the middle out."


def _sets(state: State) -> str:
    """How far the open round is worked, in words; empty for not begun."""
    if not state.sets or state.offered is None:
        return ""
    worked = f"Of round {state.offered.number}, {state.sets} of {state.offered.sets} repeats"
    return f"{worked} are worked already."
