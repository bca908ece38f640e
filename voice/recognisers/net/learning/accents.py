"""Sounds of English as speakers of other languages say them.

For each of some large first languages, pairs of sounds in the International Phonetic Alphabet: one
of English, and that which is said for it. Common knowledge of language teaching, from memory, no
source; coarse on purpose, since no two speakers have the same accent. Japanese and Hindi are
missing: their accents measure (`voice.recognisers.net.learning.speakers`).
"""

from __future__ import annotations

Sounds = tuple[tuple[str, str], ...]

_HARD_TH: Sounds = (("θ", "t"), ("ð", "d"))
_HISSED_TH: Sounds = (("θ", "s"), ("ð", "z"))
_FEW_VOWELS: Sounds = (("ɪ", "i"), ("ʊ", "u"), ("æ", "a"), ("ʌ", "a"))
ACCENTS: dict[str, Sounds] = {
    "arabic": (("p", "b"), ("v", "f"), ("ɹ", "r"), *_HISSED_TH, ("ɪ", "i")),
    "chinese": (("θ", "s"), ("ð", "d"), ("v", "w"), ("ɪ", "i"), ("æ", "ɛ"), ("z", "s")),
    "french": (*_HISSED_TH, ("h", ""), ("ɪ", "i"), ("ɹ", "ʁ"), ("ʊ", "u")),
    "german": (*_HISSED_TH, ("w", "v"), ("æ", "ɛ"), ("ʌ", "a"), ("ɹ", "ʁ")),
    "italian": (*_HARD_TH, *_FEW_VOWELS, ("h", ""), ("ɹ", "r")),
    "nigerian": (*_HARD_TH, *_FEW_VOWELS, ("ɜ", "ɔ"), ("ə", "a")),
    "polish": (*_HARD_TH, *_FEW_VOWELS, ("w", "v"), ("ɹ", "r"), ("ŋ", "nk")),
    "portuguese": (*_HARD_TH, ("ɪ", "i"), ("æ", "ɛ"), ("ɹ", "h"), ("ʊ", "u")),
    "russian": (*_HISSED_TH, *_FEW_VOWELS, ("w", "v"), ("h", "x"), ("ɹ", "r")),
    "spanish": (*_HARD_TH, *_FEW_VOWELS, ("v", "b"), ("z", "s"), ("ɹ", "r"), ("ʃ", "ʧ")),
    "turkish": (*_HARD_TH, ("w", "v"), ("æ", "ɛ"), ("ə", "e"), ("ɹ", "ɾ")),
}


def accented(sounds: str, accent: Sounds) -> str:
    """Sounds with those of the accent in the place of English ones.

    >>> accented("θɹi", ACCENTS["italian"])
    'tri'
    """
    return sounds.translate({ord(theirs): said for theirs, said in accent})
