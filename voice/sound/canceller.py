"""Takes known sound, such as a film, out of the microphone's sound.

It is linear throughout: the remainder is not gated, since a recogniser suffers more from gating
than from a remainder.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from voice.sound.canceller_settings import CancellerSettings
from voice.sound.jumps import Jumps
from voice.sound.movement import SEGMENT, Look, Movement, Pace
from voice.sound.path_filter import Floats
from voice.sound.paths import Paths
from voice.sound.played_tape import HALF, PlayedTape
from voice.sound.ports import RATE_HZ, Samples
from voice.sound.remainder import Gain, Lately, Remainder


class Canceller:
    """Turns the microphone's sound into its remainder without the known sound, and tells the gain.

    Both sounds begin at the same moment. It finds the paths, a delay up to half a second, and the
    drift of two clocks by itself, and keeps them while nothing plays.
    """

    def __init__(self, channels: int = 1, settings: CancellerSettings | None = None) -> None:
        """Know nothing yet of so many channels."""
        self._settings = settings or CancellerSettings()
        path = self._settings.path
        self._hop, self._history = path.hop, (path.partitions + 1) * path.hop
        self._tape = PlayedTape(channels, self._history + 2 * SEGMENT)
        self._paths = Paths(channels, path, bends=self._settings.bends)
        self._movement, self._pace = Movement(), Pace()
        self._waiting = np.zeros(0, np.int16)
        self._place, self._shifted, self._without, self._lends = 0.0, 0.0, 0, False
        self._seen: float | None = None
        self._jumps = Jumps(self._settings.learnt_db)
        self._gain = Gain()
        self._remainder, self.lately = Remainder(), Lately()
        """The last seconds given out."""
        self.left_db = -math.inf
        """Level in dBFS above which the sound given out last holds more than what is left."""

    @property
    def channels(self) -> int:
        """Number of channels of the known sound."""
        return self._tape.channels

    @property
    def steady_gain_db(self) -> float:
        """Gain that most loud moments of the last seconds have; 0 until there were enough, and
        while the known sound is not there.
        """
        return 0.0 if self._lends else self._remainder.gain_db

    @property
    def gain_db(self) -> float:
        """Attenuation of the last seconds in which something played, 0 or more (ERLE)."""
        return self._gain.db

    @property
    def delay_s(self) -> float:
        """Delay of the known sound at the microphone, as it was seen last; 0 before."""
        return (self._shifted + (self._seen or 0.0)) / RATE_HZ

    @property
    def drift_millionths(self) -> float:
        """Drift of the known sound's clock; positive where it outruns the microphone's."""
        return self._pace.rate * 1e6

    @property
    def lost(self) -> bool:
        """Whether the known sound was late for so long that it must begin anew."""
        return self._without >= self._settings.lost_s * RATE_HZ

    @property
    def waiting(self) -> int:
        """Number of the microphone's samples that are still to be given out."""
        return len(self._waiting)

    def feed(self, microphone: Samples, played: NDArray[np.generic]) -> Samples:
        """Take any number of samples of both; return the remainder, in whole blocks.

        `played` has shape (channels, samples), on the scale of samples.
        """
        self._waiting = np.concatenate([self._waiting, microphone])
        if self._tape.add(played):
            self._paths.played_before(self._before(self._history))
            self._lends = False
        left, levels_db = [], []
        while len(self._waiting) >= self._hop and self._has_come():
            block, self._waiting = self._waiting[: self._hop], self._waiting[self._hop :]
            left.append(self._block(block))
            levels_db.append(self._remainder.level_db)
        self.left_db = max(levels_db, default=self.left_db)
        return np.concatenate(left) if left else np.zeros(0, np.int16)

    def finish(self) -> Samples:
        """End the sound; return the remainder of all that is still waiting."""
        size = len(self._waiting)
        silence = np.zeros((-size) % self._hop, np.int16)
        self._tape.lend(2 * RATE_HZ)
        return self.feed(silence, np.zeros((self._tape.channels, 0)))[:size]

    def break_off(self) -> Samples:
        """Go on with two sounds that begin at another moment, by paths that are known already;
        return the remainder of all that is still waiting.
        """
        rest, channels = self.finish(), self._tape.channels
        self._tape = PlayedTape(channels, self._history + 2 * SEGMENT)
        self._place, self._shifted, self._without, self._lends = 0.0, 0.0, 0, False
        self.left_db, self.lately = -math.inf, Lately()
        self._jumps.broken_off()
        self._begin_to_look()
        self._paths.begin_anew(self._before(self._history))
        return rest

    def _has_come(self) -> bool:
        """Whether the known sound of the next block has come; once it was waited for in vain,
        silence is lent until it comes.
        """
        pace = 1 + self._pace.rate
        lacking = int(self._place + self._hop * pace) + HALF + 1 - self._tape.end
        late = lacking > 0
        self._lends |= len(self._waiting) - self._hop >= self._settings.waits_s * RATE_HZ
        if late and not self._lends:
            return False
        if late:
            self._tape.lend(lacking)
        else:
            self._lends = False
        self._without = self._without + self._hop if late else 0
        return True

    def _block(self, block: Samples) -> Samples:
        pace = 1 + self._pace.rate
        known = self._tape.read(self._place, self._hop, pace)
        self._place += self._hop * pace
        self._tape.drop_before(int(self._place))
        microphone = block.astype(np.float64)
        shared = known.mean(axis=0)
        left = self._paths.block(microphone, known)
        if left is microphone:
            self._remainder.silence()
        else:
            self._remainder.block(microphone, left)
        self.lately.add(left, shared, self._remainder.power)
        if left is microphone and not self._movement.begun:
            return block
        if (look := self._movement.block(microphone, shared, left)) is not None:
            self._see(look)
        return block if left is microphone else self._gain.safe(block, microphone, left)

    def _see(self, look: Look) -> None:
        """Go back to paths that are known, where what was heard fits them at another delay; else
        follow the clocks, and shift the known sound where its delay is out of reach.
        """
        settings = self._settings
        if self._jumps.may_have(look.gain_db, settled=self._pace.settled) and self._goes_back(look):
            return
        if self._pace.follow(look.moved):
            self._paths.doubt()
        before, self._seen = self._seen, look.delay
        if look.gain_db >= settings.learnt_db:
            self._paths.keep()
        elif before is None or look.delay is None or abs(look.delay - before) > settings.alike:
            return
        elif not settings.early <= look.delay <= settings.late:
            self._shift(round(look.delay) - settings.lead)
            self._paths.begin_anew(self._before(self._history))

    def _goes_back(self, look: Look) -> bool:
        """Whether paths that were kept leave less of what was heard, and are taken again."""
        played = self._before(2 * SEGMENT + self._history)
        if (found := self._paths.found_again(look.heard, played, look.left)) is not None:
            self._jumps.found()
            self._shift(found.late)
            self._paths.go_back(found.kept, self._before(self._history))
        return found is not None

    def _shift(self, late: float) -> None:
        """Read the known sound so much later; what is left of it is not known yet."""
        self._place -= late
        self._shifted += late
        self._begin_to_look()

    def _begin_to_look(self) -> None:
        self._movement, self._seen = Movement(), None
        self._pace.begin_again()
        self._gain, self._remainder = Gain(), Remainder()

    def _before(self, size: int) -> Floats:
        """So many samples that were played before the next block."""
        pace = 1 + self._pace.rate
        return self._tape.read(self._place - size * pace, size, pace)
