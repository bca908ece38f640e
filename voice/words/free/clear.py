"""Short wordings that are clear as a whole, where the session is now.

They are read by rule rather than by likeness. Words: common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.shape.shape_names import shape_in
from pattern.trade import names
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Terms
from voice.words import spoken_numbers, typed_text
from voice.words.free.amounts import amounts
from voice.words.free.builders import one_round
from voice.words.free.matching import Match
from voice.words.free.said import Said
from voice.words.free.spellings import plain
from voice.words.free.wanted import Number, Wanted

SHORT_WORDS = 7
"""Words of an answer in which a name alone counts; our choice."""
_LEAST_SIZE, _MOST_SIZE = 5.0, 8.5
"""US hat sizes, of a baby and of the biggest heads."""


def clear(text: str, state: State) -> Match | Wanted | None:
    """The meaning of a wording by rule, or the number that it lacks; None for any other."""
    words = re.sub(r"^(?:(?:okay|um|uh|er|well|right|and) )+(?=.)", "", said_plainly(text))
    if state.paused:
        return None
    if state.stage is Stage.SETUP:
        return _answer(words, state) if len(words.split()) <= SHORT_WORDS else None
    for pattern, build in _AT_WORK:
        if found := re.fullmatch(pattern, words):
            return build(found, state)
    return None


def said_plainly(text: str) -> str:
    """The words as the table of meanings takes them."""
    return plain(typed_text.normalise(text))


def agrees(text: str) -> bool:
    """Whether a wording is a yes where a question stands, though it is "next" elsewhere."""
    return said_plainly(text) in {"okay", "sure", "fine", "all right", "right", "got it"}


def cancels(text: str) -> bool:
    """Whether a wording lets go of whatever stands open."""
    return re.fullmatch(_CANCEL, said_plainly(text)) is not None


def stitch_terms(command: c.Command | None, state: State) -> frozenset[Terms]:
    """The terms in which a stitch is called as it was named, before it was said which terms are
    meant; none for any other command.
    """
    if not isinstance(command, c.Choose) or command.key != "stitch":
        return frozenset()
    if state.stage is not Stage.SETUP or "terms" in state.answered:
        return frozenset()
    return names.terms_of(str(command.value).removesuffix(" crochet"))


def _answer(words: str, state: State) -> Match | Wanted | None:
    for reader in _READERS.get(state.question or "", ()):
        if (found := reader(words, state)) is not None:
            return found
    if (shape := shape_in(words)) is not None:
        return Match(c.Choose("shape", shape))
    stitch = names.stitch_word_in(words)
    if stitch is not None and (state.question == "stitch" or "crochet" in words):
        return Match(c.Choose("stitch", stitch))
    return None


def _yarn(words: str, _state: State) -> Match | None:
    named = names.yarn_in(words)
    return None if named is None else Match(c.Choose("yarn", named))


def _hook(words: str, _state: State) -> Match | None:
    named = names.hook_in(_in_digits(words))
    return None if named is None else Match(c.Change("hook_mm", Amount(named, 0.25, Unit.MM)))


def _in_digits(words: str) -> str:
    """Whole numbers as digits, and "and a half" as 1/2, as they are marked on hooks."""
    found = [spoken_numbers.read_integer(word) for word in words.split()]
    written = " ".join(
        word if number is None else str(number)
        for word, number in zip(words.split(), found, strict=True)
    )
    return written.replace(" and a half", " 1/2")


def _head(words: str, state: State) -> Match | Wanted | None:
    found = amounts(words)
    if found:
        return _size(words, found[-1], state)
    if re.search(r"\b(baby|newborn|infant|toddler|bairn)\b", words):
        return Wanted(Number.BABY_AGE)
    if (sex := _child(words)) is not None or re.search(r"\b(child|kid|teenager)\b", words):
        return Wanted(Number.CHILD_AGE, sex)
    if re.search(
        r"\b(big|large|huge|small|little|tiny) (head|noggin)|\b(big|small)headed\b", words
    ):
        return Wanted(Number.HEAD)
    named = names.head_size_in(words)
    return None if named is None else _head_of(named, 10.0, state)


def _head_of(girth_mm: float, step_mm: float, state: State) -> Match:
    """A head in the maker's own unit, which stays."""
    unit = state.settings.unit
    one_mm = Amount(1.0, unit=unit).mm(unit)
    return Match(c.Change("head_mm", Amount(girth_mm / one_mm, step_mm / one_mm, unit)))


def _size(words: str, amount: Amount, state: State) -> Match | None:
    """A hat size, from its number of inches through the head."""
    if amount.unit is not None or not re.search(r"\b(size|us|hat)\b", words):
        return None
    if not _LEAST_SIZE <= amount.value <= _MOST_SIZE:
        return None
    return _head_of(25.4 * math.pi * amount.value, 1.0, state)


def _child(words: str) -> Sex | None:
    if re.search(r"\b(girl|daughter|niece|granddaughter)\b", words):
        return Sex.FEMALE
    return Sex.MALE if re.search(r"\b(boy|son|nephew|grandson)\b", words) else None


_READERS: dict[str, tuple[Callable[[str, State], Match | Wanted | None], ...]] = {
    "yarn": (_yarn,),
    "hook_mm": (_hook,),
    "head_mm": (_head,),
}
"""Readers of names by the question that stands."""


def _back_to(found: re.Match[str], state: State) -> Match | None:
    """Back to a round, which is worked again; the round in work is only called again."""
    number = spoken_numbers.read_integer(found["number"])
    if number is None:
        return None
    out = state.piece.finished - number + 1
    if out == 0:
        return Match(c.Ask(c.Asked.WHERE))
    return Match(c.RippedBack(out), asks=0 < out <= state.piece.finished)


def _cancel(_found: re.Match[str], state: State) -> Match:
    open_ = state.doubt is not None or state.want is not None
    return Match(c.Skip()) if open_ else Match(c.Undo(), asks=state.undo is not None)


def _over(_found: re.Match[str], state: State) -> Match | None:
    worked = state.piece.finished
    return Match(c.RippedBack(worked), asks=True) if worked else Match(c.Ask(c.Asked.WHERE))


def _one_more(_found: re.Match[str], state: State) -> Match | None:
    """One round more: at once where it was just offered, after the last round of a brim."""
    if state.stage not in {Stage.SIDES, Stage.BRIM, Stage.FINISHING} or state.step:
        return None
    command = one_round(Said("", "", (), state))
    offered = state.stage is Stage.FINISHING and state.piece.brim_rounds > 0
    return Match(command, asks=not offered) if command is not None else None


_CANCEL = r"cancel|cancel (?:that|it)|forget (?:that|it)"
_AT_WORK: tuple[tuple[str, Callable[[re.Match[str], State], Match | None]], ...] = (
    (
        r"(?:i want to )?(?:go |jump |take me )?(?:back )?to round (?:number )?(?P<number>.+)",
        _back_to,
    ),
    (_CANCEL, _cancel),
    (r"start (?:all )?over(?: again)?|start again from the (?:beginning|start)", _over),
    (
        r"(?:do|work|add) (?:a|one|another|one more) (?:round|row)(?: more)?"
        r"|(?:just )?(?:one more|another) (?:round|row)",
        _one_more,
    ),
    (
        r"what did i (?:just |last )?(?:tell|say to) you(?: last| just now)?",
        lambda _found, _state: Match(c.Ask(c.Asked.TOLD)),
    ),
)
"""Wordings at the work, and what each means."""
