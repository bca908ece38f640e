"""The options about attention words: whether they must come first, and which they are."""

from __future__ import annotations

import sys
from argparse import ArgumentTypeError, _ActionsContainer

from voice.hearing.attention import When, weakness
from voice.inputs.one_line import shown
from voice.words.attention_words import CHOICES


def add_arguments(group: _ActionsContainer) -> None:
    """Put the options on a parser, or on a group of its options."""
    group.add_argument(
        "--addressed",
        choices=[when.value for when in When],
        default="auto",
        help="whether attention words must come first: always,"
        " never, or when the room is talking (default)",
    )
    group.add_argument(
        "--attention",
        type=_attention,
        default=CHOICES[0],
        metavar="WORDS",
        help="those words; suggested: " + ", ".join(CHOICES),
    )


def _attention(text: str) -> str:
    """Attention words as they are recognised; a poor choice is told.

    Raises: ArgumentTypeError where there are none, which would let everything count.
    """
    from voice.sentences.hearing import poor_attention
    from voice.words.typed_text import normalise

    if not (words := normalise(text)):
        raise ArgumentTypeError(f"{shown(text)!r} holds no words; take {CHOICES[0]!r}")
    if (why := weakness(words)) is not None:
        print(poor_attention(words, why), file=sys.stderr)
    return words
