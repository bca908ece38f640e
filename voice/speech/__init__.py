"""Text to samples, in a process of its own."""
