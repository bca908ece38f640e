"""A call in the room of the bench, whose program speaks through a loudspeaker."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from tests.bench.film_room import path
from tests.bench.room import Ear, session
from tests.bench.rooms import COMMANDS
from tests.loud_room import LoudRoom
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.hearing.evidence import Verdict
from voice.recognisers.net.learning.acoustics import (
    MICROPHONE_M,
    TO_MAKER,
    TO_OTHERS,
    Floats,
    across,
    active_level,
)
from voice.recognisers.net.learning.speakers import Voice, speak
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.known_sound import WithoutKnown
from voice.sound.ports import RATE_HZ, Condition, Samples
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer

LEVEL = 1500.0
"""Active level of a maker at the microphone, in sample values; by judgement."""
LOUDSPEAKER_M = 0.6
TEXTS = (
    "Round nine: two in one, seven plain, six times. Fifty four. Move the marker up.",
    "Measure across, please: lay the piece flat, and say across and the length.",
    "You have about six rounds left in the crown, and it takes a third of a ball of yarn.",
    "Round ten: two in one, eight plain, six times. Sixty. Round eleven is one in each stitch.",
)


@dataclass(frozen=True, slots=True)
class Over:
    """How loud the program is at the microphone, and through which loudspeaker."""

    snr_db: float
    """The maker's active level over the program's at the microphone."""
    bent: float = 0.0
    distance_m: float = 1.0

    @property
    def name(self) -> str:
        """Its name in the table."""
        kind = {0.0: "clean", 0.8: "mildly bent", 1.5: "overdriven"}[self.bent]
        return f"own voice, {kind}, {self.distance_m:g} m, {self.snr_db:+.0f} dB"


class Call:
    """A call in a room, which goes on from one piece to the next."""

    def __init__(self, over: Over, ear: Ear, ours: Renderer, *, taken_out: bool) -> None:
        loudspeaker = MICROPHONE_M + LOUDSPEAKER_M * TO_OTHERS / np.linalg.norm(TO_OTHERS)
        way = path(0.4, tuple(loudspeaker), tuple(MICROPHONE_M))
        sample = np.concatenate([ours.render(text) for text in TEXTS]).astype(np.float64)
        full = float(np.abs(sample).max())
        heard = active_level(across(_bent(sample, over.bent, full), way))
        self.loudness = active_level(sample)
        way = way * LEVEL * 10 ** (-over.snr_db / 20) / heard
        self.room = LoudRoom(way, lambda sound: _bent(sound, over.bent, full))
        self._source = WithoutKnown(self.room, self.room, tells=False)
        self._taken_out, self._ear, self._ours = taken_out, ear, ours
        self._endpointer = Endpointer()
        self.insists = 0
        """How often what it says counts as cut off before."""
        self.verdicts: list[tuple[Segment, Verdict]] = []
        self.heard_s: list[float] = []
        self.told: list[str] = []
        self.talk = self.begin()

    def begin(self) -> Conversation:
        """Take the piece up as it is after seven rounds."""
        caller = Caller(Unkept("bench"))
        caller.state = session()
        source = self._source if self._taken_out else self.room
        own = self._source if self._taken_out else None
        mouth = Mouth(PlayedSpeaker(self._ours, self.room), self.room)
        self.caller = caller
        ears = Ears(source, self._ear.hearing, self._endpointer, own)
        self.talk = Conversation(caller, ears, mouth, self, clock=self.room.now)
        return self.talk

    def say(self, text: str) -> None:
        """Begin to say it."""
        self.talk.tell(text, insists=self.insists)

    def said(self, text: str) -> None:
        self.told.append(text)

    def heard(self, segment: Segment, what: Verdict) -> Condition | None:
        self.verdicts.append((segment, what))
        self.heard_s.append(self.room.now())
        return None

    def trouble(self, condition: Condition) -> None:
        self.told.append(condition.sentence)

    def pass_s(self, length_s: float) -> None:
        """Let time pass."""
        end_s = self.room.now() + length_s
        while self.room.now() < end_s:
            self.talk.step()

    def silent(self) -> None:
        """Until the program has spoken, and a little longer."""
        while self.room.playing:
            self.talk.step()
        self.pass_s(1.0)


def _bent(sound: Floats, how: float, full: float) -> Floats:
    return sound if how == 0 else np.tanh(sound / full * how) / how * full


def commands(over: Over, voices: Sequence[Voice]) -> Iterator[tuple[str, Samples]]:
    """Half of the commands by each voice, the other half by the next, at the microphone."""
    maker = MICROPHONE_M + over.distance_m * TO_MAKER / np.linalg.norm(TO_MAKER)
    way = path(0.4, tuple(maker), tuple(MICROPHONE_M))
    for number, voice in enumerate(voices):
        sounds = speak(voice, COMMANDS[number % 2 :: 2])
        for command, dry in sounds.items():
            heard = across(dry.astype(np.float64), way)
            yield command, np.rint(heard * LEVEL / active_level(heard)).astype(np.int16)


def film_of_commands(voice: Voice, level: float) -> Floats:
    """All commands four times, in another order each time, with a breath between."""
    rng, sounds, parts = np.random.default_rng(1), speak(voice, COMMANDS), list[Floats]()
    for _ in range(4):
        for command in rng.permutation(COMMANDS):
            pause = np.zeros(round(rng.uniform(0.4, 1.2) * RATE_HZ))
            parts += [sounds[str(command)].astype(np.float64), pause]
    film = np.concatenate(parts)
    return np.asarray(film * level / active_level(film))
