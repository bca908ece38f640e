"""What synthesisers say to the net: the program's phrases with other numbers than in any table,
wordings of makers, and other talk.
"""

from __future__ import annotations

import argparse
import random
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path

from tests.bench.hear import HELD_OUT_SEED, TUNING_SEED
from tests.bench.prose import LEARNT_TITLES, sentences
from tests.bench.rooms import COMMANDS
from tests.bench.sayings import opened, readings, sayings
from tests.wordings.places import FOLDER, cases
from voice.recognisers.net.learning.texts import Texts, numbered, write
from voice.words.attention_words import CHOICES
from voice.words.free.spellings import plain
from voice.words.free.wordings import WORDINGS
from voice.words.free.wordings import wordings as every_wording
from voice.words.grammar import parse
from voice.words.phrases import PHRASES
from voice.words.spoken_numbers import say_fraction, say_integer
from voice.words.typed_text import normalise

_SEEDS = range(31, 45)


@cache
def phrases() -> list[str]:
    """Without those with a number that a table of the benches asks for."""
    said = [saying.words for seed in _SEEDS for saying in (*sayings(seed), *readings(seed, 260))]
    for number in range(3, 200):
        word = say_integer(number)
        said += [f"count {word}", f"{word} stitches", word]
    said += _any_number(random.Random(5))
    return [words for words in dict.fromkeys(said) if words and words not in _tabled()]


def _any_number(rng: random.Random) -> Iterator[str]:
    for _ in range(3000):
        words = opened(parse(rng.choice(rng.choice(PHRASES).forms)), rng)
        small = rng.choice((rng.randint(1, 24), rng.randint(1, 120)))
        numbers = {
            "<length>": say_fraction(Fraction(rng.randint(2, 100), 4)),
            "<integer>": say_integer(small),
        }
        yield " ".join(numbers.get(word, word) for word in words)


@cache
def _tabled() -> frozenset[str]:
    tables = [
        saying.words
        for seed in (TUNING_SEED, HELD_OUT_SEED)
        for saying in (*sayings(seed), *readings(seed, 120))
    ]
    return frozenset(words for words in (*tables, *COMMANDS) if numbered(words))


@cache
def addressed() -> list[str]:
    """Some phrases after attention words."""
    every, rng = phrases(), random.Random(5)
    return [f"{rng.choice(CHOICES)} {words}" for words in rng.sample(every, len(every) // 6)]


@cache
def prose() -> list[str]:
    """Sentences of other talk."""
    return sentences(LEARNT_TITLES)


@cache
def free() -> list[str]:
    """Free wordings that were not looked at, spelled as they are said: no digits, and no words of
    an accent, which would be learnt as the spelling of common ones.
    """
    looked_at = {normalise(case.said) for case in cases(FOLDER / "looked_at.txt")}
    said = (text for _, text in every_wording(WORDINGS.read_text("utf-8")))
    return [
        text
        for text in dict.fromkeys(said)
        if normalise(text) not in looked_at
        and re.fullmatch(r"[A-Za-z' ,.?!-]+", text)
        and plain(words := " ".join(re.findall(r"[a-z']+", text.lower()))) == words
    ]


def main() -> None:
    """Write them into a file."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.texts", description=__doc__)
    parser.add_argument("--out", type=Path, required=True, metavar="FILE")
    write(parser.parse_args().out, Texts(phrases(), addressed(), free(), prose()))


if __name__ == "__main__":
    main()
