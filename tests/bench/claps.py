"""Claps and knocks: how many groups are counted right, and what else is taken for one.

Claps are noise that dies away within some hundredths of a second, knocks a low tone that does, in
rooms that die away as well (Polack's model of late reverberation, from memory); clicks of a hook
are short high tones. All are invented, and the limits of the counter were set while looking at
them and at the tuning voices; the story is read by voices that were not looked at.
"""

from __future__ import annotations

import argparse

import numpy as np
from numpy.typing import NDArray

from tests.bench.prose import STORY, segments
from tests.bench.speakers import READERS, available, speak
from voice.claps import ClapCounter
from voice.ports import RATE_HZ, Samples

_HISS = 10.0


def group(
    claps: int, apart_s: float, rt60_s: float = 0.0, *, knock: bool = False,
    peak: float = 14000.0, seed: int = 1,
) -> Samples:  # fmt: skip
    """A group of claps, a second and a half of a faint hiss before and after it."""
    rng = np.random.default_rng(seed)
    sound = rng.normal(0.0, _HISS, round((3.0 + claps * apart_s) * RATE_HZ))
    for number in range(claps):
        clap, at = _clap(rng, rt60_s, knock), round((1.5 + number * apart_s) * RATE_HZ)
        sound[at : at + len(clap)] += clap * peak
    return np.clip(sound, -32768, 32767).astype(np.int16)


def _clap(rng: np.random.Generator, rt60_s: float, knock: bool) -> NDArray[np.float64]:
    times = np.arange(RATE_HZ // 3) / RATE_HZ
    noise = rng.normal(size=len(times))
    body = np.sin(2 * np.pi * rng.uniform(150, 500) * times) + 0.2 * noise if knock else noise
    direct = body * np.exp(-times / rng.uniform(0.005, 0.02))
    if rt60_s:
        late = rng.normal(size=len(times)) * 10 ** (-3 * times / rt60_s)
        direct += late * np.sqrt(np.sum(direct**2) / np.sum(late**2)) / 2
    return np.asarray(direct / np.abs(direct).max())


def clicks(length_s: float, peak: float, seed: int = 2) -> Samples:
    """Clicks of a hook, three in two seconds, at random times."""
    rng = np.random.default_rng(seed)
    sound, times = rng.normal(0.0, _HISS, round(length_s * RATE_HZ)), np.arange(320) / RATE_HZ
    for at in rng.integers(0, len(sound) - 320, round(1.5 * length_s)):
        tone = np.sin(2 * np.pi * rng.uniform(2500, 6000) * times) * np.exp(-times / 0.002)
        sound[at : at + 320] += tone * peak * rng.uniform(0.3, 1.0)
    return np.clip(sound, -32768, 32767).astype(np.int16)


def counted(sound: Samples) -> list[int]:
    """The groups that are counted in a sound, heard block by block."""
    counter = ClapCounter()
    found = (counter.feed(sound[at : at + 320]) for at in range(0, len(sound), 320))
    return [count for count in found if count]


def run(argv: list[str]) -> int:
    """Print the tables; 0 when done."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench claps", description=__doc__)
    parser.parse_args(argv)
    for knock in (False, True):
        for rt60_s in (0.0, 0.3, 0.6, 0.9):
            right = [counted(group(n, apart_s, rt60_s, knock=knock, seed=seed)) == [n]
                     for n in (2, 3) for apart_s in (0.25, 0.35, 0.5)
                     for seed in range(5)]  # fmt: skip
            print(f"  {'knocks' if knock else 'claps'} in a room of {rt60_s:g} s:"
                  f" {sum(right)} of {len(right)} groups counted right")  # fmt: skip
    for peak in (1000.0, 4000.0, 16000.0):
        found = [count for count in counted(clicks(300.0, peak)) if count in {2, 3}]
        print(f"  clicks of peak {peak:g}, 5 minutes: {len(found)} taken for a code")
    for voice in filter(available, READERS[:3]):
        sounds = speak(voice, segments(STORY))
        sound = np.concatenate([sounds[piece] for piece in segments(STORY)])
        found = [count for count in counted(sound) if count in {2, 3}]
        print(f"  story read by {voice.name}, {len(sound) / RATE_HZ / 60:.1f} minutes:"
              f" {len(found)} taken for a code")  # fmt: skip
    return 0
