"""The pieces of words that a net writes: reading its vocabulary, cutting up a word.

Source: byte pair encoding (Sennrich, Haddow and Birch 2016). The vocabulary lists the pieces in
the order in which they were learnt, so the pair that was learnt first is joined first; a space is
written as the sign U+2581 before the word that follows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

SPACE = "\u2581"
_LONG = 128
"""Shortest length that takes two bytes, the lower seven bits first."""


class Vocabulary:
    """The pieces of a net, and the number of each."""

    def __init__(self, pieces: tuple[str, ...]) -> None:
        """Take the pieces in their order."""
        self._pieces = pieces
        self._number = {piece: number for number, piece in enumerate(pieces) if piece}
        self._known: dict[str, tuple[int, ...]] = {}

    def __getitem__(self, piece: str) -> int:
        """The number of a piece. Raises: KeyError."""
        return self._number[piece]

    def piece(self, number: int) -> str:
        """The piece of a number."""
        return self._pieces[number]

    def text(self, numbers: Iterable[int]) -> str:
        """The text that pieces make up, without spaces at its ends."""
        pieces = (self._pieces[number] for number in numbers)
        return "".join(pieces).replace(SPACE, " ").strip()

    def cut(self, text: str) -> tuple[int, ...]:
        """The numbers of the pieces that write the text with a space before it.

        Raises: KeyError for a character that no piece has.
        """
        return self.joined(SPACE + text.replace(" ", SPACE))

    def joined(self, text: str) -> tuple[int, ...]:
        """The numbers of the pieces that write the text as it is. Raises: KeyError."""
        if text not in self._known:
            self._known[text] = self._cut(text)
        return self._known[text]

    def _cut(self, text: str) -> tuple[int, ...]:
        found = list(text)
        while pairs := [
            (self._number[a + b], at)
            for at, (a, b) in enumerate(pairwise(found))
            if a + b in self._number
        ]:
            _, at = min(pairs)
            found[at : at + 2] = ["".join(found[at : at + 2])]
        return tuple(self._number[piece] for piece in found)


def read_vocabulary(data: bytes) -> Vocabulary:
    """The vocabulary in a file: each piece after its length in bytes; length 0 is a number unused.

    Raises: ValueError for data that end within a piece.
    """
    return Vocabulary(tuple(piece.decode("utf-8", "replace") for piece in pieces(data)))


def pieces(data: bytes) -> Iterator[bytes]:
    """The pieces as bytes, in order. Raises: ValueError for data that end within a piece."""
    at = 0
    while at < len(data):
        length, at = data[at], at + 1
        if length >= _LONG:
            length, at = length - _LONG + _LONG * int.from_bytes(data[at : at + 1]), at + 1
        if at + length > len(data):
            raise ValueError(f"the list of pieces ends within one, after {len(data)} bytes")
        yield data[at : at + length]
        at += length
