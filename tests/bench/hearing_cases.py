"""What the engines measured in spoken phrases and in prose read aloud."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import soxr  # type: ignore[import-untyped]

from pattern.session.state import State
from tests.bench import prose
from tests.bench.rooms import TUNING_OTHERS, Condition, cut, cut_all, placed, talk
from tests.bench.sayings import Saying
from voice.hearing.narrowing import groups_now
from voice.recognisers.calibration import Evidence
from voice.recognisers.chosen import NET, net
from voice.recognisers.net.learning.speakers import Voice, available, speak
from voice.sound.ports import RATE_HZ, Samples
from voice.words.phrases import grammar_of

_NARROW_HZ = 8000


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """One utterance and what each engine measured in it; no saying when it is other talk."""

    voice: Voice
    saying: Saying | None
    state: State
    """Of the session, while it is said."""
    length_s: float
    evidence: Mapping[str, Evidence]
    """By engine."""
    amid_talk: bool
    """Whether the program's detector takes it that others talk on."""
    plain: str | None
    """The likeliest phrase, taken for granted; not looked for in tuning."""
    seconds: float
    """From the last sample to complete evidence."""
    cpu_s: float
    """Of all threads in that time: what `seconds` is not far above on a machine that is idle."""


def likeliest(evidence: Mapping[str, Evidence]) -> str | None:
    """For comparison: what the net would write, taken for granted however it fits."""
    gaps = evidence[NET[0]].gaps
    return max(gaps, key=lambda words: gaps[words], default=None)


class Ear:
    """The net in both looks, and for comparison the likeliest phrase, taken for granted."""

    def __init__(self) -> None:
        self.engines = net()

    def case(
        self,
        voice: Voice,
        saying: Saying | None,
        state: State,
        samples: Samples,
        *,
        tuning: bool = False,
        amid_talk: bool = False,
    ) -> Case:
        """One utterance; in `tuning` nothing else is looked at."""
        grammar = grammar_of(groups_now(state))
        began, cpu_began = time.perf_counter(), time.process_time()
        evidence = self.engines.listen(samples, grammar)
        seconds, cpu_s = time.perf_counter() - began, time.process_time() - cpu_began
        plain = None if tuning else likeliest(evidence)
        length_s = len(samples) / RATE_HZ
        return Case(voice, saying, state, length_s, evidence, amid_talk, plain, seconds, cpu_s)


def headset(samples: Samples) -> Samples:
    """As many a headset passes on what is said: up to 4 kHz."""
    narrow = soxr.resample(samples.astype(np.float32), RATE_HZ, _NARROW_HZ)
    passed: Samples = np.resize(soxr.resample(narrow, _NARROW_HZ, RATE_HZ), len(samples))
    return passed.round().astype(np.int16)


def spoken(
    ear: Ear,
    voices: Iterable[Voice],
    sayings: Sequence[Saying],
    each: int,
    *,
    tuning: bool = False,
    through: Callable[[Samples], Samples] = np.asarray,
) -> Iterator[Case]:
    """`each` of the sayings from every voice that is there, another choice for each."""
    for number, voice in enumerate(voices):
        if not available(voice):
            print(f"  left out, not installed: {voice.name}")
            continue
        chosen = random.Random(number).sample(sayings, min(each, len(sayings)))
        sounds = speak(voice, [saying.words for saying in chosen])
        for saying in chosen:
            sound = through(sounds[saying.words])
            yield ear.case(voice, saying, saying.state, sound, tuning=tuning)


def tuning_prose(ear: Ear, readers: Iterable[Voice], states: Sequence[State]) -> Iterator[Case]:
    """Sentences, each read by one voice and cut into utterances by the detector of the program.

    Each utterance falls into another of the states, in which the session waits.
    """
    here = list(filter(available, readers))
    for number, voice in enumerate(here):
        rng = random.Random(number)
        for sound in speak(voice, prose.segments(prose.TUNING_TEXT)[number :: len(here)]).values():
            yield from _pieces(ear, voice, sound, states, rng)


def _pieces(
    ear: Ear, voice: Voice, sound: Samples, states: Sequence[State], rng: random.Random
) -> Iterator[Case]:
    for segment in cut_all(sound):
        yield ear.case(
            voice,
            None,
            rng.choice(states),
            segment.samples,
            tuning=True,
            amid_talk=segment.amid_talk,
        )


def tuning_talk(ear: Ear, states: Sequence[State], minutes: float) -> Iterator[Case]:
    """Talk across the room, and nothing else."""
    sound = talk(minutes, TUNING_OTHERS)
    yield from _pieces(ear, TUNING_OTHERS.voices[0], sound, states, random.Random(1))


def tuning_rooms(
    ear: Ear,
    voices: Iterable[Voice],
    sayings: Sequence[Saying],
    each: int,
    conditions: Sequence[Condition],
) -> Iterator[Case]:
    """Some sayings from every voice, in one room after the other.

    Left out are those that the program's detector does not cut out whole.
    """
    for number, voice in enumerate(filter(available, voices)):
        chosen = random.Random(100 + number).sample(sayings, each)
        sounds = speak(voice, [saying.words for saying in chosen])
        for turn, saying in enumerate(chosen):
            dry = sounds[saying.words].astype(np.float64)
            condition = conditions[(turn + number) % len(conditions)]
            said = placed(condition, saying.words, dry, number * each + turn, TUNING_OTHERS)
            for segment in cut(said):
                first_s = segment.cut_s - len(segment.samples) / RATE_HZ
                if first_s < said.began_s + 0.05 and segment.cut_s > said.ended_s - 0.1:
                    yield ear.case(
                        voice,
                        saying,
                        saying.state,
                        segment.samples,
                        tuning=True,
                        amid_talk=segment.amid_talk,
                    )
