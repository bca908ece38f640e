"""What listening costs: one core in silence and while somebody talks, memory, time to be ready.

In a process of its own, with the session, the engines of a plain installation and a computed room;
no sound card.
"""

from __future__ import annotations

import resource
import tempfile
import time
from pathlib import Path

import numpy as np

from pattern.journal.journal import Journal
from pattern.session.commands import Change, Choose
from pattern.session.history import CODEC
from pattern.trade.lengths import Amount, Unit
from tests.bench.prose import STORY, segments
from voice.caller.caller import Caller
from voice.cli.ready import warm_up
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.hearing.attention import Attention
from voice.hearing.listening import Hearing
from voice.recognisers.chosen import open_recogniser
from voice.rehearsal.room import Room
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.ports import Condition
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer

SILENCE_S, TALK_S = 120.0, 120.0
HEAD = (
    Change("head_mm", Amount(560.0, unit=Unit.MM)),
    Choose("yarn", 4),
    Change("hook_mm", Amount(5.0)),
)
SILENT_SHARE, TALK_SHARE, MEMORY_MB, READY_S = 0.03, 0.50, 300.0, 2.0
"""To reach: shares of one core, memory, and seconds until it listens."""


class _Nobody:
    """Does not look."""

    def said(self, text: str) -> None: ...

    def heard(self, segment: Segment, what: object) -> None: ...

    def trouble(self, condition: Condition) -> None: ...


def run(argv: list[str]) -> int:
    """Prints the figures; 1 when one to reach is missed."""
    del argv
    began = time.perf_counter()
    hearing = Hearing(open_recogniser())
    warm_up(hearing, Attention())
    ready_s = time.perf_counter() - began
    with (
        tempfile.TemporaryDirectory() as folder,
        Renderer() as renderer,
        Journal.open(Path(folder), "load", CODEC) as journal,
    ):
        room, caller = Room(), Caller(journal)
        ears = Ears(room, hearing, Endpointer())
        mouth = Mouth(PlayedSpeaker(renderer, room), room)
        conversation = Conversation(caller, ears, mouth, _Nobody(), clock=room.now)
        conversation.tell(caller.open(HEAD).say)
        while room.playing:
            conversation.step()
        silence = _share(conversation, room, SILENCE_S)
        talk = [renderer.render(sentence) for sentence in segments(STORY)]
        room.speak(np.concatenate(talk)[: int(TALK_S * 16_000)])
        talking = _share(conversation, room, TALK_S)
    memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    rows = (
        ("one core in silence", silence, SILENT_SHARE),
        ("one core in talk", talking, TALK_SHARE),
        ("memory, MB", memory_mb, MEMORY_MB),
        ("ready after, s", ready_s, READY_S),
    )
    for name, found, most in rows:
        reached = "reached" if found <= most else "missed"
        print(f"{name:22}{found:8.3f}   at most {most:g}   {reached}")
    return int(any(found > most for _, found, most in rows))


def _share(conversation: Conversation, room: Room, length_s: float) -> float:
    """Processor time over the time that passes in the room."""
    until, began = room.now() + length_s, time.process_time()
    while room.now() < until:
        conversation.step()
    return (time.process_time() - began) / length_s
