"""Words in a pause: the maker is back, or only asks something, or stays away."""

from __future__ import annotations

from dataclasses import replace

from pattern.session import commands as c
from pattern.session.decisions import HEARD_IN_PAUSE
from pattern.session.state import State
from voice.caller.pending import Pending, Understood, followed, repeated
from voice.caller.told import asks_first
from voice.words.free.clear import clear
from voice.words.free.matched import Match
from voice.words.free.matching import match
from voice.words.free.resuming import not_back, stays_away
from voice.words.free.two_things import two_things


def over(words: str, state: State, pending: Pending | None) -> Understood:
    """The end of a pause, and what was told with it that is asked about: "and I ripped back"."""
    back, awake = _back(state, pending), replace(state, paused=False)
    told = not_back(words).strip(" ,")
    if back.pending is not None or not told:
        return back
    if len(several := two_things(told, awake)) > 1:
        return followed(back, several, state)
    rest = clear(told, awake)
    if rest is None:
        likely = match(told, awake)
        rest = likely if likely.asks else None
    work = rest.command if isinstance(rest, Match) else None
    if not isinstance(rest, Match) or work is None or isinstance(work, c.Ask | c.Pause | c.Leave):
        return back
    return followed(back, (rest,), state)


def _back(state: State, pending: Pending | None) -> Understood:
    """The end of a pause; a question that stood when it began stands again."""
    if pending is None or isinstance(pending, c.Resume):
        return Understood((c.Resume(),))
    return replace(repeated(pending, state), commands=(c.Resume(),), unheard=False)


def meant(words: str, command: c.Command | None, state: State) -> Understood | None:
    """The question whether a pause is over; None for words that are none of work.

    Free words that would mean something at work are of somebody who is back at it.
    """
    if command is None and stays_away(words):
        return Understood((c.Ask(c.Asked.AGAIN),))
    awake = replace(state, paused=False)
    found = None if command is not None else clear(words, awake) or match(words, awake)
    work = found.command if isinstance(found, Match) else None
    if isinstance(work, c.Ask | c.Explain) and clear(words, awake) == found:
        return Understood((work,))
    heard = work is None or isinstance(work, HEARD_IN_PAUSE)
    return None if heard else asks_first(c.Resume(), state)
