"""A document as one HTML page for large text, screen readers and print."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Sequence

from pattern.writeup.document import Block, Items, Paragraph, Section, Table, Writeup
from pattern.writeup.drawing import INK, PAPER, SHADE, SVG, Picture

STYLE = f"""
:root {{ color-scheme: light; }}
html {{ font-size: 18pt; line-height: 1.5; color: {INK}; background: {PAPER};
  font-family: sans-serif; -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }}
body {{ margin: 0; }}
main {{ max-width: 44ch; margin: 0 auto; padding: 1rem; overflow-wrap: break-word; }}
h1, h2, h3, h4, h5, h6 {{ line-height: 1.25; margin: 1.5em 0 0.5em; }}
h1 {{ font-size: 1.6rem; margin-top: 0; }}
h2 {{ font-size: 1.35rem; border-top: 2px solid {INK}; padding-top: 0.5em; }}
h3, h4, h5, h6 {{ font-size: 1.15rem; }}
p {{ margin: 0 0 0.75em; }}
ul, ol {{ margin: 0 0 0.75em; padding-left: 1.5em; }}
li {{ margin-bottom: 0.5em; }}
a {{ color: {INK}; text-decoration: underline; }}
nav li {{ padding: 0.2em 0; }}
:focus-visible {{ outline: 4px solid {INK}; outline-offset: 2px; }}
.wide {{ overflow-x: auto; margin: 0 0 1em; }}
table {{ border-collapse: collapse; overflow-wrap: normal; }}
caption {{ text-align: left; font-weight: bold; padding: 0.25em 0; }}
th, td {{ border: 1px solid {INK}; padding: 0.35em 0.5em; text-align: left;
  vertical-align: top; }}
thead th {{ background: {SHADE}; }}
figure {{ margin: 0 0 1.5em; }}
figcaption {{ font-weight: bold; margin-bottom: 0.5em; }}
svg {{ display: block; width: 100%; height: auto; }}
@media (max-width: 30em) {{
  main {{ padding: 0.5rem; }}
  h1 {{ font-size: 1.3rem; }}
  h2 {{ font-size: 1.2rem; }}
  ul, ol {{ padding-left: 1.1em; }}
}}
@page {{ margin: 18mm; }}
@media print {{
  html {{ color: {INK}; print-color-adjust: exact; }}
  main {{ max-width: none; padding: 0; }}
  nav {{ display: none; }}
  .wide {{ overflow: visible; }}
  table {{ break-inside: avoid; }}
  h1, h2, h3, h4, h5, h6, caption, figcaption {{ break-after: avoid; }}
  p, li, tr, figure {{ break-inside: avoid; }}
  thead {{ display: table-header-group; }}
  svg {{ width: 127mm; max-width: 100%; }}
}}
"""
"""Widths are fixed only in print, where the text in pictures is 18 pt too. `@page` leaves the paper
size, A4 or Letter, to the printer. Large print is at least 18 pt (common practice of libraries for
the blind, from memory)."""


def as_html(writeup: Writeup, pictures: Sequence[Picture] = ()) -> str:
    """The document as one page without other files, with the pictures after the text.

    All text goes through the element tree and is never inserted as markup. Raises: ValueError for a
    character that HTML does not allow.
    """
    root = ET.Element("html", {"lang": writeup.language})
    head = ET.SubElement(root, "head")
    ET.SubElement(head, "meta", {"charset": "utf-8"})
    ET.SubElement(head, "title").text = _plain(writeup.title)
    view = {"name": "viewport", "content": "width=device-width, initial-scale=1"}
    ET.SubElement(head, "meta", view)
    ET.SubElement(head, "style").text = STYLE
    main = ET.SubElement(ET.SubElement(root, "body"), "main")
    ET.SubElement(main, "h1").text = _plain(writeup.title)
    _contents(main, [*(part.heading for part in writeup.sections), *["Pictures"] * bool(pictures)])
    for number, part in enumerate(writeup.sections, 1):
        _section(main, part, 2, f"part-{number}")
    if pictures:
        _pictures(main, pictures, f"part-{len(writeup.sections) + 1}")
    return "<!DOCTYPE html>\n" + ET.tostring(root, encoding="unicode", method="html") + "\n"


def _plain(text: str) -> str:
    """The text unchanged. Raises: ValueError for control characters, which HTML does not allow."""
    bad = next((sign for sign in text if not sign.isprintable() and sign not in "\t\n\u00a0"), None)
    if bad is not None:
        raise ValueError(f"{bad!r} cannot stand in a page")
    return text


def _contents(main: ET.Element, headings: Sequence[str]) -> None:
    nav = ET.SubElement(main, "nav", {"aria-label": "Contents"})
    within = ET.SubElement(nav, "ul")
    for number, heading in enumerate(headings, 1):
        link = ET.SubElement(ET.SubElement(within, "li"), "a", {"href": f"#part-{number}"})
        link.text = _plain(heading)


def _section(parent: ET.Element, section: Section, level: int, name: str = "") -> None:
    within = ET.SubElement(parent, "section")
    heading = ET.SubElement(within, f"h{min(level, 6)}", {"id": name} if name else {})
    heading.text = _plain(section.heading)
    for block in section.blocks:
        _block(within, block)
    for inner in section.sections:
        _section(within, inner, level + 1)


def _block(parent: ET.Element, block: Block) -> None:
    match block:
        case Paragraph(text):
            ET.SubElement(parent, "p").text = _plain(text)
        case Items(items, ordered):
            within = ET.SubElement(parent, "ol" if ordered else "ul")
            for item in items:
                ET.SubElement(within, "li").text = _plain(item)
        case Table():
            _table(parent, block)


def _table(parent: ET.Element, table: Table) -> None:
    """A table in its own region, which is reachable by keyboard if it scrolls."""
    region = {
        "class": "wide",
        "role": "region",
        "tabindex": "0",
        "aria-label": f"Table: {_plain(table.caption)}",
    }
    within = ET.SubElement(ET.SubElement(parent, "div", region), "table")
    ET.SubElement(within, "caption").text = _plain(table.caption)
    head = ET.SubElement(ET.SubElement(within, "thead"), "tr")
    for cell in table.head:
        ET.SubElement(head, "th", {"scope": "col"}).text = _plain(cell)
    body = ET.SubElement(within, "tbody")
    for row in table.rows:
        line = ET.SubElement(body, "tr")
        for place, cell in enumerate(row):
            found = ("td", {}) if place else ("th", {"scope": "row"})
            ET.SubElement(line, *found).text = _plain(cell)


def _pictures(main: ET.Element, pictures: Sequence[Picture], name: str) -> None:
    within = ET.SubElement(main, "section")
    ET.SubElement(within, "h2", {"id": name}).text = "Pictures"
    for picture in pictures:
        figure = ET.SubElement(within, "figure")
        ET.SubElement(figure, "figcaption").text = picture.title
        figure.append(_drawing(picture))


def _drawing(picture: Picture) -> ET.Element:
    """The SVG for embedding in HTML: plain tag names, and the namespace declared once."""
    root = ET.fromstring(picture.svg)
    for element in root.iter():
        element.tag = element.tag.removeprefix(f"{{{SVG}}}")
    root.set("xmlns", SVG)
    return root
