"""A film on the virtual loudspeaker, and as the virtual microphone hears it in a room."""

from __future__ import annotations

import os
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

from tests.known_sound import Floats, samples
from tests.virtual_audio import RATE_HZ, VirtualAudio

_RAW = ("--raw", "--format=s16le", f"--rate={RATE_HZ}", "--channels=1")
_LATER_S = 0.1


@contextmanager
def playing(card: VirtualAudio, sound: Floats, sink: str | None = "loudspeaker") -> Iterator[None]:
    """Play a film on a loudspeaker, or on whichever is the default, in a process of its own as a
    player does.
    """
    with tempfile.TemporaryFile() as file:
        file.write(samples(sound).tobytes())
        file.seek(0)
        player = subprocess.Popen(
            ["pacat", "--playback", *(("-d", sink) if sink else ()), *_RAW],
            env={**os.environ, **card.variables},
            stdin=file,
            stderr=subprocess.DEVNULL,
        )
        try:
            yield
        finally:
            player.kill()
            player.wait()


@contextmanager
def playing_in_room(card: VirtualAudio, sound: Floats, heard: Floats) -> Iterator[None]:
    """Play a film that the microphone hears a little later, as it was computed beforehand."""
    with ExitStack() as both:
        both.enter_context(playing(card, sound))
        time.sleep(_LATER_S)  # sound needs time to come to a microphone
        both.enter_context(playing(card, heard, "room"))
        yield
