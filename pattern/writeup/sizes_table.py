"""The table of head sizes by age, as a document."""

from __future__ import annotations

from pattern.trade.head_medians import Sex
from pattern.trade.head_sizes import TABLED_AGES, head_range
from pattern.trade.lengths import Unit
from pattern.trade.stitches import Terms
from pattern.writeup.document import Block, Paragraph, Section, Table, Writeup
from pattern.writeup.measure_text import plain_length

_WORDS = (
    "Circumference of the head, level, above the ears. These are usual sizes only: measure the "
    "head that the hat is for, and use that measure.",
    "Of a hundred heads of that age, three are smaller than the small one, half are smaller than "
    "the middle one, and three are larger than the large one.",
    "To 5 years: WHO Child Growth Standards 2006. From 6 years: UK90, another reference, which "
    "begins about 2 cm larger. Grown: ANSUR II (2012), of soldiers.",
)


def sizes_table(unit: Unit) -> Writeup:
    """Head sizes by age for girls and women, and for boys and men."""
    words = tuple(Paragraph(text) for text in _WORDS)
    tables = (_heads("Girls and women", Sex.FEMALE, unit), _heads("Boys and men", Sex.MALE, unit))
    blocks: tuple[Block, ...] = (words[0], *tables, *words[1:])
    return Writeup("Head sizes by age", Terms.US, (Section("Heads", blocks),))


def _heads(caption: str, sex: Sex, unit: Unit) -> Table:
    rows = [(age, head_range(age, sex)) for age in TABLED_AGES]
    return Table(
        caption,
        ("Age", "Small", "Middle", "Large"),
        tuple(
            (
                _age(age),
                *(plain_length(mm, unit) for mm in (heads.small, heads.middle, heads.large)),
            )
            for age, heads in rows
        ),
    )


def _age(years: float) -> str:
    if years >= TABLED_AGES[-1]:
        return "grown"
    if years < 2:
        return f"{12 * years:g} months"
    return f"{years:g} years"
