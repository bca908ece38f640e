"""Turns words and sound into commands for a piece, and its answers into words and sound."""
