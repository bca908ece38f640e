"""The next round of a piece, and the reading worth asking for."""
