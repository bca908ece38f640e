"""Speech to learn from: voices that stand in no table of the benches, and recorded prompts.

eSpeak NG with variants that no table has, festival's ked_diphone, flite's rms, some forty speakers
of kokoro and mixtures of them; and real people who read telephone prompts in five languages, and
letters and syllables in many (Debian: asterisk-core-sounds-*-g722, klettres-data), whose words are
not needed, or are those that the net writes.
"""

from __future__ import annotations

import io
import pickle
import random
import re
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]
from numpy.typing import NDArray

from tests.adapting import net, texts
from tests.bench import kokoro
from tests.bench.speakers import HELD_OUT, TUNING
from voice.ports import FULL_SCALE, RATE_HZ, Samples

_UNLIKE_PEOPLE = re.compile("robo|whisper|demon|announce|anxious|fast|tweak|uni|serious|klatt[^4]")
"""Of the names of variants."""
_ACCENTS = ("en-us", "en-us", "en-gb", "en-029", "en-gb-x-gbcwmd")
_PROMPTS, _SOUNDS = Path("/usr/share/asterisk/sounds"), Path("/usr/share/klettres")
_PIECE_S = 5.0


@dataclass(frozen=True, slots=True)
class Said:
    """An utterance at 16 kHz, half of full scale at its loudest; its words where they are known."""

    samples: Samples
    words: str | None


def speak_all(folder: Path) -> None:
    """Write all speech into the folder, a file for each source."""
    for name, source in _SOURCES.items():
        said = list(source(random.Random(name)))
        minutes = sum(len(one.samples) for one in said) / RATE_HZ / 60
        print(f"{name}: {len(said)} utterances, {minutes:.0f} minutes", flush=True)
        (folder / f"{name}.pickle").write_bytes(pickle.dumps(said))


def spoken(folder: Path) -> dict[str, list[Said]]:
    """What `speak_all` has written, by source."""
    return {name: pickle.loads((folder / f"{name}.pickle").read_bytes()) for name in _SOURCES}


def _drawn(rng: random.Random, phrases: int, addressed: int, prose: int) -> list[str]:
    """Half of the phrases are without a number: few, and short, they are the harder ones.

    A third of these are single words, which are taken for one another.
    """
    bare = [words for words in texts.phrases() if not texts.numbered(words)]
    single = [words for words in bare if " " not in words]
    return [
        *rng.choices(single, k=phrases // 6),
        *rng.choices(bare, k=phrases // 3),
        *rng.sample(texts.phrases(), phrases - phrases // 6 - phrases // 3),
        *rng.sample(texts.addressed(), addressed),
        *rng.sample(texts.prose(), prose),
    ]


def _variants() -> list[str]:
    """Those of eSpeak NG that sound like people and stand in no table."""
    command = ["espeak-ng", "--voices=variant"]
    listed = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    names = sorted(set(re.findall(r"!v/(\w+)", listed)))
    tables = {voice.speaker.partition("+")[2] for voice in (*TUNING, *HELD_OUT)}
    return [n for n in names if n not in tables and not _UNLIKE_PEOPLE.search(n.lower())]


def _espeak(rng: random.Random) -> Iterator[Said]:
    for variant in _variants():
        accent = rng.choice(_ACCENTS)
        for words in _drawn(rng, 200, 30, 80):
            rate, pitch = str(rng.randint(115, 200)), str(rng.randint(25, 75))
            command = ["espeak-ng", "-v", f"{accent}+{variant}", "-s", rate, "-p", pitch,
                       "--stdout", words]  # fmt: skip
            sound = subprocess.run(command, check=True, capture_output=True).stdout
            yield from _said(*_read(io.BytesIO(sound)), words)


def _festival(rng: random.Random) -> Iterator[Said]:
    drawn = _drawn(rng, 900, 120, 400)
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
            yield from _said(*_read(file), words)


def _flite(rng: random.Random) -> Iterator[Said]:
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / "said.wav"
        for words in _drawn(rng, 1500, 200, 600):
            ways = (f"duration_stretch={rng.uniform(0.8, 1.25):.2f}",
                    f"int_f0_target_mean={rng.randint(75, 160)}")  # fmt: skip
            command = ["flite", "-voice", "rms", "--setf", ways[0], "--setf", ways[1],
                       "-t", words, "-o", str(file)]  # fmt: skip
            subprocess.run(command, check=True, capture_output=True)
            yield from _said(*_read(file), words)


def _kokoro(rng: random.Random) -> Iterator[Said]:
    """Half of it by speakers who are mixed from two."""
    tables = {voice.speaker for voice in (*TUNING, *HELD_OUT)}
    speakers = [name for name in kokoro.speakers() if name not in tables]
    english = [name for name in speakers if name[0] in "ab"] or speakers
    for words in (*_drawn(rng, 2100, 250, 570), *texts.fragments(rng, 180)):
        first = rng.choice(english if rng.random() < 0.8 else speakers)
        mixture = {first: 1.0}
        if rng.random() < 0.5 and (other := rng.choice(english)) != first:
            share = rng.uniform(0.2, 0.5)
            mixture = {first: 1 - share, other: share}
        sound = kokoro.sound(words, mixture, rng.uniform(0.77, 1.18))
        yield from _said(sound, kokoro.RATE_HZ, words)


def _prompts(_: random.Random) -> Iterator[Said]:
    """English prompts with the words that the published net writes, where these have no digits."""
    write = net.writer()
    for said in _recorded("en_US_*/**/*.g722"):
        words = write(said.samples.astype(np.float32) / np.float32(FULL_SCALE))
        if words is not None and words.isascii() and not re.search("[0-9]", words):
            yield Said(said.samples, words)


def _recorded(pattern: str) -> Iterator[Said]:
    import av

    for file in sorted(_PROMPTS.glob(pattern)):
        if "silence" in file.parts:
            continue
        with av.open(str(file), format="g722") as holder:
            parts = [frame.to_ndarray().ravel() for frame in holder.decode(audio=0)]
        if parts:
            yield from _said(np.concatenate(parts), RATE_HZ, None)


def _people(_: random.Random) -> Iterator[Said]:
    yield from _recorded("**/*.g722")
    for file in sorted(_SOUNDS.rglob("*.ogg")):
        yield from _said(*_read(file), None)


def _read(file: Path | io.BytesIO) -> tuple[NDArray[Any], int]:
    sound, rate_hz = soundfile.read(file)
    return sound, rate_hz


def _said(sound: NDArray[Any], rate_hz: int, words: str | None) -> Iterator[Said]:
    samples = soxr.resample(np.asarray(sound, np.float64), rate_hz, RATE_HZ)
    if not (loudest := np.abs(samples).max(initial=0.0)):
        return
    loud = np.flatnonzero(np.abs(samples) > 0.03 * loudest)
    samples = samples[max(0, loud[0] - 800) : loud[-1] + 800] * (16_000 / loudest)
    piece = int(_PIECE_S * RATE_HZ) if words is None else len(samples)
    for start in range(0, len(samples), piece):
        if len(part := samples[start : start + piece]) > 0.25 * RATE_HZ:
            yield Said(part.round().astype(np.int16), words)


_SOURCES = {
    "espeak": _espeak, "festival": _festival, "flite": _flite, "kokoro": _kokoro,
    "prompts": _prompts, "people": _people,
}  # fmt: skip
