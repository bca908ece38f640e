"""A whole session through real speech and real recognition, with no sound card."""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from statistics import median

from voice.caller import Caller
from voice.endpoint import Endpointer, Segment
from voice.hearing import Action, Heard, Hearing
from voice.loop import Conversation, Ears, Mouth
from voice.ports import Condition
from voice.room import Room
from voice.scripted import ScriptedMaker
from voice.session_expectation import reader_in
from voice.speaker import PlayedSpeaker, Renderer
from voice.turns import ECHO_S

THINKS_S = 0.2
"""Pause of the maker after the program has fallen silent and listens again."""
WAITS_S = 2.5
"""Without an answer for so long, the maker says it again."""
TRIES = 3
"""As often; after that the words are typed, and counted as not caught."""
LONGEST_UTTERANCES = 600


@dataclass(slots=True)
class Tally:
    """What came of the utterances."""

    understood: int = 0
    misheard: list[tuple[str, str]] = field(default_factory=list)
    """(said, taken)."""
    not_caught: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    """Asked about before it was taken."""
    latencies_s: list[float] = field(default_factory=list)
    """From the end of the last word to the first sample of the reply."""
    sound_s: float = 0.0
    wall_s: float = 0.0
    ended: bool = False
    """Whether the hat was done."""

    def table(self) -> str:
        """The figures, a line each."""
        late = sorted(self.latencies_s)
        p95 = late[int(0.95 * len(late))] if late else 0.0
        total = self.understood + len(self.misheard) + len(self.not_caught) + len(self.asked)
        per_mb = 1024 if sys.platform != "darwin" else 1024**2
        memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / per_mb
        rows = [
            f"utterances            {total:6d}",
            f"  understood          {self.understood:6d}",
            f"  asked about first   {len(self.asked):6d}",
            f"  not caught          {len(self.not_caught):6d}",
            f"  misheard            {len(self.misheard):6d}",
            f"last word to reply    median {median(late or [0]):.2f} s, p95 {p95:.2f} s",
            f"real-time factor      {self.wall_s / max(self.sound_s, 1e-9):6.2f}",
            f"memory                {memory_mb:6.0f} MB",
        ]
        rows += [f"misheard: {said!r} taken for {taken!r}" for said, taken in self.misheard]
        rows += [f"not caught: {said!r}" for said in self.not_caught]
        return "\n".join(rows)


class Rehearsal:
    """The maker speaks when the program listens, and judges what it makes of that."""

    def __init__(
        self,
        caller: Caller,
        maker: ScriptedMaker,
        hearing: Hearing,
        voices: tuple[Renderer, Renderer],
        *,
        room: Room,
        show: Callable[[str], None],
    ) -> None:
        """`voices` are the maker's and the program's; `show` gets every line of the dialogue."""
        self._caller, self._maker, self._room, self._show = caller, maker, room, show
        self._voice = voices[0]
        speaker = PlayedSpeaker(voices[1], room)
        self._conversation = Conversation(
            caller, Ears(room, hearing, Endpointer()), Mouth(speaker, room), self, clock=room.now
        )
        self.tally = Tally()
        self._said: str | None = None
        self._to_say: list[str] = []
        self._tries = 0
        self._said_until_s = 0.0
        self._quiet_since_s = 0.0
        self._asked = False
        self._uttered = 0
        self._waited_s: float | None = None

    def run(self) -> Tally:
        """Play the whole hat."""
        began, room, conversation = time.monotonic(), self._room, self._conversation
        conversation.begin(self._caller.open())
        while not conversation.ended and self._uttered < LONGEST_UTTERANCES:
            self._let_the_maker_speak()
            self._waited_s = None
            conversation.step()
            if self._waited_s is not None and room.played_at >= room.read_at:
                self.tally.latencies_s.append(self._waited_s + room.played_at - room.read_at)
        while room.playing:
            room.read(0.0)
        self.tally.sound_s = room.now()
        self.tally.wall_s = time.monotonic() - began
        self.tally.ended = conversation.ended
        return self.tally

    def said(self, text: str) -> None:
        """The program speaks."""
        self._show(f"  {text}")

    def heard(self, segment: Segment, what: Heard) -> None:
        """Judge what was made of the maker's words."""
        del segment
        if (said := self._said) is None:
            return
        self._said = None
        self._waited_s = self._room.now() - self._said_until_s
        answered, self._asked = self._asked, what.action is Action.ASK
        right = what.command is not None and what.command == reader_in(self._caller.state)(said)
        if what.action is Action.SILENT:
            self._missed(said)
        elif what.action is Action.ASK:
            self.tally.asked.append(said)
            self._to_say.insert(0, "yes" if right else said)
        elif right:
            self._tries = 0
            self.tally.understood += not answered
        else:
            self.tally.misheard.append((said, what.text))
            self._mend(said, what)

    def _mend(self, said: str, what: Heard) -> None:
        """Take back what was done by mistake, where something was, and say it again."""
        self._tries += 1
        done = what.command is not None and self._caller.preview(what.command)
        if self._tries < TRIES:
            self._to_say = ["undo", said] if done else [said]
        else:
            self._type(said)

    def trouble(self, condition: Condition) -> None:
        """Nothing is wrong with sound that is only computed; if it is, it is shown."""
        self._show(f"  [{condition.sentence}]")

    def _let_the_maker_speak(self) -> None:
        """When the program has fallen silent, and has had its time to answer."""
        room = self._room
        if room.playing or room.maker_speaks:
            self._quiet_since_s = room.now()
        elif self._said is not None:
            if room.now() - self._said_until_s > WAITS_S:
                said, self._said = self._said, None
                self._missed(said)
        elif room.now() - self._quiet_since_s > ECHO_S + THINKS_S:
            self._speak()

    def _speak(self) -> None:
        said = self._to_say.pop(0) if self._to_say else self._maker.says(self._caller.state)
        self._show(f"> {said}")
        self._said = said
        self._uttered += 1
        self._said_until_s = self._room.speak(self._voice.render(said))

    def _missed(self, said: str) -> None:
        """Say it again; after some tries it is typed, as a maker would at last."""
        self._tries += 1
        self.tally.not_caught.append(said)
        if self._tries < TRIES:
            self._to_say.insert(0, said)
        else:
            self._type(said)

    def _type(self, said: str) -> None:
        self._tries = 0
        self._show(f"> {said}  (typed)")
        self._show(f"  {self._caller.hear(said).say}")
