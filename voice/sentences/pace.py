"""Time: how long the rest takes at the maker's pace, and when the hands want a rest."""

from __future__ import annotations

from pattern.forecast.pace import FEWEST_ROUNDS, Pace, time_left, time_taken
from pattern.gauge.estimate import Estimate
from pattern.plan.next_round import rounds_of
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.sentences import places
from voice.sentences.amounts import counted, decimal, joined
from voice.words.spoken_numbers import say_integer

SEE_A_DOCTOR = "See a doctor if it doesn't go away."
REST = f"Rest your hands a little now. If they hurt, tingle or go numb, stop. {SEE_A_DOCTOR}"
"""The hint; its cautious words are those of the write-up."""
BRIEF_REST = "Rest your hands."


def rest(state: State) -> str:
    """The hint to rest."""
    return BRIEF_REST if state.brief else REST


def pain(state: State) -> str:
    """The answer to hands that hurt; the piece can wait."""
    kept = "" if state.paused else "Your place is kept: say pause, or leave."
    return joined("Stop now, and rest your hands and arms.", SEE_A_DOCTOR, kept)


def rests(every_min: int) -> str:
    """The rhythm read back."""
    if not every_min:
        return "No hints to rest."
    return f"A hint to rest every {counted(every_min, 'minute')} of work."


def reminder(after_s: int) -> str:
    """When a reading is asked for once more, read back."""
    if not after_s:
        return "I ask for a reading only once."
    minutes, seconds = divmod(after_s, 60)
    said = counted(after_s, "second") if seconds else counted(minutes, "minute")
    return f"I ask again, once, after {said} of silence."


def left(state: State, pace: Pace | None) -> str:
    """How long the rounds left take; at the end, how long all of them took."""
    if state.stage in {Stage.FINISHING, Stage.DONE}:
        took = f"It took about {duration(time_taken(state, pace))} of work." if pace else ""
        return joined("No rounds are left.", took)
    if pace is None:
        return joined(places.rounds(state) if state.offered is not None else "", _unknown())
    return joined(
        f"{_about(time_left(state, pace))} of work.",
        f"You make about {counted(round(pace.stitches_per_min), 'stitch', 'stitches')} a minute.",
    )


def crown(state: State, pace: Pace | None) -> str:
    """How long the rest of the first part takes: a crown, a dome, or what its shape calls it."""
    in_crown = state.offered is not None and state.offered.part == 0
    called = state.piece.stretches[0].called
    if state.stage is not Stage.SETUP and not in_crown:
        return f"The {called} is done."
    rounds = _crown_rounds(state) if in_crown else ""
    if pace is None:
        return joined(rounds, "" if rounds else _unknown())
    time = _about(time_left(state, pace, crown_only=True))
    return joined(rounds, f"the {called} takes {time}.")


def _crown_rounds(state: State) -> str:
    """The rounds until increasing stops, with the one in work."""
    offered, piece = state.offered, state.piece
    assert offered is not None
    left = rounds_of(piece, 0, piece.finished)
    return f"About {counted(max(left, 1), 'round')}, and the {piece.stretches[0].called} is done."


def _unknown() -> str:
    return (
        f"I do not know your pace yet: ask again when {say_integer(FEWEST_ROUNDS)} rounds "
        "are worked in one go."
    )


def _about(time: Estimate) -> str:
    return f"about {duration(time.mean)}, give or take {duration(time.sd)}"


def duration(minutes: float) -> str:
    """A time roughly: by five minutes, and from an hour and a half by half hours."""
    if minutes < 3:
        return counted(max(round(minutes), 1), "minute")
    if minutes < 90:
        return counted(max(5 * round(minutes / 5), 5), "minute")
    hours = round(minutes / 30) / 2
    return f"{decimal(hours)} hours"
