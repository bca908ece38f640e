"""The rounds of a piece part by part, with measures to check at and the chart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from pattern.plan.piece import depth_at
from pattern.session.state import State
from pattern.shape.part_kinds import shaping
from pattern.shape.rounds import Stage
from pattern.writeup.at_a_glance import hook
from pattern.writeup.crown_chart import crown
from pattern.writeup.document import Block, Facts, Paragraph, Section, Steps
from pattern.writeup.drawing import Letters
from pattern.writeup.edition import figure
from pattern.writeup.measure_text import trade_length
from pattern.writeup.written_rounds import Written, short_name, written_lines

_CHECK_EVERY = 5
"""Rounds of a flat part between measures to check at; our choice."""


@dataclass(frozen=True, slots=True)
class Worked:
    """The rounds of a piece at its planned end."""

    end: State
    rounds: tuple[Written, ...]
    finished: int
    """Rounds that are made so far."""
    sets: str = ""
    """How far the next round is worked, in words; empty for not begun."""

    @property
    def so_far(self) -> str:
        """Where the maker is, in words."""
        worked = f"Worked so far: to the end of round {self.finished}." if self.finished else ""
        return " ".join(filter(None, (worked, self.sets, "From here on as planned now.")))


def round_sections(worked: Worked, letters: Letters) -> Iterator[Section]:
    """A section for each part, the chart in the first."""
    for part, run in groupby(worked.rounds, key=lambda line: line.round.part):
        lines = list(run)
        called = [stretch.called for stretch in worked.end.piece.stretches]
        title = called[part] if part < len(called) else "brim"  # a brim that was given up later
        blocks = [*_blocks(worked, lines), *_check(worked.end, lines)]
        if part == 0:
            first = [line.round for line in lines]
            blocks.append(figure(partial(crown, worked.end, first), letters))
        yield Section(title.capitalize(), tuple(blocks))


def _blocks(worked: Worked, lines: Sequence[Written]) -> Iterator[Block]:
    """The steps of a part, broken where the maker is and where the hook changes."""
    settings, changes = worked.end.settings, _hook_changes(worked.end)
    short = short_name(settings.stitch, settings.terms)
    gathered: list[Written] = []
    for line in lines:
        said = [f"Change to a hook of {hook(mm)}." for at, mm in changes if at == line.round.number]
        if line.round.number == worked.finished + 1 and (worked.finished or worked.sets):
            said.insert(0, worked.so_far)
        if said:
            if gathered:
                yield Steps(written_lines(gathered, short))
            yield from map(Paragraph, said)
            gathered = []
        gathered.append(line)
    yield Steps(written_lines(gathered, short))


def _hook_changes(end: State) -> list[tuple[int, float]]:
    """Rounds from which on another hook is used, and its size in mm."""
    made = list(end.rounds_made())[::-1]
    hooks = [one.before.settings.hook for one in made]
    return [
        (made[at].round.number, hooks[at])
        for at in range(1, len(made))
        if hooks[at] != hooks[at - 1]
    ]


def _check(end: State, lines: Sequence[Written]) -> Iterator[Facts]:
    """The measures to check at in a part; none where its text gives none."""
    first, last = lines[0].round.number, lines[-1].round.number
    lies = shaping(lines[-1].round.stage)
    if lies.flat and lines[-1].round.stage is not Stage.RING:
        rounds = [n for n in range(first, last) if n % _CHECK_EVERY == 0 and last - n > 2]
        said = [f"after round {n} about {_about(end, 2, n)} across" for n in (*rounds, last)]
    elif lies.flared:
        said = [f"after round {last} the {_called(end, lines)} is about {_brim(end)} wide"]
    elif lies.closed:
        return
    else:
        deep = f"about {_about(end, 1, last)} from the centre along the cloth"
        said = [f"after round {last} {deep}"]
    yield Facts((("Check", f"{', '.join(said).capitalize()}."),))


def _about(end: State, times: int, rounds: int) -> str:
    return trade_length(times * depth_at(end.piece, rounds).mean, end.settings.unit)


def _called(end: State, lines: Sequence[Written]) -> str:
    called = [stretch.called for stretch in end.piece.stretches]
    part = lines[0].round.part
    return called[part] if part < len(called) else "brim"


def _brim(end: State) -> str:
    piece = end.piece
    wide = piece.gauge.of((0.0, piece.high(piece.brim_rounds), 0.0))
    return trade_length(wide.mean, end.settings.unit)
