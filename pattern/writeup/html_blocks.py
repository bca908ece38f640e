"""Sections and blocks of a document as HTML elements."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence

from pattern.writeup.document import (
    Block,
    Facts,
    Figure,
    Items,
    Paragraph,
    Section,
    Steps,
    Table,
)
from pattern.writeup.drawing import SVG, Picture

_HELD = re.compile(r"(?<=\d) (?=(?:cm|mm|m|in|yd|g|sts?)\b|\d/\d)")
"""The space between a number and its unit, and before a fraction."""


def plain(text: str) -> str:
    """The text, its numbers held together with their units.

    Raises: ValueError for control characters, which HTML does not allow.
    """
    bad = next((sign for sign in text if not sign.isprintable() and sign not in "\t\n\u00a0"), None)
    if bad is not None:
        raise ValueError(f"{bad!r} cannot stand in a page")
    return _HELD.sub("\u00a0", text)


def add_section(parent: ET.Element, section: Section, level: int, name: str = "") -> None:
    """Put a section into the page, with a heading of this level; `name` is what links go to."""
    kinds = ["part"] * (level == 2)
    if section.blocks and isinstance(section.blocks[0], Figure):
        kinds.append("opening" if level == 2 else "drawn")
    within = ET.SubElement(parent, "section", {"class": " ".join(kinds)} if kinds else {})
    found = {"id": name} if name else {}
    if section.blocks:
        found["class"] = "beside"
    ET.SubElement(within, f"h{min(level, 6)}", found).text = plain(section.heading)
    if section.blocks:
        body = ET.SubElement(within, "div", {"class": "body"})
        for block in section.blocks:
            _block(body, block)
    for inner in section.sections:
        add_section(within, inner, level + 1)


def _block(parent: ET.Element, block: Block) -> None:
    match block:
        case Paragraph(text):
            ET.SubElement(parent, "p").text = plain(text)
        case Items(items, ordered):
            within = ET.SubElement(parent, "ol" if ordered else "ul")
            for item in items:
                ET.SubElement(within, "li").text = plain(item)
        case Facts(facts):
            _facts(parent, facts)
        case Steps():
            _steps(parent, block)
        case Table():
            _table(parent, block)
        case Figure():
            _figure(parent, block)


def _facts(parent: ET.Element, facts: Sequence[tuple[str, str]]) -> None:
    within = ET.SubElement(parent, "dl")
    for name, value in facts:
        pair = ET.SubElement(within, "div")
        ET.SubElement(pair, "dt").text = plain(name)
        ET.SubElement(pair, "dd").text = plain(value)


def _steps(parent: ET.Element, steps: Steps) -> None:
    # Safari takes the role of a list from one that shows no marks.
    within = ET.SubElement(parent, "ul", {"class": "steps", "role": "list"})
    for step in steps.steps:
        line = ET.SubElement(within, "li")
        name = ET.SubElement(line, "span", {"class": "rounds"})
        name.text, name.tail = plain(f"{step.rounds}:"), plain(f" {step.work}")
        if step.bracket:
            name.tail += " "
            ET.SubElement(line, "span", {"class": "count"}).text = plain(step.bracket.strip())


def _table(parent: ET.Element, table: Table) -> None:
    """A table in its own region, which is reachable by keyboard if it scrolls."""
    region = {
        "class": "wide",
        "role": "region",
        "tabindex": "0",
        "aria-label": f"Table: {plain(table.caption)}",
    }
    within = ET.SubElement(ET.SubElement(parent, "div", region), "table")
    ET.SubElement(within, "caption").text = plain(table.caption)
    head = ET.SubElement(ET.SubElement(within, "thead"), "tr")
    for cell in table.head:
        ET.SubElement(head, "th", {"scope": "col"}).text = plain(cell)
    body = ET.SubElement(within, "tbody")
    for row in table.rows:
        line = ET.SubElement(body, "tr")
        for place, cell in enumerate(row):
            found = ("td", {}) if place else ("th", {"scope": "row"})
            ET.SubElement(line, *found).text = plain(cell)


def _figure(parent: ET.Element, drawn: Figure) -> None:
    """A drawing, and the one that stands in its place on a narrow screen."""
    figure = ET.SubElement(parent, "figure")
    ET.SubElement(figure, "figcaption").text = drawn.picture.title
    figure.append(_drawing(drawn.picture, "" if drawn.narrow is None else "broad"))
    if drawn.narrow is not None:
        figure.append(_drawing(drawn.narrow, "narrow"))


def _drawing(picture: Picture, kind: str) -> ET.Element:
    """The SVG for embedding in HTML: plain tag names, and the namespace declared once."""
    root = ET.fromstring(picture.svg)
    for element in root.iter():
        element.tag = element.tag.removeprefix(f"{{{SVG}}}")
    root.set("xmlns", SVG)
    root.set("width", f"{picture.width_px:.0f}")
    if kind:
        root.set("class", kind)
    return root
