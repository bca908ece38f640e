"""Speech through a loudspeaker, or whatever plays."""

from __future__ import annotations

from voice.sound.ports import Player
from voice.speech.speaker import Renderer


class PlayedSpeaker:
    """The `Speaker` port, with a renderer and any `Player`."""

    def __init__(self, renderer: Renderer, player: Player) -> None:
        """Use both without owning them; their owner closes them."""
        self._renderer = renderer
        self._player = player

    @property
    def speaking(self) -> bool:
        """Whether a sentence is still being played."""
        return self._player.playing

    def prepare(self, text: str) -> None:
        """Render `text` ahead of time."""
        self._renderer.prepare(text)

    def say(self, text: str) -> None:
        """Play `text` after the sound already waiting, each clause as soon as it is rendered.

        Raises SpeechFailedError; the clauses before it are played.
        """
        for number, clause in enumerate(self._renderer.pieces(text)):
            self._player.play(clause, goes_on=number > 0)

    def stop(self) -> None:
        """Fall silent."""
        self._player.stop()
