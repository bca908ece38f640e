"""A choice that is asked about, in words."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.shape.settings import Answered
from voice.sentences.questions import NAMES

_SAID: dict[tuple[str, Answered], str] = {
    ("terms", "us"): "US names of stitches",
    ("terms", "uk"): "UK names of stitches",
    ("joined", True): "joined rounds",
    ("joined", False): "a spiral",
    ("stacked", True): "increases above each other",
    ("stacked", False): "increases shifted from round to round",
    ("brim_mm", 0): "no brim",
}


def choice(command: c.Choose) -> str:
    """The choice as a question begins: "UK names of stitches"."""
    said = _SAID.get((command.key, command.value))
    return said or f"{NAMES.get(command.key, command.key)}: {command.value}"
