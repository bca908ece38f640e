"""Digits spoken by people, from a folder of recordings named digit_speaker_number.wav."""

from __future__ import annotations

from collections import Counter, defaultdict
from pathlib import Path

import numpy as np

from voice.expectation import flat
from voice.grammar import Grammar, parse
from voice.hearing import Action, heard
from voice.ports import RATE_HZ
from voice.recognisers.agreement import Agreement
from voice.recognisers.recording import read_recording, recordings_in
from voice.spoken_numbers import ONES, read_integer

_AROUND_S = 0.25
"""Silence put around each: the recordings are cut close."""


def report_digits(engines: Agreement, folder: Path) -> None:
    """How many digits are right, by speaker, when a bare digit is what may be said."""
    engines.set_grammar(Grammar((parse(" | ".join(["zero", *ONES])),), {}))
    silence = np.zeros(round(_AROUND_S * RATE_HZ), np.int16)
    counts: defaultdict[str, Counter[str]] = defaultdict(Counter)
    missed: Counter[tuple[str, str]] = Counter()
    for file in recordings_in(folder):
        said, speaker, _ = file.stem.split("_")
        engines.feed(np.concatenate([silence, read_recording(file), silence]))
        opinion = engines.finish()
        best = opinion.hypotheses[0].words if opinion.hypotheses else ""
        right = read_integer(best) == int(said)
        decision = heard(opinion, flat, 0.0)
        acted = decision.action is Action.ACT
        for who in (speaker, "all"):
            counts[who]["n"] += 1
            counts[who]["best"] += right
            counts[who]["right"] += acted and right
            counts[who]["wrong"] += acted and not right
        if not right:
            missed[said, best] += 1
    print("\ndigits of people; best: the likeliest, whether acted on or not")
    for who, count in counts.items():
        shares = "  ".join(f"{k} {100 * count[k] / count['n']:.1f} %" for k in count if k != "n")
        print(f"  {who:12} {count['n']:4}  {shares}")
    print("  ", ", ".join(f"{said}->{best} {n}" for (said, best), n in missed.most_common(12)))
