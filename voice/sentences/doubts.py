"""Asks about doubts, and tells when they are let go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pattern.plan.counting import ripped_to_mend
from pattern.plan.next_round import rounds_left
from pattern.plan.readings import Reading
from pattern.plan.slips import stitches_in_set
from pattern.session import events as e
from pattern.session.state import Doubt, State
from pattern.shape.settings import Settings
from voice.sentences import early_end
from voice.sentences.amounts import about, counted, joined
from voice.sentences.readings import place
from voice.words.spoken_numbers import say_integer


def asked(doubt: Doubt, state: State) -> str:
    """Read back the doubt, and say what yes and no would do."""
    if doubt.reading is not None:
        expected = about(doubt.expected_mm, _in_its_unit(doubt, state))
        return joined(
            f"{_in_words(doubt.reading, doubt, state)}?",
            f"I expected about {expected}.",
            "Yes keeps it; or say the right length.",
        )
    if doubt.count is not None:
        return _count_doubted(doubt.count, state)
    if doubt.start is not None:
        return early_end.asked(state)
    left = counted(rounds_left(state.piece, state.offered), "round is", "rounds are")
    return joined(f"about {left} still planned.", "Finish here? Yes or no.")


def let_go(before: State, events: Sequence[e.Event], after: State) -> str:
    """That what was in doubt is not kept, where something else was said instead of an answer."""
    doubt = before.doubt
    if doubt is None or after.doubt is not None or _any(events, e.DoubtDropped):
        return ""
    if doubt.reading is not None and not _any(events, e.ReadingTaken, e.ReadingDoubted):
        return f"{_in_words(doubt.reading, doubt, before)} is not kept."
    if doubt.count is not None and not _any(events, e.CountTaken, e.CountDoubted):
        return f"{say_integer(doubt.count)} counted is not kept."
    return ""


def _any(events: Sequence[e.Event], *kinds: type[e.Event]) -> bool:
    return any(isinstance(event, kinds) for event in events)


def _in_words(reading: Reading, doubt: Doubt, state: State) -> str:
    return place(reading, _in_its_unit(doubt, state), named=doubt.unit is not None)


def _in_its_unit(doubt: Doubt, state: State) -> Settings:
    return replace(state.settings, unit=doubt.unit or state.settings.unit)


def _count_doubted(count: int, state: State) -> str:
    expected = state.piece.stitches
    way = "too many" if count > expected else "short"
    rip = ripped_to_mend((made.round for made in state.rounds_made()), count)
    advice = joined(_left_out(count, state), "Count again.")
    if rip is not None:
        there = state.piece.finished - rip
        advice = f"Round {say_integer(there)} had that many: count again, or find your place there."
    return joined(
        f"{say_integer(count)} counted?",
        f"That is {say_integer(abs(count - expected))} {way}.",
        advice,
        "Yes keeps it.",
    )


def _left_out(count: int, state: State) -> str:
    """Where the slip lies, when as many increases may be left out, or made twice."""
    made = state.made.round if state.made else None
    if made is None or made.decreasing or not 0 < abs(count - made.after) <= made.sets:
        return ""
    size = stitches_in_set(made)
    if count == made.before:
        return "That is the round before: no increase was made, or the round was not worked."
    each = f": each set has {counted(size, 'stitch', 'stitches')}" if size else ""
    way = "left out" if count < made.after else "too many"
    return f"Most likely that many increases were {way}{each}."
