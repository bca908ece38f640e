"""How many free wordings are understood, asked first, taken for something else, or missed.

`python -m tests.bench words [FILE ...]`: files of wordings in the format of tests/wordings; those
there without a name. Of the sentences meant for somebody else it tells how many moved the piece.
`--heard COUNT` speaks so many of those kept apart besides, and tells what comes of what is heard,
and of so many of their sentences for somebody else.
`--fit` prints the constants of voice/hearing/free_odds.py, fitted on other wordings and voices.
"""

from __future__ import annotations

import random
import time
from collections import Counter
from pathlib import Path
from statistics import median

from pattern.session.decisions import only_tells
from tests.wordings.judging import NOBODY, Outcome, is_unmoved, moved, tally
from tests.wordings.places import FOLDER, Case, caller_at, cases, others
from voice.caller.json_reply import as_data
from voice.caller.reply import Reply
from voice.hearing.evidence import Action

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
    """One line of so many wordings kept apart, spoken, with the time that hearing takes, and one
    of what was said to somebody else.
    """
    from tests.wordings.heard import heard, spoken

    meant = [case for case in cases(KEPT_APART) if case.phrase != NOBODY]
    drawn = random.Random(1).sample(meant, min(count, len(meant)))
    outcomes: Counter[Outcome] = Counter()
    seconds: list[float] = []
    cpu_s: list[float] = []
    for number, case in enumerate(drawn):
        sound, began = spoken(case, number), time.process_time()
        found, outcome = heard(case, sound)
        cpu_s.append(time.process_time() - began)
        outcomes[outcome] += 1
        seconds.append(found.seconds)
    shares = ", ".join(f"{name} {100 * outcomes[name] / len(drawn):.1f} %" for name in Outcome)
    times = f"{median(seconds):.2f} s to hear, {median(cpu_s):.2f} s of a core, medians"
    print(f"heard: {len(drawn)} wordings: {shares}; {times}", flush=True)
    to_others = [case for case in cases(KEPT_APART) if case.phrase == NOBODY]
    made = Counter(_made_of(case, number) for number, case in enumerate(to_others[:count]))
    shares = ", ".join(f"{made[kind]} {kind}" for kind in _MADE)
    print(f"heard: {made.total()} sentences for somebody else: {shares}")
    return 0


_MADE = ("asked about", "answered", "done and nothing moved", "moved something")


def _made_of(case: Case, number: int) -> str:
    """What comes of a sentence for somebody else that is heard."""
    from tests.wordings.heard import heard, spoken

    found, _ = heard(Case(PLACE, case.phrase, case.said), spoken(case, number))
    if found.command is None:
        return "silent"
    if found.action is Action.ASK:
        return _MADE[0]
    caller = caller_at(PLACE)
    before = as_data(Reply("", caller.state))
    if not is_unmoved(as_data(caller.take(found.command)), before):
        return _MADE[3]
    return _MADE[1] if only_tells(found.command) else _MADE[2]
