"""How commands are heard over the program's own voice through a loudspeaker, in a whole call.

The loudspeaker is 0.6 m from the microphone and has spoken for half a minute before the first
command. Every command begins at another moment of a reply. Beside it stand the same commands where
the program is deaf while it speaks, and said into its silence.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import cycle

import numpy as np

from tests.bench.over_call import LEVEL, TEXTS, Call, Over, commands, film_of_commands
from tests.bench.room import OUTCOMES, Ear, session
from voice.hearing.evidence import Action
from voice.hearing.session_expectation import reader_in
from voice.recognisers.net.learning.speakers import Voice
from voice.rehearsal.loud_room import HELD
from voice.sound.ports import RATE_HZ, Samples
from voice.speech.speaker import Renderer

LEARNS_S, WAITS_S = 30.0, 3.0
STOPS_S = 0.3


@dataclass(frozen=True, slots=True)
class Wanted:
    """One row of the table, and what it is to reach, in percent."""

    over: Over
    way: str = "taken out"
    right: float = 0.0


ROWS = (
    Wanted(Over(0), "in its silence"),
    Wanted(Over(0), "deaf meanwhile"),
    *(
        Wanted(Over(0, bent, near_m), "said again", right=95.0)
        for near_m in (0.3, 1.0)
        for bent in (0.0, 1.5)
    ),
    *(
        Wanted(Over(db, bent, near_m), right=95.0 if db == 0 else 0.0)
        for near_m in (0.3, 1.0)
        for db in (0, -5)
        for bent in (0.0, 0.8, 1.5)
    ),
)
TALKED_OVER = ("taken out", "said again")
"""Ways in which it listens while it speaks: a reply, or one that was cut off for nothing before."""
SLOWER_S = 0.05
"""Longest wait over that in its silence, in the median."""


@dataclass(slots=True)
class Came:
    """What came of all commands, and of the program's speech alone."""

    counts: Counter[str] = field(default_factory=Counter)
    stops_s: list[float] = field(default_factory=list)
    """From the first sound of a command to the program's silence."""
    waits_s: list[float] = field(default_factory=list)
    """From the last sound of a command to its verdict."""
    alone_s: float = 0.0
    false_stops: int = 0
    itself: int = 0
    """Actions and questions without a maker."""

    def told(self) -> str:
        """The row's numbers, in the order of the head of the table."""
        total = max(self.counts.total(), 1)
        shares = "".join(f"{self.counts[name] / total:8.1%}" for name in OUTCOMES)
        stop, wait = (
            f"{np.median(each):8.2f}{max(each):6.2f}" if each else f"{'-':>8}{'-':>6}"
            for each in (self.stops_s, self.waits_s)
        )
        false = 60 * self.false_stops / max(self.alone_s, 1.0)
        return f"{shares}{total:5}{stop}{wait}{false:8.2f}{self.itself:7}"


def table(only: str, voices: Sequence[Voice], ear: Ear, minutes: float) -> bool:
    """Print the rows with these words in their names; returns True if all is reached."""
    print("\nover its own voice; stops, waits: median and longest, in seconds; false stops and")
    print(f"actions in {minutes:g} minutes of its own speech alone")
    head = "".join(f"{name:>8}" for name in OUTCOMES)
    print(f"{'':60}{head}    n   stop   max    wait   max  false/m  itself")
    reached, quiet_s = True, None
    for wanted in ROWS:
        if only not in f"{wanted.way} {wanted.over.name}":
            continue
        came = measured(wanted, voices, ear, minutes)
        print(f"{wanted.way:16}{wanted.over.name:44}{came.told()}", flush=True)
        wait_s = float(np.median(came.waits_s)) if came.waits_s else 0.0
        if wanted.way == "in its silence":
            quiet_s = wait_s
        if wanted.way in TALKED_OVER:
            reached &= _reached(came, wanted.right)
            reached &= quiet_s is None or not wanted.right or wait_s <= quiet_s + SLOWER_S
    return reached


def words_in_a_film(voices: Sequence[Voice], ear: Ear, minutes: float) -> bool:
    """Print what a film of commands does that each maker reads; returns True if that is nothing.

    It is 10 dB louder than the maker, who says nothing, and the call's first words go before it.
    """
    print(f"\ncommands in a film, 10 dB louder than a maker, in {minutes:g} minutes of each voice")
    clean = True
    for bent in (0.0, 0.8, 1.5):
        done: Counter[str] = Counter()
        for voice in voices:
            with Renderer() as ours:
                call = Call(Over(-10.0, bent), ear, ours, taken_out=True)
                call.room.film = film_of_commands(voice, call.loudness)
                call.talk.tell(" ".join(TEXTS))
                call.silent()
                call.pass_s(60 * minutes)
            done.update(what.action.name for _, what in call.verdicts)
        print(f"{Over(-10.0, bent).name:44}{dict(done)}", flush=True)
        clean &= set(done) <= {Action.SILENT.name}
    return clean


def _reached(came: Came, right: float) -> bool:
    """Whether enough was right, it stopped in time, seldom falsely, and never acted on itself."""
    enough = 100 * came.counts["right"] >= right * came.counts.total()
    seldom = came.false_stops <= max(came.alone_s / 60, 1)
    return enough and seldom and not came.itself and max(came.stops_s, default=0.0) <= STOPS_S


def measured(wanted: Wanted, voices: Sequence[Voice], ear: Ear, minutes: float) -> Came:
    """All commands in one long call, and then its own speech alone."""
    came, over = Came(), wanted.over
    with Renderer() as ours:
        call = Call(over, ear, ours, taken_out=wanted.way in TALKED_OVER)
        texts = cycle(TEXTS)
        while call.room.now() < LEARNS_S:
            call.talk.tell(next(texts))
            call.silent()
        call.insists = int(wanted.way == "said again")
        for turn, said in enumerate(commands(over, voices)):
            text = "" if wanted.way == "in its silence" else next(texts)
            _talked_over(call, came, said, text, 0.7 + 0.37 * (turn % 5))
        _alone(call, came, texts, minutes)
    return came


def _talked_over(
    call: Call, came: Came, said: tuple[str, Samples], text: str, after_s: float
) -> None:
    command, sound = said
    wanted = reader_in(session())(command)
    call.begin()
    if text:
        call.say(text)
    call.verdicts.clear()
    call.heard_s.clear()
    call.pass_s(after_s)
    loud = np.flatnonzero(np.abs(sound) > LEVEL / 10)
    began_s = call.room.now() + loud[0] / RATE_HZ
    call.room.stops_s.clear()
    until_s = call.room.speak(sound)
    ended_s = until_s - (len(sound) - loud[-1]) / RATE_HZ
    call.pass_s(until_s - call.room.now() + WAITS_S)
    done = [what.command for _, what in call.verdicts if what.action is Action.ACT]
    asked = any(what.action is Action.ASK for _, what in call.verdicts)
    outcome = "right" if done == [wanted] else "wrong" if done else "asked" if asked else "missed"
    came.counts[outcome] += 1
    if outcome == "right":
        came.waits_s.append(call.heard_s[-1] - ended_s)
    stops = [at_s for at_s in call.room.stops_s if at_s >= began_s]
    if stops:
        came.stops_s.append(stops[0] + HELD / RATE_HZ - began_s)
    call.silent()


def _alone(call: Call, came: Came, texts: Iterator[str], minutes: float) -> None:
    call.begin()
    call.verdicts.clear()
    call.room.stops_s.clear()
    spoke_s = 0.0
    while spoke_s < 60 * minutes:
        call.say(next(texts))
        began_s = call.room.now()
        while call.room.playing:
            call.talk.step()
        spoke_s += call.room.now() - began_s
        call.pass_s(1.5)
    came.alone_s, came.false_stops = spoke_s, len(call.room.stops_s)
    came.itself = sum(what.action is not Action.SILENT for _, what in call.verdicts)
