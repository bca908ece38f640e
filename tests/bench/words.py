"""How many free wordings are understood, asked first, taken for something else, or missed.

`python -m tests.bench words [FILE ...]`: files of wordings in the format of tests/wordings; those
there without a name. Of the sentences meant for somebody else it tells how many moved the piece.
"""

from __future__ import annotations

from pathlib import Path

from tests.wordings.judging import NOBODY, Outcome, moved, tally
from tests.wordings.places import FOLDER, cases, others

FILES = (FOLDER / "looked_at.txt", FOLDER / "kept_apart.txt")
PLACE = "R"
"""Where the sentences of others.txt are said."""


def run(argv: list[str]) -> int:
    """One line a file, in percent, and one for what was meant for somebody else."""
    elsewhere = [(PLACE, sentence) for sentence in others()]
    for file in map(Path, argv) if argv else FILES:
        counts = tally(cases(file))
        total = counts.total()
        shares = ", ".join(f"{name} {100 * counts[name] / total:.1f} %" for name in Outcome)
        print(f"{file.name}: {total} wordings: {shares}", flush=True)
        elsewhere += [(case.place, case.said) for case in cases(file) if case.phrase == NOBODY]
    changed = sum(moved(place, words) for place, words in elsewhere)
    print(f"{len(elsewhere)} sentences for somebody else: {changed} changed anything")
    return 0
