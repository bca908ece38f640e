"""What the engines measured in spoken phrases and in prose read aloud."""

from __future__ import annotations

import random
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from pattern.state import State
from tests.bench import prose
from tests.bench.sayings import Saying
from tests.bench.speakers import Voice, available, speak
from voice.endpoint import Endpointer
from voice.narrowing import groups_now
from voice.phrases import grammar_of
from voice.ports import RATE_HZ, Samples
from voice.recognisers.agreement import Agreement
from voice.recognisers.calibration import Evidence
from voice.recognisers.chosen import RULE
from voice.recognisers.ctc import Ctc
from voice.recognisers.engine import LONGEST_S
from voice.recognisers.sphinx import Sphinx


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """One utterance and what each engine measured in it; no saying when it is other talk."""

    voice: Voice
    saying: Saying | None
    state: State
    """Of the session, while it is said."""
    length_s: float
    evidence: Mapping[str, Evidence]
    seconds: float
    """From the last sample to complete evidence."""
    cpu_s: float
    """Of all threads in that time: what `seconds` is not far above on a machine that is idle."""


def plain() -> Agreement:
    """The engines of plain pip."""
    return Agreement([Sphinx, Ctc], RULE)


def spoken(
    engines: Agreement, voices: Iterable[Voice], sayings: Sequence[Saying], each: int
) -> Iterator[Case]:
    """`each` of the sayings from every voice that is there, another choice for each."""
    for number, voice in enumerate(voices):
        if not available(voice):
            print(f"  left out, not installed: {voice.name}")
            continue
        chosen = random.Random(number).sample(sayings, min(each, len(sayings)))
        sounds = speak(voice, [saying.words for saying in chosen])
        for saying in chosen:
            yield _case(engines, voice, saying, saying.state, sounds[saying.words])


def read_aloud(
    engines: Agreement, voices: Iterable[Voice], text: str, states: Sequence[State],
    every: int = 1,
) -> Iterator[Case]:  # fmt: skip
    """The text read by each voice and cut into utterances by the detector of the program.

    Each utterance falls into another of the states, in which the session waits. Only one of
    `every` so many is listened to.
    """
    for number, voice in enumerate(filter(available, voices)):
        rng = random.Random(number)
        pieces = prose.segments(text)
        sounds = speak(voice, pieces)
        detector = Endpointer()
        stream = np.concatenate([sounds[piece] for piece in pieces])
        for segment in [*detector.feed(stream), *detector.finish()][::every]:
            if len(segment.samples) <= LONGEST_S * RATE_HZ:
                yield _case(engines, voice, None, rng.choice(states), segment.samples)


def _case(
    engines: Agreement, voice: Voice, saying: Saying | None, state: State, samples: Samples
) -> Case:
    engines.set_grammar(grammar_of(groups_now(state)))
    began, cpu_began = time.perf_counter(), time.process_time()
    evidence = engines.listen(samples)
    seconds, cpu_s = time.perf_counter() - began, time.process_time() - cpu_began
    return Case(voice, saying, state, len(samples) / RATE_HZ, evidence, seconds, cpu_s)
