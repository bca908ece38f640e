"""Everything the caller can say: a sentence is a function of the session, never kept in it."""
