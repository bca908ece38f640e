"""Answers of the interview that are told by a name: of a yarn, hook, head, shape or stitch.

Words: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.shape_names import shape_in
from pattern.trade import names
from pattern.trade.hook_names import hook_in
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Terms
from pattern.trade.techniques import Technique
from voice.words import spoken_numbers
from voice.words.free.ages import age_told
from voice.words.free.amounts import amounts
from voice.words.free.head_words import head_in
from voice.words.free.matched import Match
from voice.words.free.said import Said
from voice.words.free.wanted import Wanted
from voice.words.free.wearers import aged, head_of, named_wearer
from voice.words.free.yarn_compared import compares_yarn, yarn_compared


def name_in_answer(words: str, state: State) -> Match | Wanted | None:
    """The meaning of an answer by the name in it, or the number that it lacks; else None."""
    if state.question == "brim_mm" and re.search(_NONE, words):
        return Match(c.Choose("brim_mm", 0))
    reader = _READERS.get(state.question or "")
    if reader is not None and (found := reader(words, state)) is not None:
        return found
    measured = state.question == "head_mm" and len(amounts(words)) == 1
    if (shape := shape_in(words)) is not None and not measured:
        return Match(c.Choose("shape", shape))
    if (stitch := _stitch(words, state)) is not None:
        return Match(c.Choose("stitch", stitch))
    if state.question is None:
        return None
    return next((found for read in _UNASKED if (found := read(words, state)) is not None), None)


_HALF = {Terms.US: "half double", Terms.UK: "half treble"}
"""The one stitch that is called half, in each terms."""


def _stitch(words: str, state: State) -> str | None:
    """The stitch that words name, and do not deny, as it is called."""
    asked = state.question == "stitch"
    plain = names.not_denied(re.sub(r"\b(\w) (?=\w\b)", r"\1", words))
    named = names.stitch_word_in(plain)
    if named is None and asked and re.search(r"\bhalf (?:one|stitch|height|crochet)\b", plain):
        return _HALF[state.settings.terms]
    return named if asked or "crochet" in words else None


_NONE = (
    r"\b(?:not|do not|without|rather not) (?:want |have |need )?(?:one|any|a brim)\b"
    r"|\b(?:no|without (?:a|any)) brim\b|\bbrimless\b|^(?:none|no)\b.*\b(?:beanie|cap)\b"
)


def _unit(words: str, _state: State) -> Match | None:
    inches = re.search(r"\b(inch|inches|imperial)\b", words)
    metric = re.search(r"\b(centimet(re|er)s?|cm|metric)\b", words)
    if (inches is None) == (metric is None) or amounts(words):
        return None
    return Match(c.Choose("unit", (Unit.INCH if inches else Unit.CM).value))


_KIND_OF_YARN = (
    r"\b(?:thick|thicker|thickish|thin|thinner|thinnish|fluffy|no idea|not sure|no clue"
    r"|class|classes|band|label|wool|woolly|acrylic|cotton|yarn|stuff"
    r"|drawer|stash)\b"
)
"""Words about yarn that tell no class."""


def _yarn(words: str, state: State) -> Match | None:
    compares = compares_yarn(words)
    named = yarn_compared(words) if compares else names.yarn_in(words)
    if named is not None:
        return Match(c.Choose("yarn", named))
    if compares and state.question == "yarn":
        return Match(c.Explain(Technique.YARN_CLASS))
    if state.question == "yarn" and not amounts(words) and re.search(_KIND_OF_YARN, words):
        return Match(c.Explain(Technique.YARN_CLASS))
    return None


def _hook(words: str, _state: State) -> Match | None:
    in_mm = [amount for amount in amounts(words) if amount.unit is Unit.MM]
    if len(in_mm) == 1:
        return Match(c.Change("hook_mm", in_mm[0]))
    named = hook_in(_in_digits(words))
    return None if named is None else Match(c.Change("hook_mm", Amount(named, 0.25, Unit.MM)))


def _in_digits(words: str) -> str:
    """Whole numbers as digits, and "and a half" as 1/2, as they are marked on hooks."""
    found = [spoken_numbers.read_integer(word) for word in words.split()]
    written = " ".join(
        word if number is None else str(number)
        for word, number in zip(words.split(), found, strict=True)
    )
    return written.replace(" and a half", " 1/2")


def yarn_in_words(words: str, state: State) -> Match | None:
    """Yarn that is told though something else is asked: its name says that it is yarn."""
    return _yarn(words, state) if re.search(_SURELY_YARN, words) else None


def hook_in_words(words: str, state: State) -> Match | None:
    """A hook that is told though something else is asked: it is called a hook."""
    if not re.search(r"\bhooks?\b", words):
        return None
    found = [amount for amount in amounts(words) if amount.unit in {None, Unit.MM}]
    if len(found) == 1:
        return Match(c.Change("hook_mm", replace(found[0], unit=Unit.MM)))
    return _hook(words, state)


def _unit_unasked(words: str, state: State) -> Match | None:
    question = re.match(r"(?:how|what|is|are|can|does|do|which)\b", words)
    return None if question else _unit(words, state)


def wearer_in(words: str, state: State) -> Match | Wanted | None:
    """A head by its wearer, though something else is asked."""
    if state.question == "head_mm" and age_told(words) is not None:
        return head_in(words, state)
    words = re.sub(_NO_PERSON, " ", words)
    if not re.search(r"\b(?:for|head|heads|wears?|wearing)\b", words):
        return None
    if re.search(_FIT, words):
        return None
    found = amounts(words)
    if len(found) == 1 and re.search(r"\bheads?\b", words) and not aged(words, found[0]):
        return Match(c.Change("head_mm", found[0]))
    if (wanted := head_in(words, state)) is not None:
        return wanted
    measured = named_wearer(words) and not amounts(words)
    told = head_of(_said(words, state)) if measured else None
    return Match(told) if told is not None else None


def _said(words: str, state: State) -> Said:
    return Said(words, words, amounts(words), state)


_NO_PERSON = (
    r"\b(?:she|her|he|him|his)\b"
    r"|\b(?:pick|choose|decide|do|find|say|read|tell|work) (?:it |that |one )?for me\b"
)
"""Words that name nobody, where it is not asked whose head it is."""
_FIT = r"\b(?:smaller|littler|bigger|larger|tighter|looser|less|more|narrower|wider) than\b"
"""Words of a difference to the head, which is no head."""
_SURELY_YARN = (
    r"\b(?:yarns?|wool|cotton|weight|ply|dk|double knit(?:ting)?|worsted|aran|chunky|bulky"
    r"|lace ?weight|fingering|sport ?weight|jumbo|roving)\b"
)
_READERS: dict[str, Callable[[str, State], Match | Wanted | None]] = {
    "unit": _unit,
    "yarn": _yarn,
    "hook_mm": _hook,
    "head_mm": head_in,
}
"""Readers of names by the question that stands."""
_UNASKED = (hook_in_words, yarn_in_words, _unit_unasked, wearer_in)
"""Readers of names that are told before they are asked for."""
