"""The content of the page at one moment, as data."""

from __future__ import annotations

import json

from pattern.plan.next_round import rounds_left
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.page.piece_drawing import piece_drawing
from voice.page.ring_drawing import ring_drawing
from voice.page.said import Said


def as_data(said: Said) -> str:
    """The content as one JSON object on one line."""
    ring, piece = ring_drawing(said.state), piece_drawing(said.state)
    content = {
        "said": said.text,
        "where": where(said.state),
        "ring": ring.svg if ring else "",
        "piece": piece.svg if piece else "",
    }
    return json.dumps(content, ensure_ascii=True)


def where(state: State) -> str:
    """The round and how far it is worked, in full words; empty before the first."""
    offered = state.offered
    if state.stage is Stage.SETUP:
        return ""
    if offered is None:
        return "All rounds are worked."
    total = state.piece.finished + rounds_left(state.piece, offered)
    called = [part.called for part in state.settings.shape.parts]
    part = f", {called[offered.part]}" if offered.part < len(called) else ""
    words = f"Round {offered.number} of about {total}{part}."
    if offered.sets > 1 and state.sets:
        words += f" {state.sets} of {offered.sets} repeats worked."
    return words
