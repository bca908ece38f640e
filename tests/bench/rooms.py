"""Sounds in the room of the bench: commands, talk, kettle and music, as the microphone hears."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from pattern.session.state import State
from tests.bench.prose import STORY, TALK, TUNING_TEXT, segments
from tests.bench.sayings import Saying
from voice.hearing.evidence import Context, Evidence, Verdict
from voice.hearing.listening import Whole
from voice.recognisers.engine import LONGEST_S
from voice.recognisers.net.learning.acoustics import (
    OTHERS_M,
    Floats,
    across,
    active_level,
    impulse,
    kettle,
    music,
)
from voice.recognisers.net.learning.speakers import (
    HELD_OUT,
    TUNING_READERS,
    Voice,
    available,
    speak,
)
from voice.recognisers.recording import read_recording
from voice.rehearsal.room import BLOCK
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.ports import RATE_HZ, Samples

COMMANDS = (
    "next",
    "again",
    "where am i",
    "three sets",
    "undo",
    "how many more",
    "it ripples",
    "across four and a half",
    "around twelve and a half",
    "count forty three",
    "pause",
    "back",
)
BEFORE_S, AFTER_S = 9.0, 1.5
"""What else sounds is heard for so long before a command and after it."""
TALKERS = ("flite:awb", "espeak:en-gb-x-rp+m4", "espeak:en-us+m7", "kokoro:jm_kumo")
TALK_LEVEL = 1000.0
"""Of conversation at the microphone, in sample values: 30 dB below full scale, by judgement."""


@dataclass(frozen=True, slots=True)
class Condition:
    """Where the maker sits and what else sounds."""

    distance_m: float
    rt60_s: float
    other: str = ""
    """Talk, kettle or music."""
    snr_db: float | None = None
    """The maker's active level over that of the other sound."""
    when_addressed: bool = True

    @property
    def name(self) -> str:
        """What the table calls it."""
        place = f"{self.distance_m} m, reverberation {self.rt60_s} s"
        return place + (f", {self.other} {-self.snr_db:.0f} dB" if self.snr_db is not None else "")


@dataclass(frozen=True, slots=True)
class Talkers:
    """Who talks in the room, and what they say, again and again by another of them."""

    voices: tuple[Voice, ...]
    text: str
    rounds: int = 1


OTHERS = Talkers(tuple(v for v in HELD_OUT if v.name in TALKERS), TALK + STORY)
TUNING_OTHERS = Talkers(TUNING_READERS, TUNING_TEXT, len(TUNING_READERS))

CONDITIONS = (
    Condition(0.3, 0.2, when_addressed=False),
    Condition(1.0, 0.4),
    Condition(2.0, 0.6),
    Condition(1.0, 0.4, "kettle", 10.0, when_addressed=False),
    Condition(1.0, 0.4, "music", 10.0, when_addressed=False),
    Condition(0.3, 0.4, "talk", 15.0),
    Condition(0.3, 0.4, "talk", 10.0),
    Condition(1.0, 0.4, "talk", 15.0, when_addressed=False),
    Condition(1.0, 0.4, "talk", 10.0),
    Condition(1.0, 0.4, "talk", 5.0),
    Condition(1.0, 0.4, "talk", 0.0),
)


TUNING_CONDITIONS = (
    Condition(0.5, 0.3),
    Condition(1.5, 0.5),
    Condition(1.2, 0.5, "kettle", 8.0),
    Condition(0.8, 0.4, "music", 8.0),
    Condition(0.5, 0.3, "talk", 12.0),
    Condition(1.2, 0.4, "talk", 12.0),
    Condition(0.8, 0.5, "talk", 8.0),
    Condition(1.2, 0.4, "talk", 6.0),
)
"""Where the calibration was fitted, mixed; and, more of each, where it is hard:"""
HARD_CONDITIONS = {
    "2 m": Condition(2.0, 0.5),
    "talk, 10 dB under": Condition(0.9, 0.4, "talk", 10.0),
    "talk, 5 dB under": Condition(0.9, 0.4, "talk", 5.0),
}


@dataclass(frozen=True, slots=True, eq=False)
class Spoken:
    """One command in the room."""

    command: str
    sound: Samples
    began_s: float
    ended_s: float
    """Where the first sound of its words begins and the last one ends, without the tail."""
    state: State | None = None
    """Of the session, while it is said; where none, that in which all `COMMANDS` make sense."""

    def in_it(self, segment: Segment) -> bool:
        """Whether an utterance holds some of the command."""
        return segment.start_s < self.ended_s and segment.end_s > self.began_s

    def is_left_over(self, segment: Segment) -> bool:  # noqa: ARG002
        """Whether an utterance is no louder than what is left of a film; there is none."""
        return False


def makers() -> list[Voice]:
    """Who speaks the commands: the held-out voices, the first of every engine before the second."""
    here = [v for v in HELD_OUT if available(v) and v.name not in TALKERS]
    turn = {v: sum(u.engine == v.engine for u in here[:n]) for n, v in enumerate(here)}
    return sorted(here, key=lambda voice: turn[voice])


@cache
def dry_talk(talkers: Talkers) -> Floats:
    """Four sentences each in turn, half a second of pause after every sentence."""
    pieces, who = segments(talkers.text), list(filter(available, talkers.voices))
    spoken: list[Floats] = []
    for lap in range(talkers.rounds):
        for turn, first in enumerate(range(0, len(pieces), 4), lap):
            heard = speak(who[turn % len(who)], pieces[first : first + 4])
            spoken += [sound.astype(np.float64) for sound in heard.values()]
    return np.concatenate(spoken)


def talk(minutes: float, talkers: Talkers = OTHERS) -> Samples:
    """Talk alone at the level of conversation, at most as long as the texts are."""
    dry = dry_talk(talkers)[: int(minutes * 60 * RATE_HZ)]
    heard = across(dry, impulse(OTHERS_M, 0.4, maker=False))
    return _samples(heard * TALK_LEVEL / active_level(heard))


@cache
def _other(kind: str, rt60_s: float, talkers: Talkers) -> Floats:
    match kind:
        case "kettle":
            dry = kettle(60)
        case "music":
            dry = music(60)
        case _:
            dry = dry_talk(talkers)
    return across(dry, impulse(OTHERS_M, rt60_s, maker=False))


def in_room(
    condition: Condition, said: Iterable[tuple[Voice, Sequence[Saying]]], lead: str | None
) -> Iterator[Spoken]:
    """The words of each voice, after `lead`; the others are elsewhere in their talk each time."""
    turn = 0
    for voice, sayings in said:
        led = {one: f"{lead} {one.words}" if lead else one.words for one in sayings}
        sounds = speak(voice, led.values())
        for one in sayings:
            dry = sounds[led[one]].astype(np.float64)
            yield replace(placed(condition, one.words, dry, turn), state=one.state)
            turn += 1


def placed(
    condition: Condition, command: str, dry: Floats, turn: int, talkers: Talkers = OTHERS
) -> Spoken:
    """The command in the room; at each turn the others are at another place in their talk."""
    heard = across(dry, impulse(condition.distance_m, condition.rt60_s))
    before = int(BEFORE_S * RATE_HZ)
    size = before + len(heard) + int(AFTER_S * RATE_HZ)
    mixed = np.random.default_rng(3).normal(0, 4, size)
    mixed[before : before + len(heard)] += heard
    if condition.snr_db is not None:
        other = _other(condition.other, condition.rt60_s, talkers)
        start = turn * 7 * RATE_HZ % (len(other) - size)
        part = other[start : start + size]
        mixed += part * (active_level(heard) / active_level(part) * 10 ** (-condition.snr_db / 20))
    loud = np.flatnonzero(np.abs(dry) > 300) + before
    return Spoken(command, _samples(mixed), loud[0] / RATE_HZ, loud[-1] / RATE_HZ)


def cut(spoken: Spoken) -> Iterator[Segment]:
    """The utterances that hold some of the command, and are listened to."""
    return (segment for segment in cut_all(spoken.sound) if spoken.in_it(segment))


def cut_all(sound: Samples) -> Iterator[Segment]:
    """The utterances that the program's own detector finds and listens to."""
    cutter = Endpointer()
    return filter(listened_to, [*cutter.feed(sound), *cutter.finish()])


def heard_out(
    sound: Samples,
    listen: Callable[[Segment], tuple[Evidence, Context] | None],
    write: Callable[[Samples, Evidence], Evidence],
    is_left_over: Callable[[Segment], bool] = lambda _segment: False,
) -> Iterator[tuple[Segment, Verdict]]:
    """Each with the verdict on it; as in the program, what is only begun goes on.

    What is not listened to is passed by; `write` finds the text of what is no phrase.
    """
    cutter, whole = Endpointer(), Whole()
    for segment in _in_turn(cutter, sound):
        if is_left_over(segment):
            cutter.no_others(segment)
            continue
        if (found := listen(segment)) is None:
            continue
        what = whole.heard(segment, *found, write)
        if what.more_s:
            cutter.go_on(segment, what.more_s)
        else:
            yield segment, what


def _in_turn(cutter: Endpointer, sound: Samples) -> Iterator[Segment]:
    for start in range(0, len(sound), BLOCK):
        yield from cutter.feed(sound[start : start + BLOCK])
    while rest := cutter.finish():
        yield from rest


def listened_to(segment: Segment) -> bool:
    """Whether an utterance is short enough for the engines."""
    return len(segment.samples) <= LONGEST_S * RATE_HZ


def recordings(folder: Path) -> Iterator[Spoken]:
    """Each .wav file, named by what is said in it: "where_am_i 2.wav"."""
    for file in sorted(folder.glob("*.wav")):
        words = re.sub(r"[^a-z']+", " ", file.stem.lower()).strip()
        sound = read_recording(file)
        hiss = np.random.default_rng(3).normal(0, 4, 2 * RATE_HZ)
        padded = np.concatenate([hiss, sound, hiss])
        yield Spoken(words, _samples(padded), 2.0, 2.0 + len(sound) / RATE_HZ)


def _samples(sound: Floats) -> Samples:
    """Kept within what a sample holds, with half of its range to spare at the loudest."""
    loudest = max(1.0, float(np.abs(sound).max()) / 16_384)
    return (sound / loudest).round().astype(np.int16)
