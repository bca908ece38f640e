"""Reads written rounds back, stitch by stitch, knowing nothing of how they were written."""

from __future__ import annotations

import re
from dataclasses import dataclass

_LINE = re.compile(r"Rounds? (\d+)(?: to (\d+))?: (.*) \((\d+) sts?(?:, counted (\d+) sts?)?\)")
_TOKEN = re.compile(
    r"(?P<open>[\[{])|(?P<close>[\]}]) (?P<times>\d+) times|(?P<comma>, )"
    r"|(?P<decrease>\w+?)2tog|2 (?P<increase>\w+) in next st"
    r"|(?P<run>\w+) in next (?P<count>\d+) sts|(?P<one>\w+) in next st"
)


@dataclass(frozen=True)
class Read:
    """A round as it was read: its places are stitches of the round before."""

    number: int
    before: int | None
    """None where the text leaves it to the round before: "in each st around"."""
    after: int
    places: tuple[int, ...]
    counted: int | None


def read_line(line: str, short: str) -> list[Read]:
    """The rounds of one line; anything that does not belong to the notation fails."""
    found = _LINE.fullmatch(line)
    assert found, line
    first, last, work, after, counted = found.groups()
    before, places, made = _worked(work, short, int(after))
    assert made == int(after), line
    numbers = range(int(first), int(last or first) + 1)
    assert len(numbers) == 1 or not places
    count = int(counted) if counted else None
    return [Read(number, before, int(after), places, count) for number in numbers]


def _worked(work: str, short: str, after: int) -> tuple[int | None, tuple[int, ...], int]:
    if work == f"{short} in each st around":
        return None, (), after
    if work == f"{after} {short} in an adjustable ring":
        return 0, (), after
    if work == f"2 {short} in each st around":
        return after // 2, tuple(range(after // 2)), after
    if work == f"{short}2tog around":
        return 2 * after, tuple(range(0, 2 * after, 2)), after
    used, places, made = 0, [], 0
    for step in _steps(work, short):
        if step == "plain":
            used, made = used + 1, made + 1
            continue
        places.append(used)
        used, made = (used + 1, made + 2) if step == "increase" else (used + 2, made + 1)
    return used, tuple(places), made


def _steps(work: str, short: str) -> list[str]:
    """Every stitch in order, brackets worked out by a stack."""
    stack: list[tuple[str, list[str]]] = [("", [])]
    at = 0
    while at < len(work):
        token = _TOKEN.match(work, at)
        assert token, work[at:]
        at = token.end()
        groups = token.groupdict()
        names = {groups[key] for key in ("decrease", "increase", "run", "one")} - {None}
        assert names <= {short}, work
        if groups["open"]:
            stack.append((groups["open"], []))
        elif groups["close"]:
            opened, steps = stack.pop()
            assert opened + groups["close"] in {"[]", "{}"}
            stack[-1][1].extend(steps * int(groups["times"]))
        elif groups["decrease"]:
            stack[-1][1].append("decrease")
        elif groups["increase"]:
            stack[-1][1].append("increase")
        elif not groups["comma"]:
            stack[-1][1].extend(["plain"] * int(groups["count"] or 1))
    assert len(stack) == 1, work
    return stack[0][1]
