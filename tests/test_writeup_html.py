"""The page against the HTML standard's own parser, the WCAG formula, and a browser where it is."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from itertools import pairwise

import html5lib
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pattern.session.state import State
from pattern.trade.stitches import Terms
from pattern.writeup.document import (
    Facts,
    Figure,
    Items,
    Paragraph,
    Section,
    Steps,
    Table,
    Writeup,
    blocks_of,
)
from pattern.writeup.drawing import LARGE, REGULAR, Letters
from pattern.writeup.edition import Edition
from pattern.writeup.html import STYLES, as_html
from pattern.writeup.page_styles import DARK, LARGE_STYLE, LIGHT
from pattern.writeup.writeup import as_made, as_planned
from tests.bench.writeup import long_piece
from tests.pieces import Story, begun, stories
from tests.properties import examples


def parsed(page: str) -> ET.Element:
    """The tree that a browser makes; any parse error of the standard is raised."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    root: ET.Element = parser.parse(page)
    return root


def words_of(writeup: Writeup) -> Iterator[str]:
    yield from filter(None, (writeup.kind, writeup.title, writeup.about))
    for section in writeup.sections:
        yield from section_words(section)


def section_words(section: Section) -> Iterator[str]:
    yield section.heading
    for block in section.blocks:
        match block:
            case Paragraph(text):
                yield text
            case Items(items):
                yield from items
            case Facts(facts):
                yield from (word for pair in facts for word in pair)
            case Steps(steps):
                yield from (step.text for step in steps)
            case Figure(picture):
                yield picture.title
            case Table(caption, head, rows):
                yield from (caption, *head, *(cell for row in rows for cell in row))
    for inner in section.sections:
        yield from section_words(inner)


SAID = {"h1", "h2", "h3", "h4", "h5", "h6", "p", "li", "caption", "figcaption", "th", "td"}
SAID |= {"dt", "dd"}
PRINTS = st.sampled_from([REGULAR, LARGE])


def page_of(state: State, name: str, letters: Letters) -> tuple[Writeup, str]:
    """The write-up with everything that can be in it, and its page."""
    writeup = as_made(state, name, Edition(letters, readings=True, as_worked=True))
    return writeup, as_html(writeup, letters)


def text_of(element: ET.Element) -> str:
    """The words of an element; numbers are held to their units there, as in print."""
    return "".join(element.itertext()).replace("\u00a0", " ")


@settings(max_examples=examples(40))
@given(stories(), PRINTS)
def test_the_page_parses_and_holds_every_word_in_order(story: Story, letters: Letters) -> None:
    writeup, page = page_of(story.state, "Gärten & <Hüte>", letters)
    root = parsed(page)
    main = root.find("body/main")
    assert main is not None
    nav = main.find("nav")
    assert (nav is None) is (letters is REGULAR)
    if nav is not None:
        links = {link.get("href", "") for link in nav.iter("a")}
        assert links == {f"#{one.get('id')}" for one in main.iter("h2")}
        main.remove(nav)
    found = [text_of(one) for one in main.iter() if one.tag in SAID]
    assert found == list(words_of(writeup))


@settings(max_examples=examples(20))
@given(stories(), PRINTS)
def test_every_drawing_has_its_words(story: Story, letters: Letters) -> None:
    """And regular print a second one of the same for narrow screens, with larger letters."""
    writeup, page = page_of(story.state, "Test", letters)
    drawn = [
        block.picture
        for one in writeup.sections
        for block in blocks_of(one)
        if isinstance(block, Figure)
    ]
    svgs = list(parsed(page).iter("{http://www.w3.org/2000/svg}svg"))
    assert {one.get("role") for one in svgs} == {"img"}
    first = [one for one in svgs if one.get("class") != "narrow"]
    assert [one[0].text for one in first] == [one.title for one in drawn]
    assert [one[1].text for one in first] == [one.description for one in drawn]
    broad = [one[1].text for one in svgs if one.get("class") == "broad"]
    assert [one[1].text for one in svgs if one.get("class") == "narrow"] == broad
    assert bool(broad) is (letters is REGULAR)


@settings(max_examples=examples(25))
@given(stories(), PRINTS)
def test_the_page_is_built_to_be_found_in(story: Story, letters: Letters) -> None:
    """WCAG 2.2: 1.3.1, 2.1.1, 2.4.2, 3.1.1; ARIA practices for regions that scroll."""
    writeup, page = page_of(story.state, "Test", letters)
    root = parsed(page)
    assert page.startswith("<!DOCTYPE html>")
    assert root.get("lang") == writeup.language
    assert root.findtext("head/title") == writeup.title
    views = [one for one in root.iter("meta") if one.get("name") == "viewport"]
    assert [one.get("content") for one in views] == ["width=device-width, initial-scale=1"]
    levels = [int(one.tag[1]) for one in root.iter() if re.fullmatch("h[1-6]", str(one.tag))]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(later <= earlier + 1 for earlier, later in pairwise(levels))
    for region in (one for one in root.iter("div") if one.get("class") == "wide"):
        assert (region.get("role"), region.get("tabindex")) == ("region", "0")
        (table,) = list(region)
        assert table[0].tag == "caption"
        assert region.get("aria-label") == f"Table: {table[0].text}"
        assert {one.get("scope") for one in table.iter("th")} <= {"row", "col"}
        assert all(row[0].tag == "th" for row in table.iter("tr"))
    marks = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(marks) == len(set(marks))


@settings(max_examples=examples(25))
@given(stories(), PRINTS)
def test_the_page_needs_no_other_file_and_runs_nothing(story: Story, letters: Letters) -> None:
    root = parsed(page_of(story.state, "Test", letters)[1])
    for element in root.iter():
        assert "script" not in str(element.tag)
        for name, value in element.items():
            assert not name.lower().startswith("on")
            assert name not in {"src", "srcset", "style"}
            assert name != "href" or value.startswith("#")
    assert not re.search(r"url\(|@import", "".join(STYLES.values()))


FEW_ROUNDS = begun(yarn=7, hook_mm=15.0, brim_mm=0.0)
"""A piece that is soon written down."""


@given(st.text())
@example("2 mm")
def test_any_name_is_text_and_nothing_else(name: str) -> None:
    writeup = as_planned(FEW_ROUNDS, name)
    root = parsed(as_html(writeup))
    for place in ("body/main/h1", "head/title"):
        (element,) = root.findall(place)
        assert text_of(element) == writeup.title


def test_what_looks_like_markup_stays_text() -> None:
    bad = "</style></title><script>alert(1)</script><!-- & ]]> \" '"
    section = Section(bad, (Paragraph(bad), Items((bad,), ordered=True), Table(bad, (bad,), ())))
    root = parsed(as_html(Writeup(bad, Terms.UK, (section,))))
    assert not list(root.iter("script"))
    places = (
        "h1",
        "section/h2",
        "section/div/p",
        "section/div/ol/li",
        "section/div/div/table/caption",
    )
    assert {root.findtext(f"body/main/{at}") for at in places} == {bad}
    with pytest.raises(ValueError, match="cannot stand"):
        as_html(Writeup("a\x00b", Terms.UK, ()))


def test_sections_within_sections_keep_their_rank() -> None:
    whole = Section("h")
    for heading in "gfedcb":
        whole = Section(heading, (), (whole,))
    root = parsed(as_html(Writeup("a", Terms.US, (whole,))))
    found = [(one.tag, one.text) for one in root.iter() if re.fullmatch("h[1-6]", str(one.tag))]
    assert found == [
        ("h1", "a"),
        ("h2", "b"),
        ("h3", "c"),
        ("h4", "d"),
        ("h5", "e"),
        ("h6", "f"),
        ("h6", "g"),
        ("h6", "h"),
    ]


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, "relative luminance"."""
    shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (x / 12.92 if x <= 0.04045 else ((x + 0.055) / 1.055) ** 2.4 for x in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Source: WCAG 2.2, "contrast ratio"."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_enhanced() -> None:
    """WCAG 2.2, 1.4.6 (AAA): 7:1. Black on white is 21:1 there, and #595959 on white 7.0:1."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#595959", "#ffffff") == pytest.approx(7.0, abs=0.01)
    for colours in (LIGHT, DARK):
        inks, grounds = (colours.ink, colours.accent), (colours.paper, colours.shade)
        assert min(contrast(ink, ground) for ink in inks for ground in grounds) >= 7


@pytest.mark.parametrize("letters", [REGULAR, LARGE])
def test_no_other_colour_stands_in_a_page(letters: Letters) -> None:
    page = page_of(begun(), "Test", letters)[1]
    known = {getattr(one, of) for one in (LIGHT, DARK) for of in one.__slots__}
    drawn = re.sub(r"var\(--\w+, #[0-9a-f]{6}\)", "", page)
    assert set(re.findall(r"#[0-9a-f]{6}\b", drawn)) == known


def test_type_is_large_and_no_width_is_fixed() -> None:
    """18 pt and up; WCAG 2.2, 1.4.10 wants a page that reflows, so widths go by the letter."""
    sizes = re.findall(r"font-size: ([\d.]+)(\w+)", LARGE_STYLE)
    assert ("18", "pt") in sizes
    assert all(
        (unit == "pt" and float(size) >= 18) or (unit == "rem" and float(size) >= 1)
        for size, unit in sizes
    )
    screen = LARGE_STYLE.split("@page")[0]
    assert "max-width: 44ch" in screen
    assert not re.search(r"width: [\d.]+(px|pt|mm|cm|in|rem)", screen)
    assert re.search(r"li, tr, figure, [^{]*\{ break-inside: avoid", LARGE_STYLE)


def test_a_piece_of_200_rounds_is_light() -> None:
    state = long_piece()
    assert state.piece.finished == 200
    page = as_html(as_made(state, "Long hat"))
    parsed(page)
    assert len(page.encode()) <= 400_000
