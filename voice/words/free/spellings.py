"""Words as accents spell them, and as they stand in the wordings learnt from."""

from __future__ import annotations

from voice.words import typed_text

_PLAIN: dict[str, str] = {
    "tae": "to",
    "ma": "my",
    "ower": "over",
    "wan": "one",
    "doon": "down",
    "heid": "head",
    "hauf": "half",
    "efter": "after",
    "afore": "before",
    "roond": "round",
    "oot": "out",
    "whit": "what",
    "gie": "give",
    "nae": "no",
    "naw": "no",
    "nah": "no",
    "aff": "off",
    "hale": "whole",
    "noo": "now",
    "wi": "with",
    "o": "of",
    "ye": "you",
    "yer": "your",
    "mair": "more",
    "wis": "was",
    "dae": "do",
    "aw": "all",
    "fae": "from",
    "gonnae": "going to",
    "gonna": "going to",
    "gotta": "got to",
    "wanna": "want to",
    "gimme": "give me",
    "lemme": "let me",
    "dunno": "do not know",
    "wumman": "woman",
    "wee": "little",
    "aye": "yes",
    "pls": "please",
    "ok": "okay",
    "whats": "what is",
    "wheres": "where is",
    "hows": "how is",
    "whens": "when is",
    "thats": "that is",
    "its": "it is",
    "im": "i am",
    "ive": "i have",
    "id": "i would",
    "ill": "i will",
    "lets": "let us",
    "theres": "there is",
    "cant": "can not",
    "dont": "do not",
    "doesnt": "does not",
    "didnt": "did not",
    "isnt": "is not",
    "wont": "will not",
    "youre": "you are",
    "weve": "we have",
    "sts": "stitches",
    "rnd": "round",
    "mines": "mine is",
}
"""Scots, contractions without their mark, and short ways of typing. Common usage, no source."""


def plain(words: str) -> str:
    """The words in their plain spelling."""
    return " ".join(_PLAIN.get(word, word) for word in words.split())


def said_plainly(text: str) -> str:
    """A typed or heard text in plain words, as wordings are compared."""
    return plain(typed_text.normalise(text))
