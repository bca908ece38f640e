"""Converts a turn to a line and back, and reads all lines of a file's bytes.

A line is one JSON object. Its last member is the CRC-32 of all bytes before that member, so that a
corrupted line is never read as a valid one.
"""

from __future__ import annotations

import json
import re
import zlib
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Generic, TypeVar

from pattern.errors import BadRecord
from pattern.journal.journal_errors import JournalDamaged, JournalNewer
from pattern.journal.records import Codec

E = TypeVar("E")
_SUM_OF = b',"sum":"%08x"}'
_TOO_LONG = "it is longer than 1 MB"
_LONGEST_WHY = 200
"""Maximum number of characters quoted from a line."""
_SUM = re.compile(rb',"sum":"[0-9a-f]{8}"\}')
_SUM_BYTES = 18
_UNDECODED = (ValueError, TypeError, LookupError, ArithmeticError, AttributeError, RecursionError)
"""Errors that count as damage: a correct checksum does not prove that a line makes sense."""
MOST_BYTES = 1_000_000
"""A longer line is not one of ours. By judgement: over a hundred times the longest."""
_AT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?Z")


@dataclass(frozen=True)  # no slots: with them, the generic call Turn[X](...) fails on Python 3.11
class Turn(Generic[E]):
    """The events of one turn of the maker."""

    events: tuple[E, ...]
    at_iso: str
    """UTC, like 2026-03-01T18:30:00Z; only recorded, so it may go backwards between turns."""


@dataclass(frozen=True)
class Kept(Generic[E]):
    """The turns known to be in the file; replaced as a whole, so it cannot be half updated."""

    turns: tuple[Turn[E], ...]
    end: int
    """Number of bytes in whole lines; anything after them is torn."""
    ended: bool = True
    """Whether the last whole line has its newline."""


def _sealed(body: bytes) -> bytes:
    return body + _SUM_OF % zlib.crc32(body)


def _is_whole(line: bytes) -> bool:
    return line == _sealed(line[:-_SUM_BYTES])


def _is_time(at_iso: str) -> bool:
    with suppress(ValueError):
        return bool(_AT.fullmatch(at_iso) and datetime.fromisoformat(at_iso))
    return False


def write_line(codec: Codec[E], n: int, turn: Turn[E]) -> bytes:
    """The bytes of line n, with its newline.

    Raises: BadRecord; ValueError for a time not written like 2026-03-01T18:30:00Z.
    """
    if not _is_time(turn.at_iso):
        raise ValueError(f"{turn.at_iso!r} is not a time in UTC like 2026-03-01T18:30:00Z")
    events = [codec.encode(event) for event in turn.events]
    record = {"v": codec.version, "n": n, "at": turn.at_iso, "events": events}
    body = json.dumps(record, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    line = _sealed(body[:-1].encode())
    if len(line) > MOST_BYTES:
        raise BadRecord(f"it would take {len(line)} bytes, more than a line may have")
    return line + b"\n"


def _turn(path: Path, n: int, line: bytes, codec: Codec[E]) -> Turn[E]:
    def damaged(why: str) -> JournalDamaged:
        return JournalDamaged(path, n, why if len(why) < _LONGEST_WHY else why[:_LONGEST_WHY])

    if len(line) > MOST_BYTES:
        raise damaged(_TOO_LONG)
    if not _is_whole(line):
        raise damaged("its checksum does not match")
    try:
        record = json.loads(line)
    except (ValueError, RecursionError) as refusal:
        raise damaged("it is not JSON") from refusal
    match record:
        case {"v": int(version)} if version > codec.version:
            raise JournalNewer(path, n, version)
        case {"v": int(version), "n": int(found), "at": str(at), "events": list(events), "sum": _}:
            if found != n:
                raise damaged(f"it says it is line {found}")
            if len(record) != 5 or version < 1 or not _is_time(at):
                raise damaged("it has an unknown member, version or time")
            try:
                return Turn(tuple(codec.decode(event, version) for event in events), at)
            except BadRecord as refusal:
                raise damaged(refusal.why) from refusal
            except _UNDECODED as fault:
                raise damaged("an event cannot be understood") from fault
        case _:
            raise damaged("a member is missing or of the wrong type")


def _whole_beginning(tail: bytes) -> bytes:
    """The whole line at the beginning of the tail; empty if there is none."""
    crc = at = 0
    for found in _SUM.finditer(tail):
        crc, at = zlib.crc32(tail[at : found.start()], crc), found.start()
        if found[0] == _SUM_OF % crc:
            return tail[: found.end()]
    return b""


def _is_torn(tail: bytes, n: int, codec: Codec[E]) -> bool:
    """Whether an interrupted write of line n may have left this tail.

    Such a tail is the beginning of a line, possibly followed by zeros, since a file may grow before
    its data arrive.
    """
    begun = tail.rstrip(b"\0")
    heads = (b'{"v":%d,"n":%d,"at":"' % (version, n) for version in range(1, codec.version + 1))
    return any(begun.startswith(head) or head.startswith(begun) for head in heads)


def read_lines(path: Path, data: bytes, codec: Codec[E]) -> Kept[E]:
    """The turns in the bytes of a whole file; `path` is only used in errors.

    Raises: JournalDamaged, JournalNewer.
    """
    turns: list[Turn[E]] = []
    start = 0
    while (end := data.find(b"\n", start)) >= 0:
        turns.append(_turn(path, len(turns) + 1, data[start:end], codec))
        start = end + 1
    n, tail = len(turns) + 1, data[start:]
    if len(tail) > MOST_BYTES:
        raise JournalDamaged(path, n, _TOO_LONG)
    # An interrupted write leaves the beginning of a line. A tail that is a whole line only lacks
    # its newline, but a whole line with more after it is damaged, not torn.
    if whole := _whole_beginning(tail):
        if whole != tail:
            raise JournalDamaged(path, n, "its end of line was overwritten")
        turns.append(_turn(path, n, whole, codec))
    elif not _is_torn(tail, n, codec):
        raise JournalDamaged(path, n, "it does not begin as a line of a piece does")
    return Kept(tuple(turns), start + len(whole), not whole)
