"""A conversation in a computed room, driven until something is over."""

from __future__ import annotations

from typing import Generic, TypeVar

from tests.loud_room import LoudRoom
from voice.dialogue.conversation import Conversation
from voice.rehearsal.room import Room

AnyRoom = TypeVar("AnyRoom", bound=Room | LoudRoom)


class TalkInRoom(Generic[AnyRoom]):
    """Lets a conversation go on in its room's own time."""

    room: AnyRoom
    talk: Conversation

    def silent(self) -> None:
        """Until the program has spoken."""
        while self.room.playing:
            self.talk.step()

    def wait(self, length_s: float) -> None:
        """For so many seconds."""
        end_s = self.room.now() + length_s
        while self.room.now() < end_s:
            self.talk.step()
