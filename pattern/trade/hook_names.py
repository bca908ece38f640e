"""Names of hooks: letters and numbers of the US, old numbers of the UK and Canada."""

from __future__ import annotations

import re

_HOOK_LETTERS: dict[str, float] = {
    "b": 2.25,
    "c": 2.75,
    "d": 3.25,
    "e": 3.5,
    "f": 3.75,
    "g": 4.0,
    "h": 5.0,
    "i": 5.5,
    "j": 6.0,
    "k": 6.5,
    "l": 8.0,
    "m": 9.0,
    "n": 10.0,
    "q": 16.0,
}
_HOOK_US: dict[str, float] = {
    "1": 2.25,
    "2": 2.75,
    "3": 3.25,
    "4": 3.5,
    "5": 3.75,
    "6": 4.0,
    "7": 4.5,
    "8": 5.0,
    "9": 5.5,
    "10": 6.0,
    "10 1/2": 6.5,
    "11": 8.0,
    "13": 9.0,
    "15": 10.0,
}
_HOOK_OLD: dict[str, float] = {
    "13": 2.25,
    "12": 2.75,
    "10": 3.25,
    "9": 3.5,
    "8": 4.0,
    "7": 4.5,
    "6": 5.0,
    "5": 5.5,
    "4": 6.0,
    "3": 6.5,
    "0": 8.0,
    "00": 9.0,
    "000": 10.0,
}
"""Hook diameters in mm by US letter, US number and old UK (also Canadian) number. Common practice;
the conversion charts agree. Manufacturers differ on N and P; N is taken as 10 mm."""
HOOK_MARKS: dict[tuple[str, str], float] = {
    (letter, number): mm
    for letter, mm in _HOOK_LETTERS.items()
    for number, same in _HOOK_US.items()
    if same == mm
}
"""Hook diameters in mm by the letter and number that stand together on US hooks."""


def hook_in(words: str) -> float | None:
    """Diameter in mm of the hook named by letter or number in the words; None if there is none.

    A bare number means millimetres, so a number is read here only after "US" or "old UK".
    """
    if old := re.search(r"\b(?:old|uk|imperial|canadian)\b.*?\b(\d+)\b", words):
        return _HOOK_OLD.get(old[1])
    if us := re.search(r"\b(?:us|american)\b\D*?\b(\d+(?: 1/2)?)\b", words):
        return _HOOK_US.get(us[1])
    letters = re.findall(
        r"(?:\b(?:size|letter|an|a|the|is|hook|marked|says|stamped)\s+|^|\bus )([b-hj-nq])\b", words
    )
    letters += re.findall(r"\b([b-nq])\s+(?:hook|size|\d+)\b", words)
    sizes = {_HOOK_LETTERS[letter] for letter in letters}
    return sizes.pop() if len(sizes) == 1 else None


def hook_letter(mm: float) -> str | None:
    """The US letter and number of a hook, such as "H-8"; None where it has neither."""
    names = [
        next((name for name, size in table.items() if size == mm), None)
        for table in (_HOOK_LETTERS, _HOOK_US)
    ]
    return "-".join(name.upper() for name in names if name) or None
