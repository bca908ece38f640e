"""The manual: pages of Markdown by topic, and some of them as one page in large print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

ORDER = (
    "phrases",
    "dialogue",
    "listening",
    "speaking",
    "commands",
    "shapes",
    "installing",
    "files",
    "scripts",
    "computing",
    "licences",
)
"""Topics, those that most people want first."""
WHOLE = "The manual of Rounds Aloud"
LANGUAGE = "en-GB"
"""BCP 47 (RFC 5646)."""
_ELSEWHERE = {"licences": "licences/installed.md"}
_STYLE = """
pre { white-space: pre-wrap; overflow-wrap: break-word; margin: 0 0 0.75em; font-size: inherit; }
code { font-family: inherit; font-weight: bold; }
pre code { font-weight: normal; }
"""


@dataclass(frozen=True, slots=True)
class Page:
    """One topic of the manual."""

    topic: str
    text: str
    """Markdown (CommonMark with tables), the title as its first heading."""

    @property
    def title(self) -> str:
        """The first heading."""
        return self.text.partition("\n")[0].removeprefix("# ")


@cache
def pages() -> tuple[Page, ...]:
    """All pages, in the order of `ORDER`."""
    return tuple(
        Page(
            topic, (files("voice") / _ELSEWHERE.get(topic, f"manual/{topic}.md")).read_text("utf-8")
        )
        for topic in ORDER
    )


def page_of(topic: str) -> Page | None:
    """The page of that topic; None where there is none."""
    return next((page for page in pages() if page.topic == topic.casefold()), None)


def as_html(chosen: Sequence[Page]) -> str:
    """One page in large print that needs no other file, with links to its parts at the top."""
    from pattern.writeup.page_styles import LARGE_STYLE

    markdown = _markdown()
    alone = len(chosen) == 1
    tokens = [
        token for page in chosen for token in _lowered(markdown.parse(page.text), 0 if alone else 1)
    ]
    title = chosen[0].title if alone else WHOLE
    if alone:
        tokens = tokens[3:]  # its heading, which stands above the links
    links = "".join(_links(tokens))
    body = str(markdown.renderer.render(tokens, markdown.options, {}))
    return (
        f'<!DOCTYPE html>\n<html lang="{LANGUAGE}"><head><meta charset="utf-8">'
        f"<title>{escape(title)}</title>"
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{LARGE_STYLE}{_STYLE}</style></head>\n<body><main><h1>{escape(title)}</h1>\n"
        f'<nav aria-label="Contents"><ul>{links}</ul></nav>\n{body}</main></body></html>\n'
    )


def _markdown() -> MarkdownIt:
    from markdown_it import MarkdownIt

    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    markdown.add_render_rule("table_open", _table_opens)
    markdown.add_render_rule("table_close", lambda *_: "</table></div>\n")
    return markdown


def _table_opens(_renderer: object, tokens: Sequence[Token], at: int, *_: object) -> str:
    """A region around a table, which the keyboard reaches where it must scroll."""
    before = tokens[:at]
    number = 1 + sum(token.type == "table_open" for token in before)
    headings = [
        within.content for token, within in pairwise(before) if token.type == "heading_open"
    ]
    label = escape(": ".join([f"Table {number}", *headings[-1:]]))
    return f'<div class="wide" role="region" tabindex="0" aria-label="{label}"><table>\n'


def _lowered(tokens: Sequence[Token], by: int) -> Iterator[Token]:
    """The same with its headings so many levels lower."""
    for token in tokens:
        if token.type in {"heading_open", "heading_close"}:
            token.tag = f"h{int(token.tag[1:]) + by}"
        yield token


def _links(tokens: Sequence[Token]) -> Iterator[str]:
    """Names the headings of the second level, and gives a link to each."""
    number = 0
    for token, within in pairwise(tokens):
        if token.type == "heading_open" and token.tag == "h2":
            number += 1
            token.attrSet("id", f"part-{number}")
            yield f'<li><a href="#part-{number}">{escape(within.content)}</a></li>'
