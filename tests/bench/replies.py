"""Replies of every kind: all that the tables hold, and what whole pieces say."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from pattern.session import commands as c
from pattern.session.events import Begun
from pattern.session.folding import fold
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.catalogue import SHAPES
from pattern.shape.interview import QUESTIONS
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from tests.bench.makers import Maker
from tests.bench.wording import rounds_of
from tests.golden.reading import CONVERSATION, caller_in, lines_of, replies
from voice.rehearsal import scripted
from voice.sentences import help as told
from voice.sentences import pages, questions, refusals
from voice.sentences.rounds import called
from voice.words.phrases import TOPICS
from voice.words.spoken_numbers import say_integer

_DETAIL: dict[str, str | float | int] = {
    "key": "start",
    "most": 8,
    "least": 3,
    "worked": 1,
    "unit": "gram",
    "expected_mm": 100.0,
    "value": 22.0,
    "name": "x",
    "grams": 40.0,
}
"""Whatever a refusal may tell of."""
_MOST_TURNS = 400


def kinds(seed: int = 1) -> Mapping[str, list[str]]:
    """The replies of each kind, none twice, in an order drawn by the seed."""
    rng, seen, found = random.Random(seed), set[str](), dict[str, list[str]]()
    for kind, texts in (
        ("rounds", _rounds(seed)),
        ("a conversation", replies(lines_of(CONVERSATION.read_text("utf-8")))),
        ("a rehearsed hat", _rehearsed()),
        ("questions", _questions()),
        ("refusals", _refusals()),
        ("help", _help()),
        ("like numbers", _like_numbers()),
    ):
        fresh = [text for text in dict.fromkeys(texts) if text and text not in seen]
        seen.update(fresh)
        rng.shuffle(fresh)
        found[kind] = fresh
    return found


def _rounds(seed: int) -> Iterator[str]:
    """Rounds with increases or decreases, of every shape."""
    for shape in SHAPES:
        maker = Maker(random.Random(f"{seed} {shape.name}"))
        for state, offered in rounds_of(maker, shape):
            if offered.places:
                yield called(offered, state.settings, brief=False)


def _rehearsed() -> Iterator[str]:
    """A whole hat as the scripted maker works it, with typed lines."""
    maker = scripted.load(scripted.USUAL)
    with TemporaryDirectory() as folder, caller_in(Path(folder)) as caller:
        yield caller.open().say
        for _ in range(_MOST_TURNS):
            if caller.state.stage is Stage.DONE:
                return
            yield caller.hear(maker.says(caller.state)).say
    raise RuntimeError("a rehearsed hat without an end")


def _questions() -> Iterator[str]:
    state = fold(State(), (Begun(),))
    for key in QUESTIONS:
        for brief in (False, True):
            yield questions.question(key, state.settings, brief=brief)


def _refusals() -> Iterator[str]:
    for reason in Reason:
        for stage in Stage:
            refused = Refused(reason, stage, c.Next(), _DETAIL)
            yield refusals.refusal(refused, Settings())


def _help() -> Iterator[str]:
    for name in sorted(set(TOPICS.values())):
        yield from pages.pages(told.topic(name))


def _like_numbers() -> Iterator[str]:
    """Rounds with the numbers that are taken for each other: sixteen and sixty, two and twelve."""
    for number in (*range(13, 20), *range(30, 100, 10), 2, 12, 10, 8, 18, 80, 113, 130):
        called_so = say_integer(number)
        yield (
            f"Round {called_so}: two in the next, one in each of the next {called_so}, six times. "
            f"{called_so.capitalize()} stitches."
        )
