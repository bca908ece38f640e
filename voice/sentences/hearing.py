"""Sentences about hearing: which of two was meant, and what keeps it from understanding."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from pattern.session.commands import Answer, Command, Kind, Measured
from pattern.session.state import State
from voice.hearing.attention import Switch
from voice.hearing.evidence import Reason, Verdict
from voice.sentences import asked_first
from voice.sentences.amounts import capital
from voice.sentences.readings import PLACES
from voice.words.phrases import read
from voice.words.spoken_numbers import ONES, TEENS, TENS, integers, say_integer

TYPING = "I go on with typed words."
KEEPS_AUDIO = "I keep the sound of what you say in a folder, as you asked."
KEEPS_FILM = "What is playing is taken out of it as far as I can; some of it may be left."
TAKES_OUT = (
    "I also listen to what this machine plays, to take it out of the microphone. Playing none turns"
    " that off."
)
TAKES_OUT_TV = "I also listen to the microphone at the telly, to take the telly out of yours."


def keeps_no_more(file: Path, why: Exception) -> str:
    """Why the sound of what is said is no longer kept."""
    return f"{file} could not be written ({why}): from now on I keep no sound; the piece is safe."


def no_tv_microphone(name: str, why: Exception) -> str:
    """That the second microphone is not used."""
    return f"I can't hear the microphone {name!r} at the telly ({why}); I go on without it."


def attention(switch: Switch, words: str) -> str:
    """That the attention words are needed from now on, or no more, or were left out."""
    if switch is Switch.LEFT_OUT:
        return f"Say {words} first."
    if switch is Switch.ON:
        return f"The room is talking. Say {words} before each thing you say to me."
    return f"It is quiet again. You need not say {words} any more."


def poor_attention(words: str, why: str) -> str:
    """That the maker's own attention words will come up where they are not meant."""
    return f"{words!r} is a poor choice. {why}"


def which(words: Sequence[str]) -> str:
    """The short question that separates one or two hearings."""
    if len(words) == 1:
        return f"{capital(_spelt(words[0]))}?"
    return f"{capital(_spelt(words[0]))}, or {_spelt(words[1])}?"


def asked(found: Verdict, state: State) -> str:
    """The question about what may have been meant."""
    if found.reason is Reason.FREE_CHANGE and found.command is not None:
        return asked_first.question(found.command, state)
    return which(offered(found))


def offered(found: Verdict) -> list[str]:
    """The words asked about; a number that may be the end of more says what it would measure."""
    words = [each.words for each in found.alternatives[:2]]
    if found.reason is not Reason.BARE_REST:
        return words
    return [_with_kind(*each) for each in zip(words, found.candidates, strict=True)]


def _with_kind(words: str, command: Command) -> str:
    """A number alone as the reading that it is taken for: "sixty around"."""
    if not isinstance(command, Measured) or not isinstance(read(words), Answer):
        return words
    if command.kind is None or command.kind is Kind.ALONG:
        return f"{say_integer(command.stitches or 0)} stitches in {words}"
    return f"{words} {PLACES[command.kind]}"


def _spelt(words: str) -> str:
    """The words; a number that is easily taken for another is spelt by its digits as well, and
    letters said one by one are capitals, as the voices read them so.
    """
    words = re.sub(r"\bu ?([ks])\b", lambda found: f"U{found[1].upper()}", words)
    for name in [*TEENS[3:], *TENS]:
        if re.search(rf"\b{name}\b(?! ({'|'.join(ONES)})\b)", words):
            digits = " ".join(say_integer(int(d)) for d in str(integers()[name]))
            return f"{words}: {digits}"
    return words
