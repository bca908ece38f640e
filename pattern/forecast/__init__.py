"""The rest of the piece, its yarn and time, and a lost place."""
