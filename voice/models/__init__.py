"""The speech models: the list of them, and fetching one."""
