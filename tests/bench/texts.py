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
from voice.recognisers.net.learning.texts import Texts, numbered, write
from voice.words.attention_words import CHOICES
from voice.words.free.wordings import WORDINGS, wordings
from voice.words.grammar import parse
from voice.words.phrases import PHRASES
from voice.words.spoken_numbers import say_fraction, say_integer

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
    """The wordings that free wording is learnt from, but for those with figures."""
    every = (text for _, text in wordings(WORDINGS.read_text("utf-8")))
    return [text for text in dict.fromkeys(every) if not re.search("[0-9]", text)]


def main() -> None:
    """Write them into a file."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.texts", description=__doc__)
    parser.add_argument("--out", type=Path, required=True, metavar="FILE")
    write(parser.parse_args().out, Texts(phrases(), addressed(), free(), prose()))


if __name__ == "__main__":
    main()
