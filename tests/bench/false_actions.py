"""What the program does in talk that holds nothing for it, with and without attention words."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from pattern.session.state import State
from tests.bench.hearing_report import effect
from tests.bench.rooms import heard_out, listened_to
from voice.hearing.attention import Attention, When, other_talk, phrase_heard
from voice.hearing.context import context_of
from voice.hearing.evidence import Action, Context, Evidence
from voice.hearing.listening import Hearing
from voice.sound.endpoint import Segment
from voice.sound.ports import RATE_HZ, Samples

KINDS = ("changes", "stops", "speaks", "asks")


@dataclass(slots=True)
class Tally:
    """What was done in so much talk."""

    found: Counter[str] = field(default_factory=Counter)
    hours: float = 0.0
    texts: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        """In one line."""
        each = ", ".join(
            f"{kind} {self.found[kind]} ({self.found[kind] / self.hours:.1f} an hour)"
            for kind in KINDS
        )
        return f"{self.hours * 60:.1f} minutes: {each}"


def listen(
    hearing: Hearing,
    when: When,
    sound: Samples,
    states: Sequence[State],
    also: Callable[[Segment, Attention], None] = lambda _, __: None,
) -> Tally:
    """Each utterance falls into another of the states in which the session waits.

    As in the program, an utterance too long to be listened to is other talk. `also` is called with
    each that is listened to, and whether the attention words are needed then.
    """
    rng, attention, tally = random.Random(1), Attention(when=when), Tally()
    tally.hours = len(sound) / RATE_HZ / 3600
    state = states[0]

    def hear(segment: Segment) -> tuple[Evidence, Context] | None:
        nonlocal attention, state
        if not listened_to(segment):
            attention, _ = other_talk(attention, segment.end_s)
            return None
        state = rng.choice(states)
        also(segment, attention)
        context = context_of(state, attention=attention, now_s=segment.end_s)
        return hearing.listen(segment.samples, context, amid_talk=segment.amid_talk), context

    for segment, what in heard_out(sound, hear, hearing.written):
        if what.action is Action.SILENT:
            attention, _ = other_talk(attention, segment.end_s)
            continue
        attention = phrase_heard(attention)
        kind = "asks" if what.action is Action.ASK else effect(state, what)
        tally.found[kind] += 1
        tally.texts.append(f"{kind}: {what.text}")
    return tally
