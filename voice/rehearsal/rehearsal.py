"""A whole session with real speech and real recognition, without a sound card."""

from __future__ import annotations

import time
from collections.abc import Callable

from pattern.session.commands import Command
from pattern.session.decisions import decide
from pattern.session.refusals import Refused
from pattern.shape.rounds import Stage
from voice.caller.caller import Caller
from voice.dialogue.conversation import Conversation
from voice.dialogue.echo import LONGEST_S
from voice.dialogue.protocols import Ears, Mouth
from voice.hearing.evidence import Action, Verdict
from voice.hearing.listening import Hearing
from voice.hearing.session_expectation import reader_in
from voice.rehearsal.room import Room
from voice.rehearsal.scripted import ScriptedMaker
from voice.rehearsal.tally import Tally
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.known_sound import WithoutKnown
from voice.sound.ports import Condition
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer

THINKS_S = 0.2
"""Pause of the maker once the program is silent and listens again."""
WAITS_S = 2.5
"""Time without an answer after which the maker repeats the words."""
TRIES = 3
"""Times that the words are said before they are typed and counted as missed."""
OVER_S = 1.0
"""Length of the program's speech before the maker talks over it."""
LONGEST_UTTERANCES = 600


class Rehearsal:
    """Speaks for the maker when the program listens, and judges its replies."""

    def __init__(
        self,
        caller: Caller,
        maker: ScriptedMaker,
        hearing: Hearing,
        voices: tuple[Renderer, Renderer],
        *,
        room: Room,
        show: Callable[[str], None],
        source: WithoutKnown | None = None,
    ) -> None:
        """`voices` are the maker's and the program's; `show` takes every line of dialogue.

        `source` gives the room's sound without a film, and without the program's own voice where
        the maker talks over it; None for the sound as it is.
        """
        self._caller, self._maker, self._room, self._show = caller, maker, room, show
        self._voice = voices[0]
        speaker = PlayedSpeaker(voices[1], room)
        self._conversation = Conversation(
            caller,
            Ears(source or room, hearing, Endpointer(), source if maker.talks_over else None),
            Mouth(speaker, room),
            self,
            clock=room.now,
        )
        self._source = source
        self.tally = Tally(over=0 if maker.talks_over else None)
        self._said: str | None = None
        self._wanted = ""
        self._to_say: list[str] = []
        self._tries = 0
        self._said_until_s = 0.0
        self._quiet_since_s = self._playing_since_s = 0.0
        self._asked = False
        self._uttered = 0
        self._waited_s: float | None = None

    def run(self) -> Tally:
        """Play the whole piece."""
        began, room, conversation = time.monotonic(), self._room, self._conversation
        conversation.tell(self._caller.open().say)
        while not self._over and self._uttered < LONGEST_UTTERANCES:
            self._let_the_maker_speak()
            self._waited_s = None
            conversation.step()
            if self._waited_s is not None and room.played_at >= room.read_at:
                self.tally.latencies_s.append(self._waited_s + room.played_at - room.read_at)
        while room.playing:
            room.read(0.0)
        self.tally.sound_s = room.now()
        self.tally.wall_s = time.monotonic() - began
        self.tally.ended = self._over
        if self._source is not None:
            self.tally.own_db = self._source.gain_db
            self.tally.film_db = self.tally.own_db if room.shows_film else None
        return self.tally

    @property
    def _over(self) -> bool:
        """Whether the hat is done: the call would stay open for another one."""
        return self._conversation.ended or self._caller.state.stage is Stage.DONE

    def said(self, text: str) -> None:
        """Show the program's words."""
        self._show(f"  {text}")

    def heard(self, segment: Segment, what: Verdict) -> None:
        """Judge the program's understanding of the maker's words."""
        del segment
        if (said := self._said) is None:
            if what.action is not Action.SILENT:
                self.tally.unsaid.append(what.text)
            return
        self._said = None
        self._waited_s = self._room.now() - self._said_until_s
        answered, self._asked = self._asked, what.action is Action.ASK
        right = what.said is not None and what.said == reader_in(self._caller.state)(said)
        if what.action is Action.SILENT:
            self._missed(said)
        elif what.action is Action.ASK:
            self.tally.asked.append(said)
            self._tries += not right
            self._to_say.insert(0, "yes" if right else said)
        elif right:
            if not self._to_say:  # the "undo" does not yet count as the maker's line
                self._tries = 0
            self.tally.understood += not answered
        else:
            self.tally.misheard.append((said, what.text))
            self._tries += 1
            self._to_say = ["undo", said] if self._changes(what.command) else [said]

    def _changes(self, command: Command | None) -> bool:
        """Whether a command that is not yet taken is about to change something."""
        try:
            return command is not None and bool(decide(self._caller.state, command))
        except Refused:
            return False

    def trouble(self, condition: Condition) -> None:
        """Show a problem with the sound; simulated sound should have none."""
        self._show(f"  [{condition.sentence}]")

    def _let_the_maker_speak(self) -> None:
        """Let the maker speak once the program had time to answer and is silent; or over it."""
        room = self._room
        if not room.playing:
            self._playing_since_s = room.now()
        if room.playing or room.maker_speaks:
            self._quiet_since_s = room.now()
            self._speak_over()
        elif self._said is not None:
            if room.now() - self._said_until_s > WAITS_S:
                said, self._said = self._said, None
                self._missed(said)
        elif room.now() - self._quiet_since_s > LONGEST_S + THINKS_S:
            self._speak()

    def _speak_over(self) -> None:
        """Say what is to be said while the program speaks, if nothing else is in the way."""
        waits = self._room.now() - self._playing_since_s < OVER_S
        if waits or self._room.maker_speaks or self._said is not None or self._to_say:
            return
        words = self._maker.says_over(self._caller.state)
        if words is not None:
            self.tally.over = (self.tally.over or 0) + 1
            self._wanted = words
            self._utter(words, " (while it speaks)")

    def _speak(self) -> None:
        if not self._to_say:
            self._wanted = self._maker.says(self._caller.state)
            self._to_say = [self._wanted]
        said = self._to_say.pop(0)
        if self._tries >= TRIES and not self._to_say:
            self._type(self._wanted)
            return
        self._utter(said)

    def _utter(self, said: str, how: str = "") -> None:
        self._show(f"> {said}{how}")
        self._said = said
        self._uttered += 1
        self._said_until_s = self._room.speak(self._voice.render(said))

    def _missed(self, said: str) -> None:
        """Say the words again."""
        self._tries += 1
        self.tally.not_caught.append(said)
        self._to_say.insert(0, said)

    def _type(self, said: str) -> None:
        """Type the words after some tries, as a maker eventually would."""
        self._tries = 0
        self._show(f"> {said}  (typed)")
        reply = self._caller.hear(said)
        self._show(f"  {reply.say}")
