"""Utterances as they may reach the microphone: in rooms, with talk, music and noises beside them.

All is computed for many at once, on the device of torch.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.fft import next_fast_len  # type: ignore[import-untyped]

from voice.recognisers.net.learning.bank import Bank
from voice.recognisers.net.learning.random_rooms import Room
from voice.sound.ports import RATE_HZ

_DRY, _BARE, _IN_A_ROOM = 0.22, 0.35, 0.75
"""How many are in no room; with nothing beside; and of the others in a room."""
_TALK, _NARROW, _IN_EIGHT_BITS = 0.62, 0.25, 0.4
"""How many of those with something beside have talk there; how many come as from a telephone; and
how many of these in eight bits."""
_CUT, _BEFORE_S, _AFTER_S = 0.4, (-0.04, 0.25), (-0.06, 0.37)
"""How many are cut out, with silence before or after; and where, from the words on."""
_NOISE_DB, _TALK_DB, _HISS_DB = (-2.0, 18.0), (1.0, 15.0), (28.0, 50.0)
"""How far the maker is above what else sounds."""
_COLOURED, _COLOURS, _COLOUR_DB = 0.5, 7, 8.0
"""How many come through a microphone with a colour of its own; points of the spectrum; how much."""
_NARROW_HZ = (4000, 4000, 5500)
_TALKERS = 14
"""Sounds one after another, of those who talk beside."""
Rows = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Drawn:
    """Utterances: their numbers in the bank, how fast they are said, the samples before them."""

    numbers: NDArray[np.int64]
    speeds: Rows
    leads: Rows


class Mixer:
    """Makes pairs of utterances: clean as they were spoken, and as they are heard in a room."""

    def __init__(self, bank: Bank, talkers: int, noises: range, rooms: list[Room]) -> None:
        """Take a bank in which who talks comes first and then the noises, and rooms."""
        import torch

        self._bank, self._talkers, self._noises = bank, talkers, noises
        longest = max(len(side) for room in rooms for side in (room.maker, room.other))
        clicks = np.zeros((1 + len(rooms), 2, longest), np.float32)
        clicks[0, :, 0] = 1
        for row, room in zip(clicks[1:], rooms, strict=True):
            row[0, : len(room.maker)], row[1, : len(room.other)] = room.maker, room.other
        self._clicks = torch.from_numpy(clicks).to(bank.device)

    def pairs(self, drawn: Drawn, size: int, seed: int) -> tuple[Any, Any]:
        """Both of each with so many samples, the words at the same place."""
        import torch

        rng, device = np.random.default_rng(seed), self._bank.device
        generator = torch.Generator(device).manual_seed(seed)
        count, how = len(drawn.numbers), rng.random(len(drawn.numbers))
        alone = (drawn.leads[:, None], drawn.speeds[:, None])
        clean = self._bank.played(drawn.numbers[:, None], *alone, size)
        room = rng.integers(1, len(self._clicks), count)
        mine = np.where((how > _DRY) & (rng.random(count) < _IN_A_ROOM), room, 0)
        heard = self._across(clean, mine, 0, _colours(rng, count))
        beside = self._beside(room, size, rng)
        under_db = np.where(how > _BARE, beside[1], np.inf)
        heard = heard + _under(beside[0], heard, under_db)
        hiss = torch.randn(clean.shape, generator=generator, device=device)
        heard = heard + hiss * (_level(heard) * _gains(-rng.uniform(*_HISS_DB, count), device))
        soft = torch.randn(clean.shape, generator=generator, device=device)
        loudest = heard.abs().amax(1, keepdim=True).clamp(min=1e-9)
        heard = heard / loudest * _column(rng.uniform(0.05, 0.9, count), device)
        heard = _through_telephones(heard, rng)
        return clean + 0.0002 * soft, heard * self._kept(drawn, size, rng)

    def _across(self, sound: Any, rooms: NDArray[np.int64], who: int, colours: Any = None) -> Any:
        """As the sounds come to the microphone: of the maker, 0, or of others, 1."""
        import torch

        clicks = self._clicks[torch.from_numpy(rooms).to(sound.device), who]
        size = sound.shape[1]
        fast = next_fast_len(size + clicks.shape[1], real=True)
        spectrum = torch.fft.rfft(sound, fast) * torch.fft.rfft(clicks, fast)
        if colours is not None:
            points = torch.from_numpy(colours).to(sound.device)[:, None]
            gains = torch.nn.functional.interpolate(points, spectrum.shape[1], mode="linear")[:, 0]
            spectrum = spectrum * 10 ** (gains / 20)
        return torch.fft.irfft(spectrum, fast)[:, :size]

    def _beside(
        self, rooms: NDArray[np.int64], size: int, rng: np.random.Generator
    ) -> tuple[Any, Rows]:
        """Talk or a noise for each, and how far it is under the maker in decibels."""
        count = len(rooms)
        talks = rng.random(count) < _TALK
        which = rng.integers(0, self._talkers, (count, _TALKERS))
        which[~talks, 0] = rng.integers(self._noises.start, self._noises.stop, (~talks).sum())
        speeds = np.where(rng.random(which.shape) < 0.5, rng.uniform(0.85, 1.15, which.shape), 1.0)
        lasts = self._bank.lengths[which] / speeds + rng.uniform(0, RATE_HZ / 2, which.shape)
        begins = np.cumsum(lasts, 1) - lasts - rng.uniform(0, 2 * RATE_HZ, (count, 1))
        other = self._bank.played(which, begins, speeds, size)
        far = np.where(talks & (rng.random(count) < 0.8), rooms, 0)
        under_db = np.where(talks, rng.uniform(*_TALK_DB, count), rng.uniform(*_NOISE_DB, count))
        return self._across(other, far, 1), under_db

    def _kept(self, drawn: Drawn, size: int, rng: np.random.Generator) -> Any:
        """Samples that the end of talk leaves, as it is found: at times a little early."""
        import torch

        count = len(drawn.numbers)
        last = drawn.leads + self._bank.lengths[drawn.numbers] / drawn.speeds
        before = drawn.leads - rng.uniform(*_BEFORE_S, count) * RATE_HZ
        after = last + rng.uniform(*_AFTER_S, count) * RATE_HZ
        before = np.where(rng.random(count) < _CUT, before, -np.inf)
        after = np.where(rng.random(count) < _CUT, after, np.inf)
        clock = torch.arange(size, device=self._bank.device)
        return (clock >= _column(before, clock.device)) & (clock < _column(after, clock.device))


def _colours(rng: np.random.Generator, count: int) -> NDArray[np.float32]:
    """Decibels at points of the spectrum."""
    points = rng.uniform(-_COLOUR_DB, _COLOUR_DB, (count, _COLOURS))
    return (points * (rng.random((count, 1)) < _COLOURED)).astype(np.float32)


def _column(numbers: NDArray[Any], device: Any) -> Any:
    import torch

    return torch.from_numpy(np.asarray(numbers, np.float32)).to(device)[:, None]


def _gains(decibels: Rows, device: Any) -> Any:
    return _column(10 ** (decibels / 20), device)


def _under(other: Any, heard: Any, under_db: Rows) -> Any:
    gain = _level(heard) / _level(other).clamp(min=1e-9) * _gains(-under_db, heard.device)
    return other * gain


def _through_telephones(sound: Any, rng: np.random.Generator) -> Any:
    """Some as a headset or an old recording has them: a narrow band, at times in eight bits."""
    import torch

    count = len(sound)
    narrow = rng.random(count) < _NARROW
    highest = np.where(narrow, rng.choice(_NARROW_HZ, count), RATE_HZ)
    spectrum = torch.fft.rfft(sound)
    steps = torch.linspace(0, RATE_HZ / 2, spectrum.shape[1], device=sound.device)
    found = torch.fft.irfft(spectrum * (steps < _column(highest, sound.device)), sound.shape[1])
    bits = _column(narrow & (rng.random(count) < _IN_EIGHT_BITS), sound.device).bool()
    return torch.where(bits, torch.round(found * 127) / 127, found)


def _level(sound: Any) -> Any:
    """Root mean square of the frames of 20 ms that are not 25 dB below the loudest, (rows, 1)."""
    size = sound.shape[1] // 320 * 320
    power = sound[:, :size].reshape(len(sound), -1, 320).square().mean(2)
    loud = power >= power.amax(1, keepdim=True) * 10**-2.5
    return ((power * loud).sum(1, keepdim=True) / loud.sum(1, keepdim=True) + 1e-12).sqrt()
