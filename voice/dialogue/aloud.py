"""Saying things aloud and on the screen, also where speech fails."""

from __future__ import annotations

from voice.dialogue.protocols import Listener, Mouth
from voice.sound.earcons import Earcon
from voice.speech.speaker import SpeechFailedError


class Aloud:
    """Says things with a mouth and shows them to whoever watches."""

    def __init__(self, mouth: Mouth, listener: Listener) -> None:
        """Borrow both."""
        self._mouth, self._listener = mouth, listener
        self._mute = False
        self.last = ""

    def say(self, text: str) -> None:
        """Say and show `text`; where it cannot be spoken, a sign is heard and why is shown once."""
        self._listener.said(text)
        self.last = text
        try:
            self._mouth.speaker.say(text)
            self._mute = False
        except SpeechFailedError as failure:
            self.sound(Earcon.UNSPOKEN)
            if not self._mute:
                self._listener.said(str(failure))
            self._mute = True

    def sound(self, earcon: Earcon) -> None:
        """Play a sign, which needs no speech."""
        self._mouth.player.play(earcon.samples())
