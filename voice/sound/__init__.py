"""Microphone, loudspeaker, and where an utterance begins and ends."""
