"""An age that is told: "she's nearly three", "he'll be four in March". Common usage, no source."""

from __future__ import annotations

import re

from voice.words.free.amounts import amount_first

_PERSON = r"(?:he|she|who)"
_OTHER = (
    r"(?:they|it|that|the (?:baby|little ones?|child|kid|boy|girl|lad|lass|birthday (?:boy|girl))s?"
    r"|(?:my|our|her|his) (?:\w+ ){0,2}?\w+)"
)
_TURNING = (
    r"turn|turns|turned|turning|nearly|almost|not quite|not yet|going on|rising|approaching|pushing"
    r"|getting on for|coming up(?: to| for| on)?|soon|just"
)
_SO = (
    rf"(?:{_TURNING}|is|was|are|has|will|would|be|only|about|now|already|a big|maybe"
    r"|over|a bit over|a little over|under|aged?)"
)
_TOLD = (
    rf"\b(?P<person>{_PERSON})(?P<so>(?: {_SO})+) (?=\S)",
    rf"\b{_OTHER}(?: {_SO})+ (?=\S)",
    rf"^(?:(?:um|er|oh|well|so|that is|only|is) )*(?:(?:{_TURNING}|aged?) )+(?=\S)",
    r"^(?=\S+ (?:weeks?|months?|years?)\b)",
)
_YEARS = {"month": 1 / 12, "months": 1 / 12, "week": 1 / 52, "weeks": 1 / 52}
"""Years in each unit of a small child's age."""
_OTHER_THING = (
    r"(?:inch|inches|centimet\w+|cm|around|round|across|size|hook|ply|millimet\w+|grams?|stitch"
    r"|stitches|people|heads?|hats?)\b"
)
_OLDEST_CHILD, _OLDEST = 17.0, 110.0
_LEAST_HEAD = 12.0
"""Years up to which a bare number is an age and no head, where no person is named: the smallest
head has more inches. Our choice."""


def age_told(words: str) -> float | None:
    """The age in years that plain words tell of somebody; None where they tell none."""
    for pattern in _TOLD:
        for found in re.finditer(pattern, with_people(words)):
            years = _years(found.string[found.end() :])
            if years is not None and years <= _oldest(found):
                return years
    return None


def with_people(words: str) -> str:
    """Plain words with "he'll" and "she's" written out: without their mark they are others."""
    words = re.sub(r"\b(s?he|they)ll\b", r"\1 will", words)
    return re.sub(r"\b(he|she|who|one)s\b", r"\1 is", words)


def _oldest(found: re.Match[str]) -> float:
    told = found.groupdict()
    if told.get("person") is None:
        return _LEAST_HEAD
    return _OLDEST if re.search(rf"\b(?:{_TURNING}|be)\b", told["so"]) else _OLDEST_CHILD


def _years(words: str) -> float | None:
    read = amount_first(re.sub(r"^an? (?=(?:year|month|week)s?\b)", "one ", words))
    if read is None or read[0].unit is not None or re.match(_OTHER_THING, read[1]):
        return None
    return read[0].value * _YEARS.get(read[1].split(" ")[0], 1.0)
