"""Commands in, events out; the state is the fold of the events."""
