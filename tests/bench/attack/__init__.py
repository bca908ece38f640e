"""Attacks the whole program in many ways, for some minutes: nothing may fall.

Falling is a traceback or an exit without a sentence, an endless wait, an answered turn that is not
kept, a journal changed or misread, memory beyond its bound, a file or a process left behind.
"""

from __future__ import annotations

import argparse
import random
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.bench.attack import journals, killing, leftovers, lines, sounds, talking, texts
from tests.bench.attack.field import Field

KINDS: tuple[tuple[str, float, Callable[[Field], None]], ...] = (
    ("command lines, in process", 5, lines.in_process),
    ("command lines, as processes", 2, lines.as_processes),
    ("plans", 3, lines.plans),
    ("typed calls", 3, talking.typed_calls),
    ("kills of a call", 3, killing.kills),
    ("journals corrupted", 3, journals.corruptions),
    ("journals changed while open", 2, killing.changed_while_open),
    ("odd sound files", 2, sounds.odd_files),
    ("odd shapes", 2, texts.shapes),
    ("odd scenarios", 1, texts.scenarios),
)
"""What each is called, its share of the time, and what does it."""
SHOWN = 4
"""Of what fell in one kind, so much is printed."""


def run(argv: list[str]) -> int:
    """Prints a table; 1 when something fell."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench attack")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=3.0, help="in all, about")
    parser.add_argument("--only", nargs="*", default=[], metavar="WORD", help="kinds by a word")
    args = parser.parse_args(argv)
    chosen = [kind for kind in KINDS if not args.only or any(w in kind[0] for w in args.only)]
    shares, fallen = sum(share for _, share, _ in chosen), 0
    print(f"seed {args.seed}, about {args.minutes:g} minutes")
    with tempfile.TemporaryDirectory(prefix="attack ") as place, leftovers.Watch() as watch:
        for name, share, attack in chosen:
            folder = Path(place) / name
            folder.mkdir()
            until_s = time.monotonic() + args.minutes * 60 * share / shares
            field = Field(random.Random(f"{args.seed} {name}"), folder, watch.marked, until_s)
            attack(field)
            fallen += _row(name, field)
        for name, field in watch.afterwards(Path(place)):
            fallen += _row(name, field)
    print("something fell" if fallen else "nothing fell")
    return int(fallen > 0)


def _row(name: str, field: Field) -> int:
    print(f"  {name:30}{field.tried:6} tried{len(field.fallen):5} fell", flush=True)
    for why in field.fallen[:SHOWN]:
        print(f"      {why[:600]}")
    return len(field.fallen)
