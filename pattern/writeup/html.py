"""A document as one HTML page for screens, screen readers and print."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Sequence

from pattern.writeup.document import Writeup
from pattern.writeup.drawing import LARGE, REGULAR, Letters
from pattern.writeup.html_blocks import add_section, plain
from pattern.writeup.page_styles import LARGE_STYLE, REGULAR_STYLE

STYLES = {REGULAR: REGULAR_STYLE, LARGE: LARGE_STYLE}
"""The style of each print."""


def as_html(writeup: Writeup, letters: Letters = REGULAR) -> str:
    """The document as one page without other files.

    All text goes through the element tree and is never inserted as markup. Large print begins with
    links to its parts. Raises: ValueError for a character that HTML does not allow.
    """
    root = ET.Element("html", {"lang": writeup.language})
    head = ET.SubElement(root, "head")
    ET.SubElement(head, "meta", {"charset": "utf-8"})
    ET.SubElement(head, "title").text = plain(writeup.title)
    view = {"name": "viewport", "content": "width=device-width, initial-scale=1"}
    ET.SubElement(head, "meta", view)
    ET.SubElement(head, "style").text = STYLES[letters]
    main = ET.SubElement(ET.SubElement(root, "body"), "main")
    if writeup.kind:
        ET.SubElement(main, "p", {"class": "kind"}).text = plain(writeup.kind)
    ET.SubElement(main, "h1").text = plain(writeup.title)
    if writeup.about:
        ET.SubElement(main, "p", {"class": "about"}).text = plain(writeup.about)
    if letters is LARGE:
        _contents(main, [part.heading for part in writeup.sections])
    for number, part in enumerate(writeup.sections, 1):
        add_section(main, part, 2, f"part-{number}")
    return "<!DOCTYPE html>\n" + ET.tostring(root, encoding="unicode", method="html") + "\n"


def _contents(main: ET.Element, headings: Sequence[str]) -> None:
    nav = ET.SubElement(main, "nav", {"aria-label": "Contents"})
    within = ET.SubElement(nav, "ul")
    for number, heading in enumerate(headings, 1):
        link = ET.SubElement(ET.SubElement(within, "li"), "a", {"href": f"#part-{number}"})
        link.text = plain(heading)
