"""Forecasts the rest of the piece, its yarn and its time, and finds a lost place."""
