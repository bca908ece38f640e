"""How well spoken phrases are heard, in quiet, by plain pip's two engines and by each alone.

`python -m tests.bench hear [--small] [--digits FOLDER]` reports on voices and numbers that were
held out; phrases without a number are the same in both halves. `--fit` prints the constants of
voice/recognisers/ctc.py, sphinx.py and chosen.py, fitted on the tuning voices and texts only.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from tests.bench.digits import report_digits
from tests.bench.hearing_cases import Case, plain, read_aloud, spoken
from tests.bench.hearing_fit import fit_engine, fit_rule, table
from tests.bench.hearing_report import report_prose, report_spoken
from tests.bench.prose import STORY, TALK, TUNING_TEXT, segments
from tests.bench.sayings import readings, sayings
from tests.bench.speakers import HELD_OUT, READERS, TUNING, TUNING_READERS
from voice.recognisers.agreement import Agreement

_TEXT_SEED = {"tuning": 1, "held out": 2}


def run(argv: list[str]) -> int:
    """Fit or report; 0 when done."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench hear", description=__doc__)
    parser.add_argument("--small", action="store_true", help="a sample, under three minutes")
    parser.add_argument("--fit", action="store_true", help="print constants, report nothing")
    parser.add_argument("--digits", type=Path, help="folder of digit_speaker_n.wav recordings")
    options = parser.parse_args(argv)
    engines = plain()
    try:
        if options.fit:
            _fit(engines)
        else:
            _report(engines, options.small, options.digits)
    finally:
        engines.close()
    return 0


def _fit(engines: Agreement) -> None:
    texts = sayings(_TEXT_SEED["tuning"])
    cases = [
        *spoken(engines, TUNING, texts, 40),
        *read_aloud(engines, TUNING_READERS, TUNING_TEXT),
    ]
    prose = sum(case.saying is None for case in cases)
    print(f"fitted on {len(cases) - prose} phrases and {prose} pieces of prose")
    data = table(cases)
    found = {engine.name: fit_engine(engine.name, data) for engine in engines.engines}
    for name, calibration in found.items():
        print(name, calibration)
    print(fit_rule(found, data, needed=2))


def _report(engines: Agreement, small: bool, digits: Path | None) -> None:
    held = sayings(_TEXT_SEED["held out"], frozenset(sayings(_TEXT_SEED["tuning"])))
    each = 6 if small else 15
    print(f"phrases of the table, held-out voices, {each} of {len(held)} from each voice")
    report_spoken(list(spoken(engines, HELD_OUT, held, each)), engines)
    print("\nreadings and counts as a session would get them, held-out voices")
    report_spoken(
        list(spoken(engines, HELD_OUT, readings(3), 2 if small else 6)), engines, expected=True
    )
    print("\nprose read aloud, nothing of it meant for the program")
    readers = READERS[:1] if small else READERS[:2]
    for name, text in (("story", STORY), ("talk", TALK)):
        part = " ".join(segments(text)[:20]) if small else text
        report_prose(name, list[Case](read_aloud(engines, readers, part)), engines)
    if digits is not None:
        report_digits(engines, digits)
