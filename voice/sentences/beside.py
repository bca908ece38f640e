"""Tells the events beside the rounds: manner of speech, hands, notes and pauses."""

from __future__ import annotations

from pattern.session import events as e
from pattern.session.commands import Signs
from pattern.session.state import State
from voice.sentences import decorating, fits, hands, pace, places
from voice.sentences.amounts import joined, with_unit

_SIGNS = {
    Signs.SOUNDS: "Signs as sounds.",
    Signs.WORDS: "Signs in words.",
    Signs.BOTH: "Signs as sounds and in words.",
}


def told(event: e.Event, before: State, after: State) -> str:
    """The words for the event; empty for one of the rounds."""
    match event:
        case e.WordingChosen(brief):
            return "Few words." if brief else "All the words."
        case e.SpeechChosen():
            return "Like this."
        case e.SignsChosen(signs):
            return _SIGNS[signs]
        case e.MakerChanged():
            return hands.others(after)
        case e.TensionChanged():
            return "I rely less on the earlier readings."
        case e.NoteTaken(text, number):
            return places.noted(text, number)
        case e.OwnWidthKnown(unit, width_mm):
            return f"Your {unit.value} is {with_unit(width_mm, after.settings)} wide."
        case e.MeansKnown():
            return fits.means(event, before)
        case e.DecorationEnded():
            return decorating.ended(before, after)
        case e.RestsChosen(every_min):
            return pace.rests(every_min)
        case e.ReminderChosen(after_s):
            return pace.reminder(after_s)
        case e.Paused():
            return "Paused. Say resume to go on."
        case e.Resumed():
            return joined("going on.", places.where(after))
        case e.Left():
            return joined("saved.", places.where(after), "Goodbye.")
    return ""
