"""Long answers in pages that an ear can hold; "tell me more" gives the next one."""

from __future__ import annotations

import re
from collections.abc import Sequence

EAR_WORDS = 45
"""Words on a page, with the hint at its end: about seventeen seconds at 160 words a minute; our
choice."""
HINT = "For more, say 'tell me more'."


def pages(text: str, most: int = EAR_WORDS) -> tuple[str, ...]:
    """The sentences of a text, as many on a page as an ear can hold; a longer one stands alone."""
    room = most - len(HINT.split())
    made: list[list[str]] = []
    words = 0
    for sentence in re.split(r"(?<=[.?]) ", text):
        length = len(sentence.split())
        if not made or words + length > room:
            made.append([])
            words = 0
        made[-1].append(sentence)
        words += length
    if len(made) > 1 and sum(len(one.split()) for page in made[-2:] for one in page) <= most:
        last = made.pop()  # the last page needs no hint
        made[-1] += last
    return tuple(" ".join(page) for page in made)


def hinted(page: str, further: Sequence[str]) -> str:
    """The page, with how to hear more where there is more."""
    return f"{page} {HINT}" if further else page


def first(text: str) -> str:
    """The first page of a text, with how to hear more where there is more."""
    page, *further = pages(text)
    return hinted(page, further)
