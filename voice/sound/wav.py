"""A sound as a file holds it."""

from __future__ import annotations

from io import BytesIO

from voice.sound.ports import RATE_HZ, Samples


def as_wav(sound: Samples) -> bytes:
    """A sound as the bytes of a WAV file, at the rate of all sound here."""
    import soundfile  # type: ignore[import-untyped]

    whole = BytesIO()
    soundfile.write(whole, sound, RATE_HZ, format="WAV", subtype="PCM_16")
    return whole.getvalue()
