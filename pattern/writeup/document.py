"""A document as a tree, and its output as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass

from pattern.trade.stitches import Terms
from pattern.writeup.drawing import Picture

LANGUAGES = {Terms.US: "en-US", Terms.UK: "en-GB"}
"""Language tags for the two dialects of stitch terms. Source: BCP 47 (RFC 5646)."""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str


@dataclass(frozen=True, slots=True)
class Items:
    """A list, numbered if the order matters."""

    items: tuple[str, ...]
    ordered: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names, each with its value: the yarn, the hook, an abbreviation."""

    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One line of instructions for a round, or for like rounds one after another."""

    rounds: str
    """The rounds it is about, such as "Rounds 13 to 21"."""
    work: str
    """The stitches to place, without a full stop."""
    count: str = ""
    """The stitches at the end of the round, such as "48 sts"; empty where `work` tells them."""

    @property
    def text(self) -> str:
        """The whole line, with the count in brackets at its end."""
        return f"{self.rounds}: {self.work}{self.bracket}"

    @property
    def bracket(self) -> str:
        """The count in brackets, with a space before it; empty for none."""
        return f" ({self.count})" if self.count else ""


@dataclass(frozen=True, slots=True)
class Steps:
    """Rounds in the order in which they are worked."""

    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with column heads; the first cell of each row is its name."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing; whoever does not see it has its title and its description."""

    picture: Picture
    narrow: Picture | None = None
    """The same with larger letters, for narrow screens; None where `picture` does for all."""

    @property
    def text(self) -> str:
        """The drawing in words."""
        return f"Drawing: {self.picture.title}. {self.picture.description}"


Block = Paragraph | Items | Facts | Steps | Table | Figure


@dataclass(frozen=True, slots=True)
class Section:
    """Blocks under a heading, and subsections."""

    heading: str
    blocks: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()


@dataclass(frozen=True, slots=True)
class Writeup:
    """A whole document, in the maker's stitch terms."""

    title: str
    terms: Terms
    sections: tuple[Section, ...]
    kind: str = ""
    """One line above the title, such as "Crochet pattern, as made"; empty for none."""
    about: str = ""
    """One line below the title."""

    @property
    def language(self) -> str:
        """The language tag of the text."""
        return LANGUAGES[self.terms]


def blocks_of(section: Section) -> Iterator[Block]:
    """The blocks of a section and of all its subsections, in order."""
    yield from section.blocks
    for inner in section.sections:
        yield from blocks_of(inner)


def as_json(writeup: Writeup) -> str:
    """The document as one JSON object; each block states its kind."""
    content = {
        "title": writeup.title,
        "kind": writeup.kind,
        "about": writeup.about,
        "terms": writeup.terms.value,
        "language": writeup.language,
        "sections": [_section_data(section) for section in writeup.sections],
    }
    return json.dumps(content, ensure_ascii=False, indent=1)


def _section_data(section: Section) -> dict[str, object]:
    return {
        "heading": section.heading,
        "blocks": [_block_data(block) for block in section.blocks],
        "sections": [_section_data(inner) for inner in section.sections],
    }


def _block_data(block: Block) -> dict[str, object]:
    """A block as data; of a drawing, only its words."""
    kind = {"kind": type(block).__name__.lower()}
    if isinstance(block, Figure):
        return {**kind, "title": block.picture.title, "description": block.picture.description}
    return {**kind, **asdict(block)}
