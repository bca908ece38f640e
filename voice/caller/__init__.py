"""One turn: words, decision, journal, reply."""
