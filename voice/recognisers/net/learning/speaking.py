"""Speech to learn from, and where it comes from."""

from __future__ import annotations

import pickle
import random
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from voice.recognisers.net.learning import recordings, synthesis, warping
from voice.recognisers.net.learning.said import Said
from voice.recognisers.net.learning.texts import NAME, Texts, read
from voice.sound.ports import RATE_HZ

_SAYING: dict[str, Callable[[Texts, random.Random], Iterator[Said]]] = {
    "espeak": synthesis.espeak,
    "mbrola": synthesis.mbrola,
    "festival": synthesis.festival,
    "flite": synthesis.flite,
    "pico": synthesis.pico,
    "kokoro": synthesis.of_kokoro,
}
"""Functions that say a text, by engine."""
_RECORDED: dict[str, Callable[[random.Random], Iterator[Said]]] = {
    "named": recordings.named,
    "prompts": recordings.prompts,
    "people": recordings.people,
}
_WARPED = (*["kokoro"] * 4, *["named"] * 5, *["pico"] * 2, "prompts", "mbrola", "flite")
"""Parts from which artificial voices are made."""
_MADE = 11_000


def speak_all(folder: Path) -> None:
    """Write all speech into the folder, a file for each source.

    Raises: NoTexts.
    """
    texts = read(folder / NAME)
    for name, says in _SAYING.items():
        _keep(folder, name, says(texts, random.Random(name)))
    for name, source in _RECORDED.items():
        _keep(folder, name, source(random.Random(name)))
    voices = [spoken(folder, (name,))[name] for name in _WARPED]
    _keep(folder, "warped", warping.warped(voices, random.Random("warped"), _MADE))


def _keep(folder: Path, name: str, source: Iterable[Said]) -> None:
    said = list(source)
    minutes = sum(len(one.samples) for one in said) / RATE_HZ / 60
    print(f"{name}: {len(said)} utterances, {minutes:.0f} minutes", flush=True)
    (folder / f"{name}.pickle").write_bytes(pickle.dumps(said))


def spoken(
    folder: Path, names: Iterable[str] = (*_SAYING, *_RECORDED, "warped")
) -> dict[str, list[Said]]:
    """Output of `speak_all`, by source."""
    return {name: pickle.loads((folder / f"{name}.pickle").read_bytes()) for name in names}
