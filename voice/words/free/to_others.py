"""Short words that one says to people and pets at hand, never to a program. Common usage."""

from __future__ import annotations

import re

_LED = r"(?:(?:oh|aw|ah|well|and|now|hey|there|god|lord) )*"
_WHO = (
    r"(?:boy|boys|girl|girls|dog|puss|pussy|kitty|kids|children|lad|lads|lass|darling|dear|love"
    r"|sweetheart|sweetie|poppet|pet|mum|mummy|dad|daddy|gran|nan|you|you two|you lot|there|now)"
)
_WISHES = (
    rf"{_LED}bless (?:you|her|him|them|us|me|it|your|my|his|their)(?: \w+){{0,3}}"
    rf"|{_LED}gesundheit(?: {_WHO})*"
    r"|(?:happy|merry) (?:birthday|christmas|easter|new year|anniversary)(?: \w+){0,3}"
    rf"|{_LED}(?:get well soon|congratulations|sleep tight|sweet dreams)(?: {_WHO})*"
)
_TO_PETS = (
    rf"{_LED}good (?:boy|girl|dog|puss|kitty|lad|lass)(?: \w+){{0,2}}"
    rf"|{_LED}(?:sit|heel|shoo|down|paws off|get down|get off|get off (?:the|my|that) \w+|drop it"
    rf"|leave it|come here|stop it|shut up|off you go|hush|shush)(?: {_WHO})+"
)


def to_others(words: str) -> bool:
    """Whether plain words are surely said to somebody else."""
    return re.fullmatch(rf"(?:{_WISHES}|{_TO_PETS})", words) is not None
