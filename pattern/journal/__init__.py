"""Events on the disk: one file a piece, one line a turn."""
