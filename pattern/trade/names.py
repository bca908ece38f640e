"""Names that makers use for yarns, stitches and heads, from labels and ball bands."""

from __future__ import annotations

import re

from pattern.trade.stitches import STITCHES, Stitch, Terms

YARN_NAMES: dict[int, tuple[str, ...]] = {
    0: ("lace", "laceweight", "cobweb", "crochet thread", "two ply", "2 ply"),
    1: ("super fine", "superfine", "sock", "fingering", "three ply", "3 ply", "four ply", "4 ply"),
    2: ("fine", "sport", "sportweight", "five ply", "5 ply"),
    3: (
        *("light", "dk", "d k", "double knitting", "double knit", "light worsted"),
        *("eight ply", "8 ply"),
    ),
    4: ("medium", "worsted", "aran", "afghan", "ten ply", "10 ply"),
    5: ("bulky", "chunky", "craft", "rug", "twelve ply", "12 ply"),
    6: ("super bulky", "super chunky", "superbulky", "superchunky", "fourteen ply", "14 ply"),
    7: ("jumbo", "roving"),
}
"""Names by yarn class. Words: Craft Yarn Council, Standard Yarn Weight System, read as a copy. Ply
numbers as sold in Britain, Australia and New Zealand, and "chunky": common practice, no source."""
_YARNS = {name: number for number, names in YARN_NAMES.items() for name in names}

_ADJECTIVES = frozenset({"fine", "light", "medium", "bulky", "lace", "rug"})
"""Names that are said of any yarn, too: another name beside them counts."""

_STITCH_SHORT = {
    Terms.US: {facts.us_short: stitch for stitch, facts in STITCHES.items()},
    Terms.UK: {facts.uk_short: stitch for stitch, facts in STITCHES.items()},
}


def _named(names: dict[str, int], words: str) -> int | None:
    """Number of the longest name in the words; None if there is none, or if two differ."""
    left, found = words, set()
    for name in sorted(names, key=len, reverse=True):
        if re.search(rf"\b{name}s?\b", left):
            found.add(names[name])
            left = re.sub(rf"\b{name}s?\b", " ", left)
    return found.pop() if len(found) == 1 else None


_HELD_DOUBLE = {0: 2, 1: 3, 2: 4, 3: 4, 4: 5, 5: 6, 6: 7, 7: 7}
"""Class that two strands of a class make, held together. Common practice, no source."""
_DOUBLE = re.compile(
    r"\b(?:two|2|both) (?:strands?|threads?|ends|yarns|of them)\b|\bheld (?:double|together)\b"
    r"|\b(?:hold|holding|work|working|use|using|take|taking) (?:it|them|the yarn|two) "
    r"(?:double|together)\b|\bdoubled(?: up)?\b|\bdouble ?stranded\b"
)


def yarn_in(words: str) -> int | None:
    """The yarn class named in the words; None if they name none, or several, or deny it."""
    if re.search(rf"\bnot (?:(?:a|an|the|very|that|so|really) )*(?:{'|'.join(_YARNS)})\b", words):
        return None
    one = _named(_YARNS, words)
    if one is None:
        one = _named({name: of for name, of in _YARNS.items() if name not in _ADJECTIVES}, words)
    return one if one is None or not _DOUBLE.search(words) else _HELD_DOUBLE[one]


_DENIED = (
    r"\bnot (?:(?:the|a|an|full|whole|plain|usual) )*(?:half )?(?:single|double|treble|triple)s?"
    r"(?: crochet| one)?\b"
)


def not_denied(words: str) -> str:
    """The words without the stitches that they deny: "not treble"."""
    return re.sub(_DENIED, " ", words)


def stitch_in(words: str, terms: Terms) -> Stitch | None:
    """The stitch named in the words, in full or abbreviated, in the maker's terms; None if none, or
    if it is denied.
    """
    words = not_denied(words)
    for short, stitch in _STITCH_SHORT[terms].items():
        if re.search(rf"\b{short}\b", words):
            return stitch
    names = {
        (stitch.value if terms is Terms.US else facts.uk_name): stitch
        for stitch, facts in STITCHES.items()
    }
    for name in sorted(names, key=len, reverse=True):
        if re.search(rf"\b{name}s?\b", words):
            return names[name]
    return None


STITCH_LETTERS: dict[str, str] = {
    "sc": "single",
    "hdc": "half double",
    "dc": "double",
    "tr": "treble",
    "htr": "half treble",
    "dtr": "double treble",
}
"""Stitches by their letters in patterns, as they are called in full in the same terms."""
_STITCH_WORDS: dict[str, str] = STITCH_LETTERS | {
    name: name for stitch, facts in STITCHES.items() for name in (stitch.value, facts.uk_name)
}
_WORN_MM: dict[str, float] = {
    "extra large": 610.0,
    "xl": 610.0,
    "large": 590.0,
    "l": 590.0,
    "medium": 570.0,
    "m": 570.0,
    "small": 550.0,
    "s": 550.0,
}
"""Heads of grown people by the letter in a hat. Common practice, no source; makers differ by a
centimetre."""


def stitch_word_in(words: str) -> str | None:
    """The stitch that plain words name, as it is called in whichever terms; None for none."""
    for name in sorted(_STITCH_WORDS, key=len, reverse=True):
        if re.search(rf"\b{name}s?\b", words):
            return _STITCH_WORDS[name]
    return None


def terms_of(stitch_word: str) -> frozenset[Terms]:
    """The terms in which a stitch is called so: "double" is one stitch in US, another in UK."""
    known = {
        Terms.US: {stitch.value for stitch in STITCHES},
        Terms.UK: {facts.uk_name for facts in STITCHES.values()},
    }
    return frozenset(terms for terms, found in known.items() if stitch_word in found)


def head_size_in(words: str) -> float | None:
    """The head in mm by the size that plain words name, such as "a medium"; None for none."""
    plain = re.fullmatch(
        r"(?:(?:it is|he is|she is|i am|a|an|size|is) )*(.+?)(?: (?:size|one))?", words
    )
    return _WORN_MM.get(plain[1]) if plain else None
