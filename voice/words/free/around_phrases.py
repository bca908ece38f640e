"""Phrases in company: politeness, endearments and fillers around them. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from voice.words import phrases
from voice.words.free.amounts import amounts
from voice.words.free.spellings import said_plainly

_YES = r"yes|yep|yup|yeah|yea|ya|sure|of course|okay"
_BEFORE = (
    rf"{_YES}|um|uh|er|erm|hm|hmm|well|right|righto|so|and|oh|ah|now|then|hey|hi|hiya|hello|please"
    r"|good|great|lovely|perfect|brilliant|super|wonderful|fantastic|nice|cool|grand|fine|all right"
    r"|alright|thanks|thank you|thanks very much|thank you very much|cheers|ta|sorry|excuse me"
    r"|dear|love|darling|sweetheart|phew|finally|there we go|here we go|there you go|you know"
    r"|i think|can you|could you|would you|will you|let us"
)
_AFTER = (
    r"please|thanks|thank you|thanks very much|thank you very much|cheers|ta|love|dear|darling"
    r"|sweetheart|pet|mate|then|now|for me|will you|would you|could you|if you would|if you like"
    r"|i think|i guess|i suppose|you know|okay|right|sorry"
)
_GREETING = r"(?:hello|hi|hiya|hey|good (?:morning|afternoon|evening))(?: there| again| dear)*"
_NICE_AND = r"\b(?:nice|lovely|good) and \w+"
"""It praises what follows, as in "nice and snug", and is no politeness."""
_LED = re.compile(rf"(?:(?:{_BEFORE}) )+(?=.)")
_YES_LED = re.compile(rf"(?:(?:{_YES}) )+(?=.)")
_FOLLOWED = re.compile(rf"(?: (?:{_AFTER}))+$")


def phrase_in(text: str) -> c.Command | None:
    """The phrase that is left without politeness around it; None where none is left."""
    words = said_plainly(text)
    if re.search(_NICE_AND, words):
        return None
    for led in (words, _LED.sub("", words, count=1) if _LED.match(words) else words):
        for whole in (led, _FOLLOWED.sub("", led)):
            if whole != words and (command := phrases.read(whole)) is not None:
                return command
    return None


def after_yes(text: str) -> c.Command | None:
    """The phrase that follows a yes, such as "yes, next"; None where there is none."""
    words = said_plainly(text)
    found = _YES_LED.match(words)
    if found is None:
        return None
    rest = words[found.end() :]
    return phrases.read(rest) or phrase_in(rest)


def last_clause(text: str) -> c.Command | None:
    """The phrase after the last mark of punctuation in a longer text; None where there is none.

    A yes or no at the end depends on what comes before it.
    """
    *before, last = re.split(r"[,.;:!?]+\s+", text.rstrip("?!. "))
    command = (phrases.read(last) or phrase_in(last)) if before else None
    return None if isinstance(command, c.Yes | c.No) else command


def first_clause(text: str) -> c.Command | None:
    """The phrase before the first mark of punctuation, where no number follows it; else None."""
    first, *after = re.split(r"[,;:]\s+|[.!]\s+", text.rstrip("?!. "), maxsplit=1)
    if not after or amounts(said_plainly(after[0])):
        return None
    return phrases.read(first) or phrase_in(first)


def greets(text: str) -> bool:
    """Whether it is a greeting alone."""
    return re.fullmatch(_GREETING, said_plainly(text)) is not None
