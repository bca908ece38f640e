"""The end of a part: in one breath by a reading that ends it, and the rest for "tell me more"."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import events as e
from pattern.session.commands import Fit, Kind, Look
from pattern.session.state import State
from pattern.shape.rounds import Round
from voice.sentences import fits, hook, last_round, part_words, parts, readings
from voice.sentences.amounts import joined
from voice.sentences.due import begins_part, call, cuts_short, due
from voice.sentences.measured_now import measured_now

_LIES = {Look.FLAT: "it lies flat", Look.RIPPLES: "it ripples", Look.CUPS: "it cups"}


def by_reading(before: State, events: Sequence[e.Event], after: State) -> str:
    """A reading read back, and the end of the part that it leads to; nothing where it leads to
    none, or few words are wanted.
    """
    back = "" if after.brief else _read_back(events, after)
    if not back:
        return ""
    if last_round.ended(events):
        then = last_round.OR_RIP_BACK if _hides(events) else due(before, events, after)
        return joined(f"{back}: that was the last round.", then)
    if after.offered is None:
        return ""
    if begins_part(before, events, after):
        comes = part_words.comes(after.piece, after.offered)
        return joined(f"{back}: {comes}.", call(after.offered, after, begins=True))
    return joined(f"{back}.", due(before, events, after)) if cuts_short(events, after) else ""


def _read_back(events: Sequence[e.Event], after: State) -> str:
    for event in events:
        if isinstance(event, e.ReadingTaken):
            return readings.place(event.reading, after.settings)
        if isinstance(event, e.LookTaken):
            return _LIES[event.look]
    return ""


def details(before: State, events: Sequence[e.Event], after: State) -> str:
    """More on a part that begins or ends with this turn; most often nothing."""
    piece, measured, offered = after.piece, measured_now(after), after.offered
    if last_round.ended(events):
        last = before.piece if before.offered is None else piece
        if _hides(events):
            return fits.STILL_HIDES
        return parts.one_more_round(last, measured.get(Kind.BRIM)) if last.brim_rounds else ""
    if offered is None:
        return ""
    if begins_part(before, events, after):
        told = after.brief or _read_back(events, after)
        begins = part_words.begins(piece, offered, measured) if told else ""
        more = part_words.details(piece, offered, measured)
        return joined(begins, more, hook.found_far(before, after))
    return _crown_across(offered, after) if cuts_short(events, after) else ""


def _hides(events: Sequence[e.Event]) -> bool:
    return any(isinstance(one, e.ReadingTaken) and one.reading.fit is Fit.HIDES for one in events)


def _crown_across(offered: Round, after: State) -> str:
    """How wide the crown is that ends in the round in work, where it does."""
    if after.sets < offered.sets:
        return ""
    part = offered.worked_after(after.sets) / offered.before
    return parts.crown_across(after.piece, offered.after, after.piece.finished + part)
