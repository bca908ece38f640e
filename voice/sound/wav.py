"""Sound as the contents of a WAV file."""

from __future__ import annotations

from io import BytesIO

from voice.sound.ports import RATE_HZ, Samples


def as_wav(sound: Samples) -> bytes:
    """The sound as the bytes of a WAV file, at `RATE_HZ`."""
    import soundfile  # type: ignore[import-untyped]

    whole = BytesIO()
    soundfile.write(whole, sound, RATE_HZ, format="WAV", subtype="PCM_16")
    return whole.getvalue()
