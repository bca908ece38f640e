"""Voices to learn from; they stand in no table of the benches, nor do their speakers.

eSpeak NG with variants that no table has, and with the sounds of eighteen real speakers (mbrola);
festival's ked_diphone, flite's rms, both of pico2wave, some forty speakers of kokoro and mixtures
of them. Voices that nobody has are made from these in `warping`.
"""

from __future__ import annotations

import io
import random
import re
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from voice.recognisers.net.learning import kokoro
from voice.recognisers.net.learning.said import Said, read, said
from voice.recognisers.net.learning.speakers import HELD_OUT, TUNING
from voice.recognisers.net.learning.texts import Texts, numbered

_UNLIKE_PEOPLE = re.compile("robo|whisper|demon|announce|anxious|fast|tweak|uni|serious|klatt[^4]")
"""Of the names of variants."""
_ACCENTS = ("en-us", "en-us", "en-gb", "en-029", "en-gb-x-gbcwmd")
_MBROLA = (
    "us2",
    "us2",
    "us3",
    "us3",
    "de1-en",
    "de2-en",
    "de3-en",
    "de4-en",
    "de5-en",
    "de6-en",
    "fr1-en",
    "fr4-en",
    "nl2-en",
    "gr2-en",
    "hu1-en",
    "pl1-en",
    "ro1-en",
    "sw1-en",
    "sw2-en",
    "af1-en",
)
"""Debian's mbrola-us2 and so on (non-free); most speak English with the sounds of their own
language."""


def _drawn(texts: Texts, rng: random.Random, phrases: int, addressed: int, prose: int) -> list[str]:
    """Half of the phrases are without a number: few, and short, they are the harder ones.

    A third of these are single words, which are taken for one another. Free wordings are as many as
    sentences of other talk.
    """
    bare = [words for words in texts.phrases if not numbered(words)]
    single = [words for words in bare if " " not in words]
    return [
        *rng.choices(single, k=phrases // 6),
        *rng.choices(bare, k=phrases // 3),
        *rng.sample(texts.phrases, phrases - phrases // 6 - phrases // 3),
        *rng.sample(texts.addressed, addressed),
        *rng.sample(texts.prose, prose),
        *rng.sample(texts.wordings, min(prose, len(texts.wordings))),
    ]


def _variants() -> list[str]:
    """Those of eSpeak NG that sound like people and stand in no table."""
    command = ["espeak-ng", "--voices=variant"]
    listed = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    names = sorted(set(re.findall(r"!v/(\w+)", listed)))
    tables = {voice.speaker.partition("+")[2] for voice in (*TUNING, *HELD_OUT)}
    return [n for n in names if n not in tables and not _UNLIKE_PEOPLE.search(n.lower())]


def espeak(texts: Texts, rng: random.Random) -> Iterator[Said]:
    """The variants, each in an accent."""
    for variant in _variants():
        voice = f"{rng.choice(_ACCENTS)}+{variant}"
        for words in _drawn(texts, rng, 200, 30, 80):
            yield from _of_espeak(voice, rng.randint(115, 200), rng.randint(25, 75), words)


def mbrola(texts: Texts, rng: random.Random) -> Iterator[Said]:
    """Real speakers' sounds, put together as eSpeak NG says."""
    for voice in _MBROLA:
        for words in _drawn(texts, rng, 200, 40, 90):
            yield from _of_espeak(f"mb-{voice}", rng.randint(115, 190), rng.randint(30, 70), words)


def _of_espeak(voice: str, rate: int, pitch: int, words: str) -> Iterator[Said]:
    command = ["espeak-ng", "-v", voice, "-s", str(rate), "-p", str(pitch), "--stdout", words]
    sound = subprocess.run(command, check=True, capture_output=True).stdout
    yield from said(*read(io.BytesIO(sound)), words)


def festival(texts: Texts, rng: random.Random) -> Iterator[Said]:
    """The speaker ked."""
    drawn = _drawn(texts, rng, 900, 120, 400)
    with tempfile.TemporaryDirectory() as place:
        files = [Path(place) / f"{number}.wav" for number in range(len(drawn))]
        lines = ["(voice_ked_diphone)"]
        for words, file in zip(drawn, files, strict=True):
            lines += [
                f"(Parameter.set 'Duration_Stretch {rng.uniform(0.8, 1.25):.2f})",
                f"(set! int_lr_params '((target_f0_mean {rng.randint(80, 190)})"
                f" (target_f0_std {rng.randint(10, 25)}) (model_f0_mean 170) (model_f0_std 34)))",
                f'(utt.save.wave (utt.synth (Utterance Text "{words}")) "{file}" \'riff)',
            ]
        script = Path(place) / "all.scm"
        script.write_text("\n".join(lines), encoding="utf-8")
        subprocess.run(["festival", "-b", str(script)], check=True, capture_output=True)
        for words, file in zip(drawn, files, strict=True):
            yield from said(*read(file), words)


def flite(texts: Texts, rng: random.Random) -> Iterator[Said]:
    """The speaker rms."""
    for words in _drawn(texts, rng, 1500, 200, 600):
        ways = (
            f"duration_stretch={rng.uniform(0.8, 1.25):.2f}",
            f"int_f0_target_mean={rng.randint(75, 160)}",
        )
        command = ["flite", "-voice", "rms", "--setf", ways[0], "--setf", ways[1]]
        yield from _written([*command, "-t", words, "-o"], words)


def pico(texts: Texts, rng: random.Random) -> Iterator[Said]:
    """Debian's libttspico-utils (non-free), an American and a British speaker."""
    for language in ("en-US", "en-GB"):
        for words in _drawn(texts, rng, 900, 180, 420):
            text = (
                f'<pitch level="{rng.randint(65, 150)}"><speed level="{rng.randint(75, 125)}">'
                f"{words}</speed></pitch>"
            )
            yield from _written(["pico2wave", "-l", language, "-w"], words, text)


def _written(command: Sequence[str], words: str, *more: str) -> Iterator[Said]:
    """The speech of a program into the file that its command names last, but for `more`."""
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / "said.wav"
        subprocess.run([*command, str(file), *more], check=True, capture_output=True)
        yield from said(*read(file), words)


def of_kokoro(texts: Texts, rng: random.Random) -> Iterator[Said]:
    """Half of it by speakers who are mixed from two."""
    tables = {voice.speaker for voice in (*TUNING, *HELD_OUT)}
    speakers = [name for name in kokoro.speakers() if name not in tables]
    english = [name for name in speakers if name[0] in "ab"] or speakers
    for words in _drawn(texts, rng, 2700, 320, 730):
        first = rng.choice(english if rng.random() < 0.8 else speakers)
        mixture = {first: 1.0}
        if rng.random() < 0.5 and (other := rng.choice(english)) != first:
            share = rng.uniform(0.2, 0.5)
            mixture = {first: 1 - share, other: share}
        sound = kokoro.sound(words, mixture, rng.uniform(0.77, 1.18))
        yield from said(sound, kokoro.RATE_HZ, words)
