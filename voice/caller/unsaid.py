"""The rest of a reply that was too long for one breath, and the words that go on to it."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.session.commands import Ask, Asked, Command, GoOn, Next, Speak, Wording
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.caller.reply import Reply
from voice.sentences import finishing, last_round, pages

MORE = Ask(Asked.MORE)


@dataclass(frozen=True, slots=True)
class Unsaid:
    """Pages for "tell me more", and the first step of the finishing for "next"."""

    pages: tuple[str, ...] = ()
    step: bool = False
    """Whether the first step of the finishing is still to be told."""

    def at(self, command: Command, state: State) -> str | None:
        """The words that a command goes on to; None where it goes on to nothing unsaid."""
        if command == MORE and self.pages:
            return pages.hinted(self.pages[0], self.pages[1:])
        if not self.step or not (command == MORE or isinstance(command, Next | GoOn)):
            return None
        held = state.paused or state.doubt is not None or state.decorating is not None
        return None if held else finishing.step(state)

    def gone_on(self, command: Command) -> Unsaid:
        """The rest, when the words of `at` are said."""
        by_page = command == MORE and bool(self.pages)
        return Unsaid(self.pages[1:], step=self.step and by_page)

    def after(self, reply: Reply, left: tuple[str, ...]) -> Unsaid:
        """The rest after a reply that left pages; after a manner of speaking it stays as it was."""
        command, state = reply.command, reply.state
        stays = command == Ask(Asked.AGAIN) or isinstance(command, Speak | Wording)
        kept = self.pages if stays and not left else left
        ended = state.stage is not Stage.FINISHING or state.step > 0
        told = ended or reply.say.endswith(finishing.step(state))
        waits = last_round.waits(reply.events, state)
        return Unsaid(kept, step=waits or (self.step and not told))
