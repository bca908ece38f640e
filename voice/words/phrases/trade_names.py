"""Answers by the names of the trade: of shapes, stitches, yarns and hooks."""

from __future__ import annotations

from fractions import Fraction

from pattern.session import commands as c
from pattern.shape.catalogue import BRIMMED_HAT, SHAPES
from pattern.trade import names
from pattern.trade.hook_names import HOOK_MARKS
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import STITCHES, Stitch
from pattern.trade.yarns_and_hooks import YARNS
from voice.words.phrases.row import Group, Phrase, choice, fixed
from voice.words.spoken_numbers import say_fraction

SHORT_WORD = 4
"""Letters of a word that is not taken alone for a shape: with "mat" in the grammar, "next" was
heard worse. Found with eSpeak's default voice in the tests."""


def _stitch_words() -> list[str]:
    names = {s.value for s in Stitch} | {facts.uk_name for facts in STITCHES.values()}
    return sorted(names)


def _shape_forms(name: str) -> tuple[str, ...]:
    """Ways to name a shape; one short word alone is too easily heard in another."""
    forms = (f"(a | make a) {name}",)
    return (name, *forms) if len(name) > SHORT_WORD else forms


def _said(number: str) -> str:
    """The number on a hook, such as "10 1/2", in words."""
    return say_fraction(sum(map(Fraction, number.split()), Fraction(0)))


def _yarn_forms(number: int) -> list[str]:
    """More names of a class of yarn, beside its own: those in words that are heard well."""
    unlike = {YARNS[number].name, *_HARD_TO_HEAR}
    return [name for name in names.YARN_NAMES[number] if not (name in unlike or name[0].isdigit())]


_HARD_TO_HEAR = ("afghan", "cobweb")
"""Taken for another word from some of 16 held-out voices; typed they are understood."""


ROWS: tuple[Phrase, ...] = (
    *(
        Phrase(
            Group.RING, "shapes", "", _shape_forms(shape.name), fixed(c.Choose("shape", shape.name))
        )
        for shape in SHAPES
    ),
    choice("shape", "(a | make a) sun hat", "a hat with a brim", value=BRIMMED_HAT.name),
    choice("shape", "(a | make a) basket", value="bowl"),
    Phrase(
        Group.RING,
        "setting up",
        "a stitch by its name",
        (*(f"{name} crochet" for name in _stitch_words()), *_stitch_words()),
        lambda slots: c.Choose("stitch", slots["said"]),
    ),
    *(
        choice("stitch", " ".join(letters), value=name)
        for letters, name in names.STITCH_LETTERS.items()
    ),
    *(
        choice("yarn", yarn.name, f"{yarn.name} weight", *_yarn_forms(number), value=number)
        for number, yarn in enumerate(YARNS)
    ),
    *(
        Phrase(
            Group.SETUP,
            "setting up",
            "",
            (f"[size | a | an] {letter} {_said(number)} [hook]",),
            fixed(c.Change("hook_mm", Amount(mm, 0.25, Unit.MM))),
            () if "/" in number else (f"[size | a | an] {letter} {number} [hook]",),
        )
        for (letter, number), mm in HOOK_MARKS.items()
    ),
)
"""Phrases that name a thing of the trade."""
