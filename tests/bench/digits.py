"""Digits spoken by people, from a folder of recordings named digit_speaker_number.wav."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from pattern.session.commands import Skip
from pattern.session.state import State
from tests.bench.moments import after
from voice.hearing.evidence import Action, Context, Evidence, Expectation, Reader, flat
from voice.hearing.narrowing import groups_now
from voice.hearing.session_expectation import expectation_of, reader_in
from voice.hearing.verdict import verdict
from voice.recognisers.agreement import Agreement
from voice.recognisers.recording import read_recording, recordings_in
from voice.sound.ports import RATE_HZ, Samples
from voice.words.grammar import Grammar, parse
from voice.words.phrases import grammar_of, read
from voice.words.spoken_numbers import ONES

_AROUND_S = 0.25
"""Silence put around each: the recordings are cut close."""
_MOST_CLASS = 7


def report_digits(engines: Agreement, folder: Path) -> None:
    """How many digits are right, by speaker: where only a digit may be said, and as answers."""
    silence = np.zeros(round(_AROUND_S * RATE_HZ), np.int16)
    sounds = [
        (file.stem, np.concatenate([silence, read_recording(file), silence]))
        for file in recordings_in(folder)
    ]
    print("\ndigits of people, grammar of digits; best: likeliest, whether acted on or not")
    digits = Grammar((parse(" | ".join(_DIGITS)),), {})
    _report(engines, digits, sounds, flat, read)
    state = State()
    while state.question != "yarn":
        state = after(state, Skip())
    print("\nthe same as answers to the question for the yarn's class, 0 to 7, as the program does")
    some = [(name, sound) for name, sound in sounds if int(name[0]) <= _MOST_CLASS]
    grammar = grammar_of(groups_now(state))
    _report(engines, grammar, some, expectation_of(state), reader_in(state))


_DIGITS = ["zero", *ONES]


def _report(
    engines: Agreement,
    grammar: Grammar,
    sounds: Sequence[tuple[str, Samples]],
    weights: Expectation,
    reader: Reader,
) -> None:
    counts: defaultdict[str, Counter[str]] = defaultdict(Counter)
    missed: Counter[str] = Counter()
    for name, sound in sounds:
        said, speaker, _ = name.split("_")
        opinion = engines.hear(sound, grammar)
        best = opinion.hypotheses[0].words if opinion.hypotheses else ""
        decision = verdict(Evidence(opinion), Context(weights, reader=reader))
        meant = reader(_DIGITS[int(said)])
        right, acted = decision.command == meant, decision.action is Action.ACT
        for who in (speaker, "all"):
            counts[who]["n"] += 1
            counts[who]["best"] += reader(best) == meant
            counts[who]["right"] += acted and right
            counts[who]["wrong"] += acted and not right
        if not (acted and right):
            missed[f"{said}->{decision.action} {best or '-'}"] += 1
    for who, count in counts.items():
        shares = "  ".join(f"{k} {100 * count[k] / count['n']:.1f} %" for k in count if k != "n")
        print(f"  {who:12} {count['n']:4}  {shares}")
    print("  ", ", ".join(f"{what} {n}" for what, n in missed.most_common(16)))
