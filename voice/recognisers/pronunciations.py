"""How words sound, for the engines that ask: the dictionary's ways, and British ones beside them.

Sounds are in ARPABET as in the CMU Pronouncing Dictionary, without stress. The British ways follow
from the American by rule (Wells, Accents of English, 1982: no r before a consonant or a pause);
what no rule gives, the long a of "half" and the rounded o of "stop", stands in a table.
"""

from __future__ import annotations

from collections.abc import Callable

EXTRA: dict[str, tuple[str, ...]] = {
    "cupping": ("K AH P IH NG",),
    "centimetre": ("S EH N T IH M IY T ER",),
    "centimetres": ("S EH N T IH M IY T ER Z",),
    "centimeter": ("S EH N T IH M IY T ER",),
    "centimeters": ("S EH N T IH M IY T ER Z",),
    "metre": ("M IY T ER",),
    "metres": ("M IY T ER Z",),
    "millimetre": ("M IH L IH M IY T ER",),
    "millimetres": ("M IH L IH M IY T ER Z",),
    "half": ("HH AA F",),
    "pass": ("P AA S",),
    "class": ("K L AA S",),
    "stop": ("S T AO P",),
    "on": ("AO N",),
    "what": ("W AO T",),
    "what's": ("W AO T S",),
    "was": ("W AO Z",),
    "wrong": ("R AO NG",),
    "inches": ("IH N CH EH Z",),
    "stitches": ("S T IH CH EH Z",),
    "undo": ("AO N D UW",),
    "new": ("N Y UW",),
    "hundred": ("HH AH N D R EH D",),
    "eighths": ("EY T S", "EY TH S"),
    "sixteenths": ("S IH K S T IY N S",),
    "ninety": ("N AY N D IY",),
    "eighty": ("EY D IY",),
    "forty": ("F AO R D IY", "F AO D IY"),
    "sixty": ("S IH K S D IY",),
    "fifty": ("F IH F D IY",),
    "zero": ("Z IY R OW", "Z IH R OW", "Z IY AH R OW"),
    "oh": ("OW",),
}
"""Ways beside the dictionary's, and words it lacks; heard from voices, no source."""

_VOWELS = frozenset(
    ["AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"]
)


def ways(word: str, dictionary: Callable[[str], str | None]) -> tuple[str, ...]:
    """Every way a word is said, best known first; empty when nobody knows it.

    The dictionary answers for "word", "word(2)", "word(3)" and so on.
    """
    known: list[str] = []
    while said := dictionary(f"{word}({len(known) + 1})" if known else word):
        known.append(said)
    known += EXTRA.get(word, ())
    return tuple(dict.fromkeys([*known, *map(british, known)]))


def british(said: str) -> str:
    """The same without an r before a consonant or at the end."""
    sounds = said.split()
    kept = [
        "AH" if sound == "ER" else sound
        for sound, following in zip(sounds, [*sounds[1:], ""], strict=True)
        if not (sound == "R" and following not in _VOWELS)
    ]
    return " ".join(kept)
