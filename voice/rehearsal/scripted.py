"""A scripted maker for rehearsals, with a given gauge, answers, and lines for certain rounds."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from pattern.errors import RoundsAloudError
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.geometry import across_corners
from pattern.shape.interview import BEGIN, QUESTIONS
from pattern.shape.reading_kinds import BY_TAPE
from pattern.trade.lengths import Unit, tape_value
from pattern.trade.toml_text import BadToml, read_toml
from voice.inputs.one_line import shown
from voice.inputs.user_files import FileRefused, read_text
from voice.rehearsal.as_phrases import as_phrase
from voice.rehearsal.worn import worn
from voice.words.spoken_numbers import say_fraction, say_integer

USUAL = Path(__file__).parent / "scenario.toml"
"""The default scenario."""

LONGEST_STITCH_MM = 100.0
"""Larger than a stitch of any yarn, by judgement."""
LAST_ROUND = 10_000
"""More rounds than any piece has, by judgement."""


@dataclass(eq=False)
class BadScenario(RoundsAloudError):  # noqa: N818 - it reads as what happened
    """A scenario that cannot be played."""

    path: Path
    why: str

    says = "{self.path} is no scenario ({self.why}); mend that line, then try again."


@dataclass(frozen=True, slots=True)
class Hands:
    """The maker's true gauge, which the program has to learn.

    Raises: ValueError, naming the field, for impossible values.
    """

    width_mm: float
    height_mm: float
    ring_mm: float

    def __post_init__(self) -> None:
        """Refuse lengths that are not positive, or too large for any yarn."""
        for name, length_mm in asdict(self).items():
            if not 0 < length_mm < LONGEST_STITCH_MM:
                raise ValueError(f"{name} = {length_mm:g}")


class Line(NamedTuple):
    """Words of the maker's."""

    words: str
    over: bool = False
    """Whether they are said while the program speaks."""


@dataclass(slots=True)
class ScriptedMaker:
    """Says the maker's next words in a state; answers and lines are each used once."""

    answers: dict[str, str]
    hands: Hands
    lines: dict[int, list[Line]] = field(default_factory=dict)
    """Lines said, in order, before the round with that number; 0 stands for the interview."""

    @property
    def talks_over(self) -> bool:
        """Whether a line that is left is said while the program speaks."""
        return any(line.over for lines in self.lines.values() for line in lines)

    def says_over(self, state: State) -> str | None:
        """The maker's next words, where they are said while the program speaks; else None."""
        number = state.offered.number if state.offered and state.question is None else 0
        lines = self.lines.get(number)
        if state.paused or state.doubt is not None or not lines or not lines[0].over:
            return None
        return lines.pop(0).words

    def says(self, state: State) -> str:
        """The maker's words in this state."""
        if state.paused:
            return "resume"
        if state.doubt is not None:
            return "yes"
        if state.question is not None:
            if self.lines.get(0):
                return self.lines[0].pop(0).words
            if state.question == BEGIN:
                left = self.answers.keys() - set(state.answered)
                return "ask me everything" if left else "begin"
            return self.answers.pop(state.question, "skip")
        number = state.offered.number if state.offered else 0
        if self.lines.get(number):
            return self.lines[number].pop(0).words
        if state.want is not None:
            return self._reading(state)
        return "next"

    def _reading(self, state: State) -> str:
        want, piece, hands = state.want, state.piece, self.hands
        assert want is not None
        if want.kind is Kind.LOOK:
            return "it lies flat"
        along = hands.ring_mm + hands.height_mm * piece.finished
        if want.kind in BY_TAPE:
            return worn(state, around_mm=piece.stitches * hands.width_mm, along_mm=along)
        true_mm = {
            Kind.ACROSS: 2 * along,
            Kind.CORNERS: 2 * along * (across_corners(piece.corners) if piece.corners else 1),
            Kind.AROUND: piece.stitches * hands.width_mm,
            Kind.ALONG: (want.stitches or 1) * hands.width_mm,
            Kind.DEPTH: along,
            Kind.BRIM: piece.brim_rounds * hands.height_mm,
        }[want.kind]
        said = _tape(true_mm, state.settings.unit)
        if want.kind is Kind.ALONG:
            return f"{say_integer(want.stitches or 1)} stitches in {said}"
        return f"{_WORDS[want.kind]} {said}"


_WORDS = {
    Kind.ACROSS: "across",
    Kind.CORNERS: "across corners",
    Kind.AROUND: "around",
    Kind.DEPTH: "depth",
    Kind.BRIM: "brim",
}


def _tape(length_mm: float, unit: Unit) -> str:
    """The length as a maker reads it, to 1/4 inch or half a centimetre."""
    if unit is Unit.CM:
        return say_fraction(Fraction(round(tape_value(length_mm, unit) * 2), 2))
    return say_fraction(tape_value(length_mm, unit, 4))


def load(path: Path = USUAL) -> ScriptedMaker:
    """The maker of a scenario file in TOML, with [hands], [answers], and [[say]]: a round and
    words, which `over = true` has said while the program speaks.

    Answers may be names that speech and options take, such as worsted or H-8.

    Raises: BadScenario, naming the key, also for words that are no phrase and name nothing.
    """
    try:
        data = read_toml(read_text(path))
    except (FileRefused, BadToml) as error:
        raise BadScenario(path, error.why) from error
    try:
        hands = Hands(**{key: float(data["hands"][key]) for key in Hands.__annotations__})
        answers = dict[str, Any](**data.get("answers", {}))
        said = [_lines(entry) for entry in data.get("say", [])]
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError) as error:
        raise BadScenario(path, f"missing or wrong: {shown(str(error))}") from error
    for key in sorted(data.keys() - {"hands", "answers", "say"}):
        raise BadScenario(path, f"{shown(key)} is no part of one")
    for key in sorted(answers.keys() - set(QUESTIONS)):
        raise BadScenario(path, f"answers.{shown(key)} is no question")
    phrases = {key: _phrase(path, words, key) for key, words in answers.items()}
    lines: dict[int, list[Line]] = {}
    for number, each in said:
        of_round = lines.setdefault(number, [])
        of_round += [line._replace(words=_phrase(path, line.words)) for line in each]
    return ScriptedMaker(phrases, hands, lines)


def _lines(entry: dict[str, Any]) -> tuple[int, list[Line]]:
    """Lines and the number of their round. Raises: KeyError, TypeError or ValueError."""
    for name in sorted(entry.keys() - {"round", "words", "over"}):
        raise ValueError(name)
    if (over := entry.get("over", False)) not in {True, False}:
        raise ValueError(f"over = {over}")
    return _round(entry["round"]), [Line(words, bool(over)) for words in entry["words"]]


def _phrase(path: Path, words: object, key: str | None = None) -> str:
    """The phrase that is spoken. Raises: BadScenario for words that are none, and name nothing."""
    phrase = as_phrase(words, key) if isinstance(words, str) else None
    if phrase is None:
        raise BadScenario(path, f"{shown(repr(words))} is nothing that can be said")
    return phrase


def _round(number: object) -> int:
    """Check the number of a round. Raises: ValueError."""
    if not isinstance(number, int) or not 0 <= number <= LAST_ROUND:
        raise ValueError(f"round = {number}")
    return number
