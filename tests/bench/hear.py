"""How well spoken phrases are heard, in quiet, by both looks at the net and by each alone.

Phrases are said at moments of simulated makers' hats, with the grammar narrowed, the words read and
the commands weighed as the program does at that moment; right is the command that the words mean
there. `python -m tests.bench hear [--small] [--digits FOLDER]` reports on voices, hats, numbers and
texts that were held out; phrases without a number, and numbers alone, are the same in both halves.
`--fit` prints the constants of voice/recognisers (moonshine.py, letters.py and chosen.py), fitted
on the tuning voices, hats and texts only, in quiet, by headset and in rooms, and the same tables
for them, which are the ones to look at while choosing.
"""

from __future__ import annotations

import argparse
from collections.abc import Collection, Sequence
from pathlib import Path

import numpy as np

from pattern.session.state import State
from tests.bench.accented import ACCENTED
from tests.bench.digits import report_digits
from tests.bench.false_actions import listen
from tests.bench.hearing_cases import (
    Case,
    Ear,
    headset,
    spoken,
    tuning_prose,
    tuning_rooms,
    tuning_talk,
)
from tests.bench.hearing_fit import fit_engine, fit_rule, table
from tests.bench.hearing_report import report_prose, report_spoken
from tests.bench.moments import working
from tests.bench.prose import HELD_OUT_TITLES, STORY, TALK, segments, sentences
from tests.bench.rooms import HARD_CONDITIONS, TUNING_CONDITIONS
from tests.bench.sayings import Saying, answers, readings, sayings
from voice.hearing.attention import When
from voice.hearing.listening import Hearing
from voice.recognisers.net.learning.speakers import (
    HELD_OUT,
    READERS,
    TUNING,
    TUNING_READERS,
    Voice,
    available,
    speak,
)

TUNING_SEED, HELD_OUT_SEED = 1, 2
"""Of the hats and the numbers said."""
_OTHERS = 600
"""Sentences by others, shared out among the readers."""
PARTS = ("phrases", "readings", "answers", "prose")
ACCENTS = "accents"
"""One more part: phrases by voices with accents that the net never met."""
ADDRESSED = "addressed"
"""One more part, of ten hours where all voices and texts are there, so only when asked for."""
_QUICK = ("flite", "espeak")
"""Engines that speak so much in a few minutes."""
_MANY = 1700


def run(argv: list[str]) -> int:
    """Fit or report; 0 when done."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench hear", description=__doc__)
    parser.add_argument("--small", action="store_true", help="a sample, under three minutes")
    parser.add_argument("--fit", action="store_true", help="fit constants, report on tuning data")
    parser.add_argument(
        "--only", nargs="*", choices=(*PARTS, ACCENTS, ADDRESSED), default=PARTS, help="these parts"
    )
    parser.add_argument(
        "--each",
        type=int,
        default=24,
        help="phrases from each voice; of the rest 3/4 of that",
    )
    parser.add_argument("--digits", type=Path, help="folder of digit_speaker_n.wav recordings")
    options = parser.parse_args(argv)
    ear = Ear()
    if options.fit:
        _fit(ear, options.small)
    else:
        _report(ear, options.small, options.only, options.each)
        if options.digits is not None:
            report_digits(ear.engines, options.digits)
    return 0


def tuning_cases(ear: Ear, small: bool) -> dict[str, list[Case]]:
    """Phrases in quiet, by headset and in rooms, and talk near and far, to fit on."""
    each = 10 if small else 30
    texts = [*sayings(TUNING_SEED), *readings(TUNING_SEED, 120)]
    short = [saying for saying in texts if len(saying.words.split()) < 3]
    short += answers(TUNING_SEED, 120)
    states = _states(TUNING_SEED)
    return {
        "quiet": list(spoken(ear, TUNING, texts, each, tuning=True)),
        "short, by headset": list(spoken(ear, TUNING, short, each, tuning=True, through=headset)),
        "rooms": list(tuning_rooms(ear, TUNING, texts, each, TUNING_CONDITIONS)),
        "read aloud": list(tuning_prose(ear, TUNING_READERS, states)),
        "talk in a room": list(tuning_talk(ear, states, 6.0 if small else 18.0)),
    } | {
        name: list(tuning_rooms(ear, TUNING, texts, each * 4 // 3, [condition]))
        for name, condition in HARD_CONDITIONS.items()
    }


def _states(seed: int) -> Sequence[State]:
    return [moment.state for moment in working(seed, 6)]


def _fit(ear: Ear, small: bool) -> None:
    cases = tuning_cases(ear, small)
    print("fitted on", ", ".join(f"{len(some)} {name}" for name, some in cases.items()))
    data = table([case for some in cases.values() for case in some])
    fitted = {name: fit_engine(name, data) for name in ear.engines.calibrations}
    for name, calibration in fitted.items():
        print(name, calibration)
    print(fit_rule(fitted, data))
    print("with the constants that the program has now, tuning voices")
    for name, some in cases.items():
        print(name)
        (report_spoken if some[0].saying else report_prose)(some, ear.engines)


def _report(ear: Ear, small: bool, parts: Collection[str], most: int) -> None:
    table_of, session_of = held_out()
    each, more = (6, 5) if small else (most, most * 3 // 4)
    if "phrases" in parts:
        print(f"phrases of the table, held-out voices, {each} of {len(table_of)} from each voice")
        report_spoken(list(spoken(ear, HELD_OUT, table_of, each)), ear.engines)
    if ACCENTS in parts:
        print(f"phrases of the table, accents that were held out, {each} from each voice")
        report_spoken(list(spoken(ear, ACCENTED, table_of, each)), ear.engines)
    if "readings" in parts:
        print("\nreadings and counts in the work, held-out voices")
        report_spoken(list(spoken(ear, HELD_OUT, session_of, more)), ear.engines)
    if "answers" in parts:
        print("\nnumbers alone, answering questions of the interview, held-out voices")
        alone = answers(HELD_OUT_SEED, 120)
        report_spoken(list(spoken(ear, HELD_OUT, alone, more)), ear.engines)
    if "prose" in parts:
        _report_talk(ear, READERS[:1] if small else READERS)
    if ADDRESSED in parts:
        _report_addressed(ear)


def _report_talk(ear: Ear, readers: Sequence[Voice]) -> None:
    print("\nprose read aloud while the session waits, nothing of it meant for the program")
    here, states = list(filter(available, readers)), _states(HELD_OUT_SEED)
    others = sentences(HELD_OUT_TITLES)[:_OTHERS]
    read = {
        "story": [segments(STORY)] * len(here),
        "talk": [segments(TALK)] * len(here),
        "short texts by others": [others[n :: len(here)] for n in range(len(here))],
    }
    for name, texts in read.items():
        sounds = [
            heard
            for reader, text in zip(here, texts, strict=True)
            for heard in speak(reader, text).values()
        ]
        for when in (When.NEVER, When.AUTO) if sounds else ():
            tally = listen(Hearing(ear.engines), when, np.concatenate(sounds), states)
            print(f"  {name}, attention words {when}: {tally}")
            print(f"    {', '.join(tally.texts)}", flush=True)


def _report_addressed(ear: Ear) -> None:
    """The same texts and more of them, by each voice that is quick, attention words needed."""
    texts = [*segments(STORY), *segments(TALK), *sentences(HELD_OUT_TITLES)[:_MANY]]
    voices = [v for v in HELD_OUT if v.engine in _QUICK and v.pace == 1 and available(v)]
    print(f"\n{len(texts)} pieces of prose read by each voice, attention words always needed")
    for voice in voices:
        sound = np.concatenate([*speak(voice, texts).values()])
        tally = listen(Hearing(ear.engines), When.ALWAYS, sound, _states(HELD_OUT_SEED))
        print(f"  {voice.name}: {tally} {', '.join(tally.texts)}", flush=True)


def held_out() -> tuple[list[Saying], list[Saying]]:
    """Phrases of the table, and readings; no number in them was said in tuning."""
    tuned = {s.words for s in (*sayings(TUNING_SEED), *readings(TUNING_SEED, 120))}
    return sayings(HELD_OUT_SEED, tuned), readings(HELD_OUT_SEED, 120, tuned)
