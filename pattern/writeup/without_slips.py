"""The rounds of a piece without the slips that its maker mended."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.shape.rounds import Round, spaced_round
from pattern.writeup.written_rounds import Written


def without_slips(rounds: Sequence[Written]) -> list[Written]:
    """The rounds as they are to be worked, so that each is worked into the one before.

    A slip was mended where the next round is shaped: that round is written from the count that was
    called. A slip that nothing followed up is part of the piece, and the round that has it is
    written with its stitches. Rounds stay as worked, with the counts, where neither can be.
    """
    found: list[Written] = []
    for at, line in enumerate(rounds):
        after = line.found
        before = found[-1].round.after if found else 0
        later = rounds[at + 1].round if at + 1 < len(rounds) else None
        if after != line.round.after and later is not None and later.places:
            after = line.round.after
        try:
            found.append(Written(_rewritten(line.round, before, after)))
        except ValueError:
            return list(rounds)
    return found


def _rewritten(round_: Round, before: int, after: int) -> Round:
    """The round from and to other counts; one with those counts stays as it is.

    Raises: ValueError for a change that one round cannot make.
    """
    if (before, after) == (round_.before, round_.after):
        return round_
    if round_.ring:
        return Round(round_.number, round_.stage, 0, after, part=round_.part)
    return spaced_round(round_.number, round_.stage, before, after - before, part=round_.part)
