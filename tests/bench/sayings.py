"""Phrases for the bench: every form of the table, each said at a moment in which it makes sense.

Numbers are those of the moment: readings are what the simulated maker's tape shows, counts are the
true ones with a slip now and then, answers are drawn from what people have, and none of it from
what the program expects. What the session would only refuse at that moment is not said.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage
from tests.bench.moments import Moment, moments
from tests.bench.spoken_slots import NUMBERS_ASKED, filled
from voice.hearing.narrowing import groups_now
from voice.hearing.session_expectation import reader_in
from voice.words.grammar import Choice, Node, Rule, Word, parse, rules_in
from voice.words.grammar import Sequence as Series
from voice.words.phrases import PHRASES, RULES, Group, read

READINGS = (
    "across <length>",
    "<length> across",
    "around <length>",
    "<length> around",
    "depth <length>",
    "<length> deep",
    "brim <length>",
    "<length>",
    "measured <length>",
    "<integer> stitches in <length>",
)
"""What is said most of readings; drawn many times where the table has each form once."""
COUNTS = (
    "i have <integer> stitches",
    "count <integer>",
    "<integer> stitches",
    "i count <integer>",
    "<integer> sets",
    "<integer> more sets",
)
_TRIES = 60


@dataclass(frozen=True, slots=True, eq=False)
class Saying:
    """Words and the state of the session in which they are said."""

    state: State
    words: str

    @property
    def command(self) -> c.Command | None:
        """What they mean there."""
        return reader_in(self.state)(self.words)

    @property
    def sort(self) -> str:
        """Interview, reading, count, or command: a part of the tables."""
        if self.state.stage is Stage.SETUP:
            return "interview"
        if isinstance(self.command, c.Measured):
            return "reading"
        return "count" if isinstance(self.command, c.Counted | c.Sets) else "command"


def sayings(seed: int, without: Collection[str] = ()) -> list[Saying]:
    """Every form of the table once in the interview and once in the work, where it makes sense.

    Words with a number that are in `without` are not drawn.
    """
    rng, said = random.Random(seed), moments(seed, 12)
    asking = [moment for moment in said if moment.state.stage is Stage.SETUP]
    others = [moment for moment in said if moment.state.stage is not Stage.SETUP]
    return [
        saying
        for phrase in PHRASES
        for form in phrase.forms
        for pool in ((asking, others) if phrase.group is not Group.ALWAYS else (others,))
        for saying in _drawn(parse(form), phrase.group, pool, rng, without)
    ]


def readings(seed: int, count: int, without: Collection[str] = ()) -> list[Saying]:
    """So many readings and counts in the work, as many of the one as of the other."""
    rng = random.Random(seed)
    pool = [moment for moment in moments(seed, 12) if moment.state.stage is not Stage.SETUP]
    found: list[Saying] = []
    while len(found) < count:
        form = rng.choice(READINGS if len(found) % 2 else COUNTS)
        group = Group.WORK if "sets" in form else Group.READING
        found += _drawn(parse(form), group, pool, rng, without)
    return found


def answers(seed: int, count: int) -> list[Saying]:
    """So many numbers alone, each to a question of the interview."""
    rng = random.Random(seed)
    pool = [one for one in moments(seed, 12) if one.state.question in NUMBERS_ASKED]
    found: list[Saying] = []
    while len(found) < count:
        found += _drawn(parse("<length>"), Group.ANSWER, pool, rng, ())
    return found


def _drawn(
    form: Node, group: Group, pool: Sequence[Moment], rng: random.Random, without: Collection[str]
) -> list[Saying]:
    """One saying of the form, or none where it makes sense at no moment that was tried.

    An answer of the interview is said to its own question, where it has one.
    """
    found: list[Saying] = []
    for moment in rng.sample(pool, min(_TRIES, len(pool))):
        if group not in groups_now(moment.state) or (found and moment.state.question is None):
            continue
        words = _words(form, moment, rng)
        fresh = words not in without or not rules_in(form) - {"topic"}
        if fresh and _sensible(saying := Saying(moment.state, words)):
            found.append(saying)
    return sorted(found, key=lambda saying: not _answers(saying))[:1]


def _answers(saying: Saying) -> bool:
    question, command = saying.state.question, saying.command
    match command:
        case c.Choose(key, _) | c.Change(key, _):
            return key == question
        case c.HeadOf():
            return question == "head_mm"
    return isinstance(command, c.Answer)


def _sensible(saying: Saying) -> bool:
    """Whether the session would do it."""
    try:
        return saying.command is not None and decide(saying.state, saying.command) is not None
    except Refused:
        return False


def _words(form: Node, moment: Moment, rng: random.Random) -> str:
    """The form with an example's numbers tells what it means, and so what the numbers are."""
    words = list(opened(form, rng))
    example = read(" ".join({"<length>": "six", "<integer>": "six"}.get(w, w) for w in words))
    if example is None:
        return ""
    length, integer = filled(example, moment, rng)
    return " ".join({"<length>": length, "<integer>": integer}.get(w, w) for w in words)


def opened(node: Node, rng: random.Random) -> Iterator[str]:
    match node:
        case Word(text):
            yield text
        case Rule("length" | "integer" as name):
            yield f"<{name}>"
        case Rule(name):
            yield from opened(RULES[name], rng)
        case Series(parts):
            for part in parts:
                yield from opened(part, rng)
        case Choice(options):
            yield from opened(rng.choice(options), rng)
