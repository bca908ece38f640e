"""Real people to learn from, who speak prompts, numbers, the names of things and the parts of
games (Debian: asterisk-core-sounds-*-g722, saytime, kajongg, tuxpaint-stamps-default,
ktuberling-data, klettres-data, hedgewars-data, fillets-ng-data-{cs,nl}); their words are told by
the names of the files, are those that the published net writes, or are not needed.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

from voice.recognisers.net.learning import net
from voice.recognisers.net.learning.said import Said, read, said
from voice.sound.ports import FULL_SCALE, RATE_HZ
from voice.words.spoken_numbers import say_integer

_SHARE = Path("/usr/share")
_TILES = {"b": "bamboo", "c": "character", "s": "circle"}
_THINGS = "ktuberling/sounds/en/*.ogg"


def _number(name: str) -> str:
    return say_integer(int(name.removesuffix("_en_GB")))


_TOLD: dict[str, tuple[str, Callable[[str], str]]] = {
    "asterisk/sounds/en_US_*/digits/*.g722": (r"[0-9]+", _number),
    "saytime/*.au": (r"[0-9]+", _number),
    "tuxpaint/stamps/symbols/math/*.ogg": (r"[0-9](_en_GB)?", _number),
    "tuxpaint/stamps/**/*_desc.ogg": (r"[a-z]{3,}_desc", lambda name: name[:-5]),
    "kajongg/voices/*male*/*.ogg": (
        r"[bcs][1-9]",
        lambda name: f"{_TILES[name[0]]} {_number(name[1])}",
    ),
}
"""Recordings whose names tell what is said in them: which names, and what."""
_OTHERS = (
    "asterisk/sounds/**/*.g722",
    "klettres/**/*.ogg",
    "tuxpaint/stamps/**/*_desc_*.ogg",
    "tuxpaint/stamps/symbols/math/*_*.ogg",
    "ktuberling/sounds/**/*.ogg",
    "ktuberling/sounds/**/*.wav",
    "games/hedgewars/Data/Sounds/voices/*/*.ogg",
    "games/fillets-ng/sound/*/*/*.ogg",
)
_NOBODY = {"silence", "Music", "Sounds"}


def named(_: random.Random) -> Iterator[Said]:
    """Numbers and names of things in English, a word or two each, told by the names of the files;
    of things with names of several words those that the published net writes as they are named.
    """
    for pattern, (names, words) in _TOLD.items():
        for file, one in _recorded(pattern):
            if re.fullmatch(names, file.stem):
                yield Said(one.samples, words(file.stem))
    write = net.writer()
    for file, one in _recorded(_THINGS):
        words_written = re.sub("[^a-z ]", "", (_written(write, one) or "").lower())
        if words_written.replace(" ", "") == file.stem.split("_")[-1]:
            yield Said(one.samples, words_written)


def prompts(_: random.Random) -> Iterator[Said]:
    """English prompts with the words that the published net writes, where these have no digits."""
    write = net.writer()
    for _file, one in _recorded("asterisk/sounds/en_US_*/**/*.g722"):
        words = _written(write, one)
        if words is not None and words.isascii() and not re.search("[0-9]", words):
            yield Said(one.samples, words)


def people(_: random.Random) -> Iterator[Said]:
    """All who speak, in many languages, without words."""
    for pattern in _OTHERS:
        for _file, one in _recorded(pattern):
            yield one


def _written(write: Callable[[np.ndarray], str | None], one: Said) -> str | None:
    return write(one.samples.astype(np.float32) / np.float32(FULL_SCALE))


def _recorded(pattern: str) -> Iterator[tuple[Path, Said]]:
    """Each file, and what is said in it; in pieces where it is long."""
    for file in sorted(_SHARE.glob(pattern)):
        if file.parent.name not in _NOBODY:
            for one in said(*_sound(file), None):
                yield file, one


def _sound(file: Path) -> tuple[np.ndarray, int]:
    if file.suffix != ".g722":
        sound, rate_hz = read(file)
        return (sound.mean(axis=1) if sound.ndim > 1 else sound), rate_hz
    import av

    with av.open(str(file), format="g722") as holder:
        parts = [frame.to_ndarray().ravel() for frame in holder.decode(audio=0)]
    return np.concatenate([np.zeros(0), *parts]), RATE_HZ
