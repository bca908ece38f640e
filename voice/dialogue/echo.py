"""How long the program is still heard after it has spoken: learned from its first replies.

The echo begins with the silence and is over after half a second at the most; a maker who answers
fast begins within that time. Where the microphone hears nothing of the program, as with a headset
or a speaker far off, it need not stay deaf for so long. Pure, as the turns are; times are seconds
since the program fell silent.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

LONGEST_S = 0.5
"""The longest echo seen in trials with a loudspeaker ended after 0.46 s."""
GAP_S = 0.15
"""Gaps within a word are shorter, by judgement, no source: speech that is on so soon after ours
began under it, and an echo that pauses for so long is over."""
MARGIN_S = 0.1
"""Added to the longest of the echoes heard, by judgement: the next may end on a louder sound."""
REPLIES = 3
"""So many of the last replies must have told how long their echo was."""


@dataclass(frozen=True, slots=True)
class Echo:
    """The knowledge of the echo so far."""

    tails_s: tuple[float, ...] = ()
    """When the echo of the last replies ended; 0 where none was heard."""
    sound_s: float | None = None
    """Until when something was heard after the last reply; None when that is settled."""

    @property
    def deaf_s(self) -> float:
        """How long not to take for the maker what is over by then."""
        if len(self.tails_s) < REPLIES:
            return LONGEST_S
        return min(max(max(self.tails_s) + MARGIN_S, GAP_S), LONGEST_S)


def began(echo: Echo) -> Echo:
    """The program has fallen silent."""
    return replace(echo, sound_s=0.0)


def heard(echo: Echo, began_s: float, spoke_s: float) -> Echo:
    """Something was heard, from `began_s` to `spoke_s` as yet.

    What outlasts the longest echo is the maker, and then this reply tells nothing; what is over
    before may be either, and is taken for the echo.
    """
    if echo.sound_s is None or began_s >= LONGEST_S:
        return echo
    if spoke_s > LONGEST_S:
        return replace(echo, sound_s=None)
    return replace(echo, sound_s=max(echo.sound_s, spoke_s))


def settled(echo: Echo, now_s: float) -> Echo:
    """So much time has passed; after the longest echo, and a gap, it is known what it was."""
    if echo.sound_s is None or now_s < LONGEST_S + GAP_S:
        return echo
    return Echo((*echo.tails_s, echo.sound_s)[-REPLIES:])
