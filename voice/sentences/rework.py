"""Sentences at the end of sides that do not fit, whose last rounds are worked again."""

from __future__ import annotations

from pattern.session import events as e
from pattern.session.commands import Kind
from pattern.session.state import State
from voice.sentences.amounts import about_with_unit, counted, joined
from voice.sentences.readings import place
from voice.words.spoken_numbers import say_integer

Shown = e.ReadingTaken | e.CountTaken | e.RoundsTakenBack
"""Words for the sign of the misfit, and for what is done about it."""


def told(event: Shown, state: State) -> str:
    """An event of the turn in which that is found; `state` is the one after it."""
    match event:
        case e.ReadingTaken(reading):
            over_mm = reading.value_mm - state.piece.settings.girth_mm
            off = f"{about_with_unit(abs(over_mm), state.piece.settings)} " + (
                "over." if over_mm > 0 else "under."
            )
            return joined(
                f"{place(reading, state.settings)}.", off if reading.kind is Kind.AROUND else ""
            )
        case e.CountTaken(count):
            return f"{say_integer(count)} counted."
    out = "the last round" if event.rounds == 1 else f"the last {counted(event.rounds, 'round')}"
    if state.brief:
        return f"Rip out {out}, and count what is left."
    anew = "It is" if event.rounds == 1 else "They are"
    return (
        f"So rip out {out}, and count what is left. {anew} worked anew, to fit."
        " To leave it so, say undo, then next."
    )
