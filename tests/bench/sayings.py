"""Phrases for the bench: drawn from the grammar, those of the table held out from tuning."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from pattern import session as session_state
from pattern.commands import Kind, Next
from pattern.decisions import decide, opening
from pattern.readings import expected, reading_of
from pattern.session import fold
from voice.grammar import Choice, Grammar, Node, Rule, Sequence, Word, rules_in
from voice.phrases import Group, grammar_of, read
from voice.spoken_numbers import say_fraction, say_integer


class State(StrEnum):
    """Where a session may stand; narrows the grammar."""

    WORK = "work"
    CONFIRM = "confirm"
    SETUP = "setup"


GROUPS: Mapping[State, frozenset[Group]] = {
    State.WORK: frozenset({Group.WORK, Group.READING, Group.CHANGE}),
    State.CONFIRM: frozenset({Group.CONFIRM}),
    State.SETUP: frozenset({Group.SETUP, Group.READING}),
}
"""What may be said in each state, beside what may always be."""


@dataclass(frozen=True, slots=True)
class Saying:
    """A phrase and the state in which it is said."""

    state: State
    words: str


def grammars() -> dict[State, Grammar]:
    """The grammar of each state."""
    return {state: grammar_of(groups) for state, groups in GROUPS.items()}


def sayings(seed: int, without: frozenset[Saying] = frozenset()) -> list[Saying]:
    """One phrase of every form of every state, but where a form has numbers none to leave out."""
    rng = random.Random(seed)
    found: dict[Saying, None] = {}
    for state, grammar in grammars().items():
        for phrase in grammar.phrases if state is State.WORK else _own(state):
            drawn = [Saying(state, _draw(phrase, grammar.rules, rng)) for _ in range(8)]
            fresh = [saying for saying in drawn if saying not in without]
            for saying in (fresh or ([] if rules_in(phrase) else drawn))[:1]:
                found[saying] = None
    return [saying for saying in found if read(saying.words) is not None]


def _own(state: State) -> tuple[Node, ...]:
    always = set(grammar_of(frozenset()).phrases)
    own = GROUPS[state] - GROUPS[State.WORK]
    return tuple(phrase for phrase in grammar_of(own).phrases if phrase not in always)


def _draw(node: Node, rules: Mapping[str, Node], rng: random.Random) -> str:
    match node:
        case Word(text):
            return text
        case Rule("length"):
            return _length(rng)
        case Rule("integer"):
            return say_integer(rng.choice((rng.randint(1, 20), rng.randint(1, 200))))
        case Rule(name):
            return _draw(rules[name], rules, rng)
        case Sequence(parts):
            return " ".join(filter(None, (_draw(part, rules, rng) for part in parts)))
        case Choice(options):
            return _draw(rng.choice(options), rules, rng)


def _length(rng: random.Random) -> str:
    """A tape reading as it is said: eighths of an inch, or millimetres as decimals of a cm."""
    inches = Fraction(rng.randint(2, 200), 8)
    tenths = Fraction(rng.randint(10, 640), 10)
    match rng.randrange(6):
        case 0:
            return say_fraction(inches)
        case 1:
            return f"{say_fraction(inches)} inches"
        case 2:
            return f"{say_integer(rng.randint(2, 30))} inches"
        case 3:
            return f"{say_fraction(tenths)} centimetres"
        case 4:
            return say_fraction(Fraction(round(tenths * 2), 2))
        case _:
            return f"{say_integer(rng.randint(1, 65))} centimetres"


def session() -> session_state.State:
    """A piece in the middle of its crown, without a reading yet."""
    state = fold(session_state.State(), opening(session_state.State(), _ANSWERS))
    for _ in range(8):
        state = fold(state, decide(state, Next()))
    return state


def readings(seed: int) -> list[Saying]:
    """Readings and counts drawn from what that session predicts, as they would be said."""
    rng, state = random.Random(seed), session()
    found = []
    for kind, form in _READING_FORMS * 8:
        blank = reading_of(state.piece, kind, 0.0, 3.175, 0.0)
        hoped = expected(state.piece, blank)
        eighths = round(rng.gauss(hoped.mean, hoped.sd) / 3.175)
        found.append(form.format(say_fraction(Fraction(max(1, eighths), 8))))
    stitches = state.piece.stitches
    counts = (stitches, stitches, stitches - 1, stitches + 1, stitches - 2)
    found += [form.format(say_integer(n)) for n in counts for form in _COUNT_FORMS]
    return [Saying(State.WORK, words) for words in dict.fromkeys(found)]


_ANSWERS = {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0}
_READING_FORMS = (
    (Kind.ACROSS, "across {}"), (Kind.ACROSS, "{} inches across"), (Kind.AROUND, "{} around"),
    (Kind.AROUND, "around {} inches"), (Kind.DEPTH, "depth {}"), (Kind.DEPTH, "{} inches deep"),
)  # fmt: skip
_COUNT_FORMS = ("i have {} stitches", "count {}", "i count {}")
