"""Tells when the delay of a known sound may have jumped."""

from __future__ import annotations

FALL_DB = 6.0
"""Loss of gain after which it may have jumped; by judgement."""
FORGETS_DB = 1.0
"""Decay of the gain that was reached, from look to look."""
SETTLES = 7
"""Looks from one jump to the next, where the gain was low meanwhile: what seems to jump more often
drifts, and so many looks show that."""


class Jumps:
    """Follows the gain from look to look."""

    def __init__(self, learnt_db: float) -> None:
        """The paths are known where the gain is `learnt_db`."""
        self._learnt_db = self._stays_db = learnt_db
        self._looks = 0
        self._once_more = False

    def may_have(self, gain_db: float, *, settled: bool) -> bool:
        """Take the gain of the next look; return whether the delay may have jumped before it.

        Where the clocks are not `settled`, it may only at the second look in a row: the first one
        after a jump holds what came before, too, and made it seem that they drift.
        """
        stays = gain_db >= self._stays_db
        self._looks = SETTLES if stays else self._looks + 1
        reached_db = max(gain_db - FALL_DB, self._learnt_db)
        self._stays_db = max(reached_db, self._stays_db - FORGETS_DB)
        may = not stays and self._looks >= SETTLES and (settled or self._once_more)
        self._once_more = may and settled
        return may

    def broken_off(self) -> None:
        """Sound was lost, as is known: it has jumped."""
        self._looks = SETTLES

    def found(self) -> None:
        """The jump was found."""
        self._looks = 0
