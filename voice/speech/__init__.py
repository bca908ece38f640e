"""Text to speech, rendered in a separate process."""
