"""Tells which sounds may be the maker, while the program speaks and after: pure.

Half-duplex unless told otherwise: while the program speaks it does not listen, and what is over
before the echo's time is over is taken for the echo. Times are seconds of the loop's clock.
"""

from __future__ import annotations

from dataclasses import replace

from voice.dialogue import echo
from voice.dialogue.echo import GAP_S, Echo
from voice.dialogue.turn_state import Manners, Turns
from voice.hearing.utterance_part import Part
from voice.sound.endpoint import EndpointSettings

PAUSE_S = EndpointSettings().hang_s
"""Words that are less apart are of one utterance."""
REST_S = 1.0
"""Speech that begins so soon after something that nothing was made of may be its rest: "count", and
after a thought "thirty". By judgement, no source."""


def listens(turns: Turns, manners: Manners) -> bool:
    """Whether what the microphone brings may be the maker."""
    return manners.talk_over or not turns.speaking


def part_heard(turns: Turns, manners: Manners, began_s: float, ended_s: float) -> Part:
    """Content of an utterance from `began_s` to `ended_s`."""
    if manners.talk_over or began_s < turns.gave_way_s:
        return Part.WHOLE
    if ended_s <= turns.deaf_until_s:
        return Part.ECHO
    if began_s < turns.silent_since_s + GAP_S:
        return Part.TAIL
    before_s = max(turns.silent_since_s, turns.echoed_until_s) + PAUSE_S
    return Part.REST if began_s < max(before_s, turns.uncaught_s + REST_S) else Part.WHOLE


def echo_over(turns: Turns, manners: Manners, began_s: float, spoke_s: float, now_s: float) -> bool:
    """Whether an utterance still open, speech to `spoke_s`, is an echo that has died away."""
    return now_s - spoke_s >= GAP_S and (part_heard(turns, manners, began_s, spoke_s) is Part.ECHO)


def began_speaking(turns: Turns, *, sign: bool = False, insists: int = 0) -> Turns:
    """The program speaks, or gives a `sign`; what its last echo was is not settled any more.

    It `insists` on being heard out where it was cut off before, so many times.
    """
    return replace(
        turns,
        speaking=True,
        signed=sign,
        cut=turns.cut and sign,
        insists=turns.insists if sign and turns.cut else insists,
        echo=replace(turns.echo, sound_s=None),
    )


def echo_ended(turns: Turns, ended_s: float) -> Turns:
    """A sound that ended then was taken for the echo, and dropped."""
    return replace(turns, echoed_until_s=ended_s)


def fell_silent(turns: Turns, now_s: float) -> Turns:
    """The program has spoken: from now on there is its echo, and then quiet."""
    return replace(
        turns,
        speaking=False,
        silent_since_s=now_s,
        quiet_since_s=now_s,
        deaf_until_s=now_s + turns.echo.deaf_s,
        echo=echo.began(turns.echo),
    )


def gave_way(turns: Turns, heard_from_s: float, now_s: float) -> Turns:
    """The program fell silent for what was heard already when its own sound began."""
    cut = turns.cut or not turns.signed
    return replace(fell_silent(turns, now_s), cut=cut, gave_way_s=heard_from_s)


def sound_heard(turns: Turns, began_s: float, spoke_s: float) -> Turns:
    """Something was heard from `began_s` to `spoke_s`: while it may be the echo, that is noted."""
    since_s = turns.silent_since_s
    return replace(turns, echo=echo.heard(turns.echo, began_s - since_s, spoke_s - since_s))


def sounds_otherwise(turns: Turns) -> Turns:
    """The program is louder or quieter now, or the devices are others.

    Its echo is unknown, and what it had asked may not have been heard.
    """
    return replace(turns, echo=Echo(), asked=())
