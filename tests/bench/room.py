"""How commands are heard while others talk: right, wrong, asked, missed, and false actions.

The whole way is measured: endpoint, engines, agreement, expectation of a session in its crown. The
room is a synthetic tail of decaying noise (Polack's model of late reverberation, from memory).
Voices and texts are those that nothing was fitted to.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from pattern.commands import Ask, Change, Choose, Help, Next
from pattern.decisions import decide, first_turn
from pattern.lengths import Amount, Unit
from pattern.session import State, fold
from tests.bench.prose import STORY, TALK, segments
from tests.bench.speakers import HELD_OUT, TUNING, Voice, available, speak
from voice.attention import CHOICES
from voice.endpoint import Endpointer
from voice.hearing import Action, Hearing
from voice.narrowing import groups_now
from voice.ports import RATE_HZ, Samples
from voice.recognisers.chosen import PLAIN, open_recogniser
from voice.session_expectation import expectation_of, reader_in

COMMANDS = ("next", "again", "where am i", "three sets", "undo", "how many more", "it ripples",
            "across six and a half", "around twenty one", "count sixty four", "pause",
            "back")  # fmt: skip
SNRS_DB = (None, 15.0, 10.0, 5.0, 0.0)
"""How far the other voices lie under the maker; None for a quiet room."""
OUTCOMES = ("right", "wrong", "asked", "missed")
RT60_S, DIRECT_TO_REVERB_DB = 0.4, 6.0
Floats = NDArray[np.float64]


@cache
def session() -> State:
    """A crown after seven rounds of six more stitches."""
    head, hook = Change("head_mm", Amount(560.0, unit=Unit.MM)), Change("hook_mm", Amount(5.0))
    state = fold(State(), first_turn((head, Choose("yarn", 4), hook)))
    while state.piece.finished < 7:
        state = fold(state, decide(state, Next()))
    return state


@dataclass(frozen=True, slots=True)
class Setting:
    """One row of the table: the engines, and whether the attention words come first."""

    name: str
    engines: tuple[str, ...]
    attention: str | None


SETTINGS = (
    Setting("open", PLAIN, None),
    Setting("addressed", PLAIN, CHOICES[0]),
    Setting("one engine, open", ("sphinx",), None),
)


def run(argv: list[str]) -> int:
    """Prints the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench room")
    parser.add_argument("--voices", type=int, default=5, help="how many speak the commands")
    parser.add_argument("--minutes", type=float, default=10.0, help="of talk without commands")
    options = parser.parse_args(argv)
    voices = [voice for voice in HELD_OUT if available(voice)][: options.voices]
    talkers = [voice for voice in TUNING if available(voice)][:3]
    talk = _talk(talkers)
    print(f"commands by {', '.join(v.name for v in voices)}")
    print(f"talk by {', '.join(v.name for v in talkers)}, reverberation {RT60_S} s")
    print(f"{'setting':18}{'others':>9}{'right':>8}{'wrong':>8}{'asked':>8}{'missed':>8}")
    for setting in SETTINGS:
        hearing = Hearing(open_recogniser(setting.engines))
        try:
            for snr_db in SNRS_DB:
                _row(setting, hearing, snr_db, voices, talk)
            minutes = min(options.minutes, len(talk) / RATE_HZ / 60)
            found = false_actions(setting, hearing, talk[: int(minutes * 60 * RATE_HZ)])
            print(f"{setting.name:18}{'talk':>9}  {60 * found / minutes:.1f} actions an hour that "
                  f"change the piece, in {minutes:.1f} minutes")  # fmt: skip
        finally:
            hearing.close()
    return 0


def _row(setting: Setting, hearing: Hearing, snr_db: float | None, voices: Sequence[Voice],
         talk: Floats) -> None:  # fmt: skip
    counts: Counter[str] = Counter()
    for number, voice in enumerate(voices):
        lead = f"{setting.attention} " if setting.attention else ""
        spoken = speak(voice, [lead + command for command in COMMANDS])
        for place, command in enumerate(COMMANDS):
            sound = reverberant(spoken[lead + command].astype(np.float64))
            start = (number * len(COMMANDS) + place) * 4 * RATE_HZ % (len(talk) - 12 * RATE_HZ)
            counts[_outcome(setting, hearing, _mixed(sound, talk[start:], snr_db), command)] += 1
    total = counts.total()
    shares = "".join(f"{counts[name] / total:8.1%}" for name in OUTCOMES)
    others = "none" if snr_db is None else f"{-snr_db:.0f} dB"
    print(f"{setting.name:18}{others:>9}{shares}", flush=True)


def _outcome(setting: Setting, hearing: Hearing, sound: Samples, command: str) -> str:
    """What came of one command, with all that was done while it was in the room."""
    reader, done, asked = reader_in(session()), [], False
    for action, said in _heard(setting, hearing, sound):
        asked |= action is Action.ASK
        if action is Action.ACT:
            done.append(said)
    if done == [reader(command)]:
        return "right"
    return "wrong" if done else "asked" if asked else "missed"


def _heard(setting: Setting, hearing: Hearing, sound: Samples) -> Iterator[tuple[Action, object]]:
    state, cutter = session(), Endpointer()
    found = cutter.feed(sound)
    for segment in [*found, *cutter.finish()]:
        what = hearing.decide(segment.samples, expectation_of(state), groups_now(state),
                              reader_in(state), setting.attention)  # fmt: skip
        yield what.action, what.command


def false_actions(setting: Setting, hearing: Hearing, talk: Floats) -> int:
    """Actions that change the piece, in talk that holds no command."""
    sound = (talk * 3000 / np.sqrt(np.mean(talk**2))).clip(-32768, 32767).astype(np.int16)
    harmless = (Ask, Help)
    return sum(action is Action.ACT and not isinstance(command, harmless)
               for action, command in _heard(setting, hearing, sound))  # fmt: skip


def _talk(talkers: Sequence[Voice]) -> Floats:
    """Turns of different voices, one after the other, in the room."""
    pieces = segments(STORY) + segments(TALK)
    spoken: list[Floats] = []
    for number, voice in enumerate(talkers):
        mine = pieces[number :: len(talkers)]
        spoken += [sound.astype(np.float64) for sound in speak(voice, mine).values()]
    order = np.random.default_rng(1).permutation(len(spoken))
    return reverberant(np.concatenate([spoken[i] for i in order]))


def reverberant(sound: Floats) -> Floats:
    """The sound in the room, as long as before and its tail."""
    rng = np.random.default_rng(7)
    length = int(RT60_S * RATE_HZ)
    tail = rng.normal(size=length) * 10 ** (-3 * np.arange(length) / length)
    tail *= 10 ** (-DIRECT_TO_REVERB_DB / 20) / np.sqrt(np.sum(tail**2))
    tail[0] += 1.0
    size = len(sound) + length
    spectrum = np.fft.rfft(sound, size) * np.fft.rfft(tail, size)
    return np.fft.irfft(spectrum, size)


def _mixed(sound: Floats, talk: Floats, snr_db: float | None) -> Samples:
    """The command after a second and a half of what else is heard, which goes on after it."""
    before, after = int(1.5 * RATE_HZ), int(1.2 * RATE_HZ)
    mixed = np.random.default_rng(3).normal(0, 4, before + len(sound) + after)
    mixed[before : before + len(sound)] += sound
    if snr_db is not None:
        other = talk[: len(mixed)]
        level = np.sqrt(np.mean(sound**2)) / np.sqrt(np.mean(other**2)) * 10 ** (-snr_db / 20)
        mixed += level * other
    return mixed.clip(-32768, 32767).astype(np.int16)
