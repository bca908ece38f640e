"""How commands are heard in a room: right, wrong, asked, missed, false actions, seconds.

The whole way is measured: endpoint, engines, agreement, attention words, expectation of a session
in its crown. Beside it stands the likeliest phrase, taken for granted. Voices and texts are those
that nothing was fitted to; those of the talk speak no commands.
"""

from __future__ import annotations

import argparse
import os
import random
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import numpy as np

from pattern.session.commands import Change, Choose, Command, Next
from pattern.session.decisions import decide, first_turn
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from tests.bench.attention_words import compare
from tests.bench.false_actions import listen
from tests.bench.hear import held_out
from tests.bench.hearing_cases import likeliest
from tests.bench.intervals import interval
from tests.bench.rooms import (
    COMMANDS,
    CONDITIONS,
    OTHERS,
    Spoken,
    heard_out,
    in_room,
    listened_to,
    makers,
    recordings,
    talk,
)
from tests.bench.sayings import Saying
from voice.hearing.attention import Attention, When, grammar_with
from voice.hearing.context import context_of
from voice.hearing.evidence import Action, Context, Evidence
from voice.hearing.listening import Hearing
from voice.hearing.narrowing import groups_now
from voice.hearing.session_expectation import reader_in
from voice.recognisers.agreement import Agreement
from voice.recognisers.chosen import net
from voice.recognisers.net.learning.speakers import Voice
from voice.sound.endpoint import Segment
from voice.sound.ports import Samples

OUTCOMES = ("right", "wrong", "asked", "missed")
PARTS = ("commands", "talk")
MODES = {"addressed": Attention(when=When.ALWAYS), "open": Attention(when=When.NEVER)}


@cache
def session() -> State:
    """A crown after seven rounds of six more stitches."""
    head, hook = Change("head_mm", Amount(22.0, unit=Unit.INCH)), Change("hook_mm", Amount(5.0))
    state = fold(State(), first_turn((head, Choose("yarn", 4), hook)))
    while state.piece.finished < 7:
        state = fold(state, decide(state, Next()))
    return state


@dataclass(slots=True)
class Ear:
    """Hears as the program does and, the same sound, as one that takes the likeliest phrase."""

    engines: Agreement = field(default_factory=net)
    hearing: Hearing = field(init=False)

    def __post_init__(self) -> None:
        self.hearing = Hearing(self.engines)

    def listen(
        self, segment: Segment, attention: Attention, state: State | None = None
    ) -> tuple[Evidence, Context]:
        """What the program knows of an utterance, and what that falls into."""
        context = context_of(state or session(), attention=attention)
        evidence = self.hearing.listen(segment.samples, context, amid_talk=segment.amid_talk)
        return evidence, context

    def plainly(
        self, segment: Segment, attention: Attention, state: State | None = None
    ) -> Command | None:
        """The likeliest command."""
        state = state or session()
        grammar = grammar_with(attention, groups_now(state))
        words = likeliest(self.engines.listen(segment.samples, grammar))
        return None if words is None else reader_in(state)(grammar.bare(words))


@dataclass(slots=True)
class Row:
    """What came of commands said in one condition."""

    counts: Counter[str] = field(default_factory=Counter)
    plain: Counter[str] = field(default_factory=Counter)
    seconds: list[float] = field(default_factory=list)

    def add(self, ear: Ear, spoken: Spoken, attention: Attention) -> None:
        """One command: all is counted that was done while it was said."""
        state = spoken.state or session()
        wanted = reader_in(state)(spoken.command)
        done: list[Command | None] = []
        taken: list[Command | None] = []
        asked = False
        began = time.perf_counter()

        def listen(segment: Segment) -> tuple[Evidence, Context] | None:
            nonlocal began
            if not listened_to(segment) or not spoken.in_it(segment):
                return None
            began = time.perf_counter()
            found = ear.listen(segment, attention, state)
            plain = ear.plainly(segment, attention, state)
            taken.extend([plain] if plain is not None else [])
            return found

        for segment, what in heard_out(
            spoken.sound, listen, ear.hearing.written, spoken.is_left_over
        ):
            wait_s = segment.cut_s - spoken.ended_s
            asked |= what.action is Action.ASK
            if what.action is Action.ACT:
                done.append(what.command)
                self.seconds.append(wait_s + time.perf_counter() - began)
        self.counts[_outcome(done, wanted, asked)] += 1
        self.plain[_outcome(taken, wanted, asked=False)] += 1

    def shares(self) -> str:
        """The row's numbers, in the order of the head of the table."""
        total = max(1, self.counts.total())
        mine = "".join(f"{self.counts[name] / total:8.1%}" for name in OUTCOMES)
        took = f"{np.median(self.seconds):8.2f}" if self.seconds else f"{'-':>8}"
        return f"{mine}{took}"

    def sure(self) -> str:
        """The interval of what is right, and that of what is wrong."""
        total = self.counts.total()
        return "".join(f"{interval(self.counts[name], total):>15}" for name in OUTCOMES[:2])

    def beside(self) -> str:
        """The same of what takes the likeliest, where it was listened for."""
        if not self.plain["right"] + self.plain["wrong"]:
            return ""
        wrong = f"{self.counts['wrong']} : {self.plain['wrong']}"
        return f"{self.plain['right'] / self.plain.total():9.1%}{wrong:>9}"


OUTCOME_HEAD = f"{'right':>7}{'wrong':>8}{'asked':>8}{'missed':>8}{'seconds':>8}"
SURE_HEAD = f"{'right, 95 %':>15}{'wrong, 95 %':>15}"
HEAD = f"{'':11}{'in the room':38}{OUTCOME_HEAD}{SURE_HEAD}"
BESIDE = f"{'plain':>9}{'wrong':>9}"


class EarAlone(Ear):
    """Hears as the program does, and leaves the comparison away, which takes half of the time."""

    def plainly(self, *_: object) -> None: ...


def _outcome(done: Sequence[Command | None], wanted: Command | None, asked: bool) -> str:
    if list(done) == [wanted]:
        return "right"
    return "wrong" if done else "asked" if asked else "missed"


def run(argv: list[str]) -> int:
    """Prints the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench room")
    parser.add_argument("--voices", type=int, default=4, help="how many speak the commands")
    parser.add_argument(
        "--each",
        type=int,
        default=0,
        help="phrases from each voice, half of the table and half readings and counts, each at a"
        " moment of a hat; without this the most usual commands",
    )
    parser.add_argument("--skip", type=int, default=0, help="voices left out before those")
    parser.add_argument("--minutes", type=float, default=10.0, help="of talk without commands")
    parser.add_argument("--only", choices=PARTS, help="print this part alone")
    parser.add_argument("--attention", action="store_true", help="compare attention words instead")
    parser.add_argument(
        "--recordings",
        type=Path,
        default=os.environ.get("ROUNDS_RECORDINGS"),
        help="folder of .wav files named by what is said in them (or the"
        " variable ROUNDS_RECORDINGS)",
    )
    options = parser.parse_args(argv)
    if options.attention:
        return compare(options.voices, options.minutes)
    ear = EarAlone() if options.each else Ear()
    if options.only != "talk":
        voices = makers()[options.skip :][: options.voices]
        said = drawn(voices, options.each) if options.each else usual(voices)
        _table(ear, said, options.recordings)
    for when in When if options.only != "commands" else ():
        _false(ear, when, talk(options.minutes))
    return 0


Said = Sequence[tuple[Voice, Sequence[Saying]]]
"""Each voice, and its phrases."""


def usual(voices: Sequence[Voice]) -> Said:
    """Half of the commands by each voice, the other half by the next."""
    print(f"{len(COMMANDS)} commands, half of them by each of {', '.join(v.name for v in voices)}")
    usual = [Saying(session(), words) for words in COMMANDS]
    return [(voice, usual[number % 2 :: 2]) for number, voice in enumerate(voices)]


def drawn(voices: Sequence[Voice], each: int) -> Said:
    """Another choice for each voice, half of it phrases of the table, half readings and counts."""
    print(f"{each} phrases, others by each of {', '.join(v.name for v in voices)}")
    table, work = held_out()
    working = [one for one in table if one.state.stage is not Stage.SETUP]
    chosen: list[tuple[Voice, list[Saying]]] = []
    for number, voice in enumerate(voices):
        rng = random.Random(number)
        said = [*rng.sample(working, each // 2), *rng.sample(work, each - each // 2)]
        chosen.append((voice, said))
    return chosen


def _table(ear: Ear, said: Said, folder: Path | None) -> None:
    print(
        f"talk by {', '.join(v.name for v in OTHERS.voices)}; seconds: median, end of word to"
        " action"
    )
    if isinstance(ear, EarAlone):
        print(HEAD)
    else:
        print("plain: right where the likeliest is taken; wrong: the program's against that")
        print(HEAD + BESIDE)
    for mode, attention in MODES.items():
        lead = attention.words if attention.needed else None
        for condition in CONDITIONS:
            if lead is None or condition.when_addressed:
                row = Row()
                for spoken in in_room(condition, said, lead):
                    row.add(ear, spoken, attention)
                _print(mode, condition.name, row)
    if folder is not None:
        row = Row()
        for spoken in recordings(folder):
            row.add(ear, spoken, MODES["open"])
        _print("open", "recordings", row)


def _print(mode: str, name: str, row: Row) -> None:
    print(f"{mode:11}{name:38}{row.shares()}{row.sure()}{row.beside()}", flush=True)


def _false(ear: Ear, when: When, sound: Samples) -> None:
    """Actions in talk that holds no command."""
    taken = 0

    def plainly(segment: Segment, attention: Attention) -> None:
        nonlocal taken
        taken += ear.plainly(segment, attention) is not None

    tally = listen(ear.hearing, when, sound, (session(),), plainly)
    print(f"addressed {when}: {tally}; plain {taken / tally.hours:.1f} an hour", flush=True)
