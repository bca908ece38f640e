"""Rehearses a whole piece without a sound card."""
