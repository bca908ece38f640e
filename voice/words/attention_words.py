"""Words that come before a phrase while others talk."""

from __future__ import annotations

CHOICES = ("listen basket", "yellow basket", "purple basket")
"""Attention words to choose from; others may be taken, see `voice.hearing.attention`.

Chosen by how near talk comes to them, from those of `python -m tests.bench room --attention`.
"""
