"""Builds explanations of how something is done from free words."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.trade.techniques import Technique
from voice.words.free.said import Build, Said

_ASKS = (
    r"\b(?:how|what|why|where|which|when|show|tell|explain|teach|remind|forget|forgot|forgotten"
    r"|understand|know|mean|means|can|could|do|does|is|are|should)\b"
)


def explain(technique: Technique) -> Build:
    """Builds an explanation; a number in the words is told of something else, unless they ask."""

    def build(said: Said) -> c.Command | None:
        if said.amounts and re.search(_ASKS, said.words) is None:
            return None
        return c.Explain(technique)

    return build
