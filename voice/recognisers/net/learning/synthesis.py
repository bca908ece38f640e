"""Voices to learn from; they stand in no table of the benches, nor do their speakers.

eSpeak NG with variants that no table has; flite's rms and kal16; some
forty speakers of kokoro and mixtures of them, some with the sounds of a foreign accent. The
licences of all let their speech be passed on in any form: see `voice/licences/net.md`.
"""

from __future__ import annotations

import io
import random
import re
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from voice.recognisers.net.learning import kokoro
from voice.recognisers.net.learning.accents import ACCENTS
from voice.recognisers.net.learning.said import Said, read, said
from voice.recognisers.net.learning.speakers import HELD_OUT, TUNING
from voice.recognisers.net.learning.texts import Texts, numbered

_UNLIKE_PEOPLE = re.compile("robo|whisper|demon|announce|anxious|fast|tweak|uni|serious|klatt[^4]")
"""Of the names of variants."""
_ESPEAK_ACCENTS = ("en-us", "en-us", "en-gb", "en-029", "en-gb-x-gbcwmd")
_NOT_LEARNT = frozenset("jh")
"""First letters of kokoro's speakers of Japanese and Hindi: their accents are for measuring."""
_ACCENTED = 0.45
"""How many of kokoro's lines have the sounds of a foreign accent."""


@dataclass(frozen=True, slots=True)
class Line:
    """A text, and how an engine says it."""

    engine: str
    words: str
    voice: str
    pace: float
    """Duration against the speaker's own; below 1 is faster."""
    pitch: int = 0
    mixed: tuple[str, float] | None = None
    """Another speaker and the share of this one in the mixture."""
    accent: str | None = None


def _drawn(texts: Texts, rng: random.Random, of: tuple[int, int, int, int]) -> list[str]:
    """So many phrases, addressed ones, free wordings and sentences of other talk.

    Half of the phrases are without a number: few, and short, they are the harder ones. A third of
    these are single words, which are taken for one another.
    """
    phrases, addressed, free, prose = of
    bare = [words for words in texts.phrases if not numbered(words)]
    single = [words for words in bare if " " not in words]
    drawn = [
        *rng.choices(single, k=phrases // 6),
        *rng.choices(bare, k=phrases // 3),
        *rng.choices(texts.phrases, k=phrases // 2),
        *rng.choices(texts.addressed, k=addressed),
        *rng.choices(texts.free, k=free),
        *rng.choices(texts.prose or texts.free, k=prose),
    ]
    rng.shuffle(drawn)
    return drawn


def _variants() -> list[str]:
    """Those of eSpeak NG that sound like people and stand in no table."""
    command = ["espeak-ng", "--voices=variant"]
    listed = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    names = sorted(set(re.findall(r"!v/(\w+)", listed)))
    tables = {voice.speaker.partition("+")[2] for voice in (*TUNING, *HELD_OUT)}
    return [n for n in names if n not in tables and not _UNLIKE_PEOPLE.search(n.lower())]


def espeak_lines(texts: Texts, rng: random.Random) -> Iterator[Line]:
    """The variants, each in an accent."""
    variants = _variants()
    for words in _drawn(texts, rng, (6000, 900, 3600, 1500)):
        voice = f"{rng.choice(_ESPEAK_ACCENTS)}+{rng.choice(variants)}"
        yield Line("espeak", words, voice, 160 / rng.randint(115, 200), rng.randint(25, 75))


def flite_lines(texts: Texts, rng: random.Random) -> Iterator[Line]:
    """The speakers rms and kal16."""
    for words in _drawn(texts, rng, (3000, 400, 1800, 800)):
        voice = rng.choice(("rms", "rms", "kal16"))
        yield Line("flite", words, voice, rng.uniform(0.8, 1.25), rng.randint(75, 160))


def kokoro_lines(texts: Texts, rng: random.Random) -> Iterator[Line]:
    """Half of it by speakers who are mixed from two, half of it in a foreign accent."""
    speakers = learnt_speakers()
    english = [name for name in speakers if name[0] in "ab"] or speakers
    for words in _drawn(texts, rng, (6400, 700, 5200, 1700)):
        first = rng.choice(english if rng.random() < 0.7 else speakers)
        other = rng.choice(english)
        mixed = (other, rng.uniform(0.2, 0.5)) if rng.random() < 0.5 and other != first else None
        accent = rng.choice(sorted(ACCENTS)) if rng.random() < _ACCENTED else None
        yield Line("kokoro", words, first, rng.uniform(0.77, 1.18), 0, mixed, accent)


def learnt_speakers() -> list[str]:
    """The speakers of kokoro that are learnt from."""
    tables = {voice.speaker for voice in (*TUNING, *HELD_OUT)}
    return [name for name in kokoro.speakers() if name not in tables and name[0] not in _NOT_LEARNT]


def spoken(lines: Sequence[Line]) -> list[Said]:
    """The lines as they sound, all of one engine."""
    return [one for line in lines for one in _SAYS[line.engine](line)]


def _espeak(line: Line) -> Iterator[Said]:
    rate = str(round(160 / line.pace))
    how = ["espeak-ng", "-v", line.voice, "-s", rate, "-p", str(line.pitch), "--stdout"]
    sound = subprocess.run([*how, line.words], check=True, capture_output=True).stdout
    yield from said(*read(io.BytesIO(sound)), line.words)


def _flite(line: Line) -> Iterator[Said]:
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / "said.wav"
        ways = (f"duration_stretch={line.pace:.2f}", f"int_f0_target_mean={line.pitch}")
        command = ["flite", "-voice", line.voice, "--setf", ways[0], "--setf", ways[1]]
        subprocess.run([*command, "-t", line.words, "-o", str(file)], check=True)
        yield from said(*read(file), line.words)


def _kokoro(line: Line) -> Iterator[Said]:
    mixture = {line.voice: 1.0}
    if line.mixed is not None:
        other, share = line.mixed
        mixture = {line.voice: 1 - share, other: share}
    accent = ACCENTS[line.accent] if line.accent else ()
    sound = kokoro.sound(line.words, mixture, line.pace, accent, _device())
    yield from said(sound, kokoro.RATE_HZ, line.words)


@cache
def _device() -> str:
    import torch

    return "cuda" if torch.cuda.is_available() else kokoro.PROCESSOR


_SAYS = {"espeak": _espeak, "flite": _flite, "kokoro": _kokoro}
