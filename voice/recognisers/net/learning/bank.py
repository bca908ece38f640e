"""All sounds that are learnt from, end to end on the device of torch, and how they are played."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.sound.ports import FULL_SCALE, Samples

_TAPS = 6
"""So many samples on each side make one between them."""


class Bank:
    """Sounds by their number, at 16 kHz."""

    def __init__(self, sounds: Sequence[Samples], device: str) -> None:
        """Lay them end to end."""
        import torch

        self.lengths = np.array([*map(len, sounds)])
        ends = np.cumsum(self.lengths)
        self._samples = torch.from_numpy(np.concatenate([*sounds])).to(device)
        self._starts = torch.from_numpy(ends - self.lengths).to(device)
        self._lengths = torch.from_numpy(self.lengths).to(device)
        self.device = device

    def played(
        self,
        which: NDArray[np.int64],
        begins: NDArray[np.float64],
        speeds: NDArray[np.float64],
        size: int,
    ) -> Any:
        """Rows of so many samples, 1 at full scale.

        Each row has sounds one after another, (rows, sounds): their numbers, the samples at which
        they begin in rising order, and how fast they are played. What goes on while the next one
        begins is broken off there.
        """
        import torch

        number, begin, speed = (
            torch.from_numpy(one).to(self.device) for one in (which, begins, speeds)
        )
        clock = torch.arange(size, device=self.device, dtype=torch.float64).expand(len(which), -1)
        place = torch.searchsorted(begin, clock.contiguous(), right=True) - 1
        place = place.clamp(min=0)
        number, begin, speed = (one.gather(1, place) for one in (number, begin, speed))
        at = (clock - begin) * speed
        start, length = self._starts[number], self._lengths[number]
        sounds = (at >= 0) & (at < length - 1)
        whole = at.floor()
        between = (at - whole).float()
        narrow = (1 / speed).clamp(max=1).float()
        made = torch.zeros(len(which), size, device=self.device)
        for tap in range(1 - _TAPS, _TAPS + 1):
            there = (whole.long() + tap).clamp(min=0)
            there = torch.minimum(there, length - 1) + start
            away = tap - between
            weight = (
                torch.sinc(away * narrow) * narrow * torch.cos(away * (np.pi / 2 / (_TAPS + 1)))
            )
            made += weight * self._samples[there]
        return made * sounds / FULL_SCALE
