"""Which attention words stand out: how near talk comes to them, and how often they are found.

The voices are the tuning ones and so is the text: this is a choice, not a result. Words count as
found where the net's letters give them more than they give them anywhere in the talk, so that all
are compared at no false alarm in that talk.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from tests.bench.prose import TUNING_TEXT, segments
from voice.hearing.attention import weakness
from voice.recognisers.net.learning.acoustics import Floats, across, active_level, impulse
from voice.recognisers.net.learning.speakers import TUNING, TUNING_READERS, Voice, available, speak
from voice.recognisers.net.letters import Letters
from voice.recognisers.net.moonshine_net import LETTERS
from voice.sound.ports import RATE_HZ, Samples

CANDIDATES = (
    "hello basket",
    "tell me basket",
    "listen basket",
    "hello crochet",
    "hello rounds",
    "yellow basket",
    "purple basket",
    "copper kettle",
    "hello umbrella",
    "yellow umbrella",
    "cotton basket",
    "pretty teapot",
    "listen teacup",
    "hello stitches",
    "velvet pocket",
    "hey caller",
    "big basket",
)
PLACES = ((None, "quiet"), (10.0, "-10 dB"), (5.0, "-5 dB"))
_PIECE_S = 10


class Spotter:
    """How well words fit anywhere in a sound, by the letters that the net hears; 0 at best."""

    def __init__(self, phrases: Sequence[str]) -> None:
        """Load the net and spell the words."""
        self._letters = Letters()
        self._spelled = {
            p: [LETTERS.index(letter) for letter in p if letter != " "] for p in phrases
        }

    def fits(self, samples: Samples) -> dict[str, float]:
        """For every phrase, the logarithm of its likelihood over that of free letters."""
        heard = self._letters.likelihoods(samples)
        best = np.maximum(heard.units.max(axis=1), heard.blank)
        letters, blank = heard.units - best[:, None], heard.blank - best
        return {phrase: _fit(letters, blank, way) for phrase, way in self._spelled.items()}


def _fit(letters: Floats, blank: Floats, way: Sequence[int]) -> float:
    """The best path through the letters from any frame to any other."""
    inside, after = np.full(len(way), -1e9), np.full(len(way), -1e9)
    columns, found = np.array(way), -1e9
    again = np.append(False, columns[1:] == columns[:-1])
    for frame, silent in zip(letters[:, columns], blank, strict=True):
        ended = np.maximum(inside, after)
        before = np.append(0.0, np.where(again[1:], after[:-1], ended[:-1]))
        inside, after = np.maximum(inside, before) + frame, ended + silent
        found = max(found, float(inside[-1]))
    return found


def compare(voices: int, minutes: float) -> int:
    """Prints a row for each candidate, the best first."""
    spotter = Spotter(CANDIDATES)
    talk = _talk()
    pieces = _pieces(talk[: int(minutes * 60 * RATE_HZ)])
    fits = [spotter.fits(piece) for piece in pieces]
    speakers = [voice for voice in TUNING if available(voice)][:voices]
    print(
        f"talk: {len(pieces) * _PIECE_S / 60:.0f} minutes by tuning voices; found: by "
        f"{', '.join(v.name for v in speakers)}, at no false alarm in that talk"
    )
    heads = "".join(f"{name:>9}" for _, name in PLACES)
    print(f"{'words':18}{'talk at best':>13}{heads}")
    said = {p: list(_said(p, speakers, talk)) for p in CANDIDATES}
    rows = {}
    for phrase in CANDIDATES:
        nearest = max(fit[phrase] for fit in fits)
        rows[phrase] = (
            nearest,
            [
                np.mean([spotter.fits(sound)[phrase] > nearest for sound in sounds])
                for sounds in zip(*said[phrase], strict=True)
            ],
        )
    for phrase in sorted(rows, key=lambda phrase: -sum(rows[phrase][1])):
        nearest, shares = rows[phrase]
        cells = "".join(f"{share:9.0%}" for share in shares)
        print(f"{phrase:18}{nearest:13.1f}{cells}  {weakness(phrase) or ''}")
    return 0


def _talk() -> Floats:
    spoken = [
        sound
        for reader in filter(available, TUNING_READERS)
        for sound in speak(reader, segments(TUNING_TEXT)).values()
    ]
    return across(np.concatenate(spoken).astype(np.float64), impulse(2.5, 0.4, maker=False))


def _pieces(sound: Floats) -> list[Samples]:
    size = _PIECE_S * RATE_HZ
    scaled = (sound / np.abs(sound).max() * 16_000).astype(np.int16)
    return [scaled[at : at + size] for at in range(0, len(scaled) - size, size)]


def _said(phrase: str, voices: Sequence[Voice], talk: Floats) -> Iterator[list[Samples]]:
    """By each voice, at each of the places."""
    for number, voice in enumerate(voices):
        dry = speak(voice, [phrase])[phrase].astype(np.float64)
        heard, mixed = across(dry, impulse(1.0, 0.4)), list[Samples]()
        part = talk[number * 20 * RATE_HZ :][: len(heard)]
        for snr_db, _ in PLACES:
            share = 0.0 if snr_db is None else 10 ** (-snr_db / 20)
            other = part * (share * active_level(heard) / active_level(part))
            sound = heard + other
            mixed.append((sound / max(1.0, np.abs(sound).max() / 16_384)).astype(np.int16))
        yield mixed
