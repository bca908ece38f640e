"""Commands that were heard, where one answers a question for a number, or leads to one."""

from __future__ import annotations

from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from voice.caller import one_breath
from voice.caller.caller import Caller
from voice.caller.pending import Understood, asked_about
from voice.caller.reply import Reply
from voice.caller.told import in_turn
from voice.sentences import asked_further
from voice.sentences.amounts import joined
from voice.words.free.told_at_once import told_aloud
from voice.words.free.two_things import two_things
from voice.words.free.wanted import Wanted, answering, mending
from voice.words.phrases import read


class Spoken:
    """Gives a caller what was heard; a mishap in free words is followed by the question that leads
    out of it, and several answers in one sentence are all taken, as where they are typed.
    """

    def __init__(self, caller: Caller) -> None:
        """Borrow the caller; nothing is asked yet."""
        self._caller = caller
        self._wanted: Wanted | None = None

    @property
    def state(self) -> State:
        """State of the piece."""
        return self._caller.state

    @property
    def wants_number(self) -> bool:
        """Whether a number is asked for that leads out of a mishap."""
        return self._wanted is not None

    def take(self, command: c.Command, words: str, *, freely: bool) -> Reply:
        """The reply to a command, as it was heard; `freely` where it was free wording."""
        wanted, self._wanted = self._wanted, None
        if wanted is not None and isinstance(read(words), c.Answer):
            command = answering(wanted, words) or command
        if freely and (found := self._in_one_breath(command, words)).commands:
            reply = one_breath.taken(found, self._caller.take)
            return replace(reply, asks=asked_about(found.pending))
        self._wanted = mending(command, self._caller.state) if freely else None
        if self._wanted is None:
            return self._caller.take(command)
        asked = asked_further.number(self._wanted)
        if isinstance(command, c.Help):
            return Reply(asked, self._caller.state, command)
        told = self._caller.take(command)
        return replace(told, say=joined(told.say, asked))

    def _in_one_breath(self, command: c.Command, words: str) -> Understood:
        """Everything that was told beside the command; nothing where that is all."""
        if several := told_aloud(words, self.state):
            return Understood(several)
        both = two_things(words, self.state, aloud=True)
        first = len(both) > 1 and both[0].command == command and not both[0].asks
        return in_turn(both, self.state) if first else Understood()
