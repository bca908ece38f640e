"""Takes known sound, such as a film, out of the microphone's sound.

It is linear throughout: the remainder is not gated, since a recogniser suffers more from gating
than from a remainder.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from voice.sound.canceller_settings import CancellerSettings
from voice.sound.movement import SEGMENT, Look, Movement, Pace
from voice.sound.path_filter import Floats
from voice.sound.paths import Paths
from voice.sound.played_tape import HALF, PlayedTape
from voice.sound.ports import RATE_HZ, Samples
from voice.sound.remainder import Lately, Remainder


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
        self._paths = Paths(channels + self._settings.bends, path)
        self._movement = Movement()
        self._waiting = np.zeros(0, np.int16)
        self._place, self._shifted = 0.0, 0
        self._without, self._lends = 0, False
        self._pace = Pace()
        self._seen: float | None = None
        self._learnt_at: float | None = None
        self._louder = False
        self._in, self._left = 0.0, 0.0
        self._remainder, self._lately = Remainder(), Lately()
        self.left_db = -math.inf
        """Level in dBFS above which the sound given out last holds more than what is left."""

    @property
    def steady_gain_db(self) -> float:
        """Gain that most loud moments of the last seconds have; 0 until there were enough, and
        while the known sound is not there.
        """
        return 0.0 if self._lends else self._remainder.gain_db

    @property
    def lately(self) -> Lately:
        """The last seconds given out."""
        return self._lately

    @property
    def gain_db(self) -> float:
        """Attenuation of the last seconds in which something played, 0 or more (ERLE)."""
        return max(10 * float(np.log10((self._in + 1) / (self._left + 1))), 0.0)

    @property
    def delay_s(self) -> float:
        """Delay of the known sound at the microphone, as it was seen last; 0 before."""
        return (self._shifted + (self._seen or self._learnt_at or 0.0)) / RATE_HZ

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
            self._paths.played_before(self._with_bend(self._before()))
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
        left = self._paths.block(microphone, self._with_bend(known))
        if left is microphone:
            self._remainder.silence()
        else:
            self._remainder.block(microphone, left)
        self._lately.add(left, shared, self._remainder.power)
        if left is microphone:
            return block
        if (look := self._movement.block(microphone, shared)) is not None:
            self._see(look)
        return self._safe(block, microphone, left)

    def _safe(self, block: Samples, microphone: Floats, left: Floats) -> Samples:
        """The remainder; the block itself where the remainder is louder twice in a row."""
        power, left_power = float(np.mean(microphone**2)), float(np.mean(left**2))
        self._in, self._left = (
            0.98 * before + 0.02 * now
            for before, now in ((self._in, power), (self._left, left_power))
        )
        before, self._louder = self._louder, left_power > power
        if before and self._louder:
            return block
        return np.clip(np.rint(left), -32_768, 32_767).astype(np.int16)

    def _with_bend(self, known: Floats) -> Floats:
        if not self._settings.bends:
            return known
        shared = known.mean(axis=0, keepdims=True)
        return np.concatenate([known, (shared / 8192) ** 3 * 8192])

    def _see(self, look: Look) -> None:
        """Follow the clocks, and shift the known sound where its delay is out of reach, or another
        than that at which the paths were learnt. Where the sound comes by several ways, now one and
        now another is seen; then nothing has moved, and it is a voice that makes the gain small.
        """
        if self._pace.follow(look.moved):
            self._paths.doubt()
        before, self._seen = self._seen, look.delay
        settings, home = self._settings, self._learnt_at
        stays = look.moved is not None and abs(look.moved) <= settings.alike
        if before is None or look.delay is None or abs(look.delay - before) > settings.alike:
            return
        if self.gain_db >= settings.learnt_db:
            self._learnt_at = look.delay
            self._paths.keep()
        elif home is not None and abs(look.delay - home) > settings.alike and not stays:
            self._shift(round(look.delay - home), known=True)
        elif not settings.early <= look.delay <= settings.late:
            self._shift(round(look.delay) - settings.lead, known=False)

    def _shift(self, late: int, *, known: bool) -> None:
        """Read the known sound so much later; the paths kept last may be `known` from then on."""
        self._place -= late
        self._shifted += late
        self._movement, self._seen, self._learnt_at = Movement(), None, None
        self._pace.begin_again()
        self._paths.replaced(self._with_bend(self._before()), known=known)
        self._remainder, self._lately = Remainder(), Lately()

    def _before(self) -> Floats:
        """Sound that was played before the next block, as far back as the paths reach."""
        pace = 1 + self._pace.rate
        return self._tape.read(self._place - self._history * pace, self._history, pace)
