"""Decisions beside the work, which leave the rounds as they are: balls, rests, notes, the place."""

from __future__ import annotations

from dataclasses import replace

from pattern.session import commands as c
from pattern.session import decide_interview
from pattern.session import events as e
from pattern.session.commands.manner import FASTEST_WPM, SLOWEST_WPM
from pattern.session.folding import Decided, Turn, unfolding
from pattern.session.next_offer import refused
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount

MOST_STITCHES = 999
"""More are in no round of a hat; our choice."""
LONGEST_NOTE = 200
"""Letters in a note; our choice: about what is said in one breath or two."""
SHORTEST_MIN, LONGEST_MIN = 5, 180
"""Rhythms of rest that can be chosen; our choice."""
SOONEST_S, LATEST_S = 20, 3600
"""When a reading may be asked for once more; our choice: reading a tape takes a while."""


def balls(state: State, command: c.HaveBalls) -> Decided:
    """So many balls, by the weight on their band. Raises: Refused while that is not known."""
    ball_g, amount = state.settings.ball_g, command.amount
    if ball_g is None or amount.unit is not None:
        raise Refused(Reason.WHICH_BALL, state.stage, command)
    weight = Amount(amount.value * ball_g, amount.step * ball_g)
    taken = decide_interview.answered(state, "stash_g", weight, command)
    return decide_interview.closed(unfolding(state, *taken))


def rests(state: State, command: c.Rests) -> tuple[e.Event, ...]:
    """The rhythm of hints to rest. Raises: Refused for one that makes no sense."""
    if command.every_min and not SHORTEST_MIN <= command.every_min <= LONGEST_MIN:
        detail = {"least": SHORTEST_MIN, "most": LONGEST_MIN}
        raise Refused(Reason.ODD_RHYTHM, state.stage, command, detail)
    return (e.RestsChosen(command.every_min),)


def reminder(state: State, command: c.RemindAfter) -> tuple[e.Event, ...]:
    """When to ask once more for a reading. Raises: Refused for a time that makes no sense."""
    if command.after_s and not SOONEST_S <= command.after_s <= LATEST_S:
        detail = {"least": SOONEST_S, "most": LATEST_S // 60}
        raise Refused(Reason.ODD_WAIT, state.stage, command, detail)
    return (e.ReminderChosen(command.after_s),)


def note(state: State, command: c.Note) -> tuple[e.Event, ...]:
    """Take a note; its words are kept, without unprintable characters and repeated spaces.

    Raises: Refused for an empty note, or a long one.
    """
    printed = "".join(sign if sign.isprintable() else " " for sign in command.text)
    text = " ".join(printed.split())
    if not text:
        raise Refused(Reason.EMPTY_NOTE, state.stage, command)
    if len(text) > LONGEST_NOTE:
        raise Refused(Reason.LONG_NOTE, state.stage, command, {"most": LONGEST_NOTE})
    return (e.NoteTaken(text, here(state)),)


def here(state: State) -> int:
    """The round that is worked now; 0 before the first."""
    return state.offered.number if state.offered is not None else state.piece.finished


def lost(state: State, command: c.LostAt) -> tuple[e.Event, ...]:
    """Only an answer: the maker goes there by ripping back, or by saying next.

    Raises: Refused where nothing is worked, or for what no round can have.
    """
    if state.stage is Stage.SETUP:
        raise Refused(Reason.STILL_SETUP, state.stage, command)
    if not state.piece.finished:
        raise Refused(Reason.TOO_EARLY, state.stage, command)
    least = 0 if command.between else 3
    if not least <= command.count <= MOST_STITCHES:
        detail = {"least": least, "most": MOST_STITCHES}
        raise Refused(Reason.COUNT_IMPOSSIBLE, state.stage, command, detail)
    return ()


STEP_WPM = 20
_QUIETEST, _STEP = 0.2, 0.2


def speak(state: State, command: c.Speak) -> Turn:
    """Slower, louder, another voice. Raises: Refused where it goes no further."""
    now = state.speech
    match command.manner:
        case c.Manner.SLOWER | c.Manner.FASTER:
            step = STEP_WPM if command.manner is c.Manner.FASTER else -STEP_WPM
            then = replace(now, rate_wpm=min(max(now.rate_wpm + step, SLOWEST_WPM), FASTEST_WPM))
        case c.Manner.LOUDER | c.Manner.QUIETER:
            step_ = _STEP if command.manner is c.Manner.LOUDER else -_STEP
            then = replace(now, volume=round(min(max(now.volume + step_, _QUIETEST), 1.0), 1))
        case c.Manner.OTHER_VOICE:
            then = replace(now, voice=now.voice + 1)
    if then == now:
        raise refused(state, command, Reason.NO_FURTHER)
    return (then,)
