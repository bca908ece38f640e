"""Can a round be held in the ear? Words of every round called to simulated makers, by stage."""

from __future__ import annotations

import argparse
import random
import re
import statistics
from collections.abc import Iterator
from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES, Shape
from pattern.shape.rounds import Round, Stage
from tests.bench.calling import Work
from tests.bench.makers import Maker
from tests.openings import opening
from voice.sentences.rounds import called

EASY_WORDS, LONGEST, EASY_SHARE = 16, 24, 0.97
"""Words that an easy round has at the most; those of the longest, and the share of easy ones, that
are to be reached."""
_CHANGE = re.compile(r"two in |together|the same with|all that")
"""What each kind of repeat says once, and what goes back to repeats said before."""
MOST_TURNS = 1000


@dataclass(frozen=True, slots=True)
class Called:
    """A round with increases or decreases as it was called, without its name and its count."""

    stage: Stage
    text: str

    @property
    def words(self) -> int:
        """Words to hold until they are worked."""
        return len(self.text.split())

    @property
    def easy(self) -> bool:
        """One repeat, or every stitch alike, in few words."""
        return len(_CHANGE.findall(self.text)) == 1 and self.words <= EASY_WORDS


def body(said: str) -> str:
    """A spoken round without its name and its count."""
    return said.partition(": ")[2].partition(".")[0]


def rounds_of(maker: Maker, shape: Shape) -> Iterator[tuple[State, Round]]:
    """The rounds that the maker works of one piece, each with the state in which it is offered."""
    answers = {"head_mm": maker.head_mm, "yarn": maker.yarn, "hook_mm": maker.hook_mm}
    state = fold(State(), opening(State(), {"shape": shape.name, **answers}))
    work, turns = Work(maker), 0
    while state.stage is not Stage.FINISHING or state.want is not None:
        turns += 1
        if turns > MOST_TURNS:
            raise RuntimeError(f"a {shape.name} without an end")
        command: c.Command = c.Next()
        if state.want is not None or state.doubt is not None:
            command = work.answer(state)
        elif state.offered is not None:
            yield state, state.offered
            work.round(state)
        turn = decide(state, command)
        work.rip(turn)
        state = fold(state, turn)


def called_to(seed: int, makers: int) -> list[Called]:
    """All rounds with increases or decreases that so many makers hear, of each shape."""
    return [
        Called(offered.stage, body(called(offered, state.settings, brief=False)))
        for shape in SHAPES
        for i in range(makers)
        for state, offered in rounds_of(Maker(random.Random(f"{seed} {i}")), shape)
        if offered.places
    ]


def _row(name: str, some: list[Called]) -> None:
    words = sorted(one.words for one in some)
    easy = sum(one.easy for one in some) / len(some)
    print(
        f"{name:12}{len(some):8d}{easy:9.1%}{statistics.median(words):9.0f}"
        f"{words[int(0.95 * len(words))]:7d}{words[-1]:9d}"
    )


def run(argv: list[str]) -> int:
    """Prints the table; returns 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench wording")
    parser.add_argument("--makers", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(argv)
    rounds = called_to(options.seed, options.makers)
    print(
        f"{options.makers} makers of each of {len(SHAPES)} shapes, seed {options.seed}; rounds "
        "with increases or decreases,\nwithout their name and count; easy: one repeat, and at "
        f"most {EASY_WORDS} words"
    )
    print(f"{'stage':12}{'rounds':>8}{'easy':>9}{'median':>9}{'p95':>7}{'longest':>9}")
    _row("all", rounds)
    for stage in Stage:
        if some := [one for one in rounds if one.stage is stage]:
            _row(f"  {stage.value}", some)
    longest = max(rounds, key=lambda one: one.words)
    print(f"the longest: {longest.text}")
    easy = sum(one.easy for one in rounds) / len(rounds)
    checks = (
        (f"easy rounds, at least {EASY_SHARE:.0%}", f"{easy:.1%}", easy >= EASY_SHARE),
        (f"longest, at most {LONGEST} words", str(longest.words), longest.words <= LONGEST),
    )
    for what, figure, reached in checks:
        print(f"{what:46}{figure:>9}  {'reached' if reached else 'MISSED'}")
    return 0 if all(reached for _, _, reached in checks) else 1
