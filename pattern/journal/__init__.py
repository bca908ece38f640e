"""Journals on disk: one file for each piece, one line for each turn."""
