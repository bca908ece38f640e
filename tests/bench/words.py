"""How many free wordings are understood, asked first, taken for something else, or missed.

`python -m tests.bench words [FILE ...]`: files of wordings in the format of tests/wordings; those
there without a name. Of the sentences meant for somebody else it tells how many moved the piece.
`--heard COUNT` speaks so many of those kept apart besides, and tells what comes of what is heard.
`--fit` prints the bounds of voice/hearing/free_wording.py, fitted on other wordings and voices.
"""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path
from statistics import median

from tests.wordings.judging import NOBODY, Outcome, moved, tally
from tests.wordings.places import FOLDER, cases, others

KEPT_APART = FOLDER / "kept_apart.txt"
FILES = (FOLDER / "looked_at.txt", KEPT_APART)
PLACE = "R"
"""Where the sentences of others.txt are said."""


def run(argv: list[str]) -> int:
    """One line a file, in percent, and one for what was meant for somebody else."""
    if argv[:1] == ["--heard"]:
        return _by_voice(int(argv[1]))
    if argv[:1] == ["--fit"]:
        from tests.bench.words_fit import fit

        return fit(FOLDER / "looked_at.txt")
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


def _by_voice(count: int) -> int:
    """One line of so many wordings kept apart, spoken, with the time that hearing takes."""
    from tests.wordings.heard import heard, spoken

    meant = [case for case in cases(KEPT_APART) if case.phrase != NOBODY]
    drawn = random.Random(1).sample(meant, min(count, len(meant)))
    outcomes: Counter[Outcome] = Counter()
    seconds: list[float] = []
    for number, case in enumerate(drawn):
        found, outcome = heard(case, spoken(case, number))
        outcomes[outcome] += 1
        seconds.append(found.seconds)
    shares = ", ".join(f"{name} {100 * outcomes[name] / len(drawn):.1f} %" for name in Outcome)
    print(f"heard: {len(drawn)} wordings: {shares}; {median(seconds):.2f} s to hear, median")
    return 0
