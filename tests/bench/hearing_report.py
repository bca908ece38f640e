"""Tables of what was heard."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from tests.bench.hearing_cases import Case
from tests.bench.sayings import session
from voice.endpoint import EndpointSettings
from voice.expectation import Expectation, flat
from voice.hearing import Action, Heard, heard
from voice.phrases import read
from voice.ports_hearing import Opinion
from voice.recognisers.agreement import Agreement, decided
from voice.recognisers.calibration import hypotheses
from voice.recognisers.chosen import RULE
from voice.session_expectation import expectation_of

Way = Callable[[Case], Heard]


def ways(engines: Agreement, expected: bool) -> dict[str, Way]:
    """Every way to decide that the tables compare, by its name; expected: the session's as well."""
    calibrations = {engine.name: engine.calibration for engine in engines.engines}

    def alone(name: str) -> Way:
        def decide(case: Case) -> Heard:
            odds = calibrations[name].log_odds(case.evidence[name])
            return heard(Opinion(hypotheses(odds), name, 0.0), flat, 0.0)

        return decide

    def together(expectation: Expectation) -> Way:
        def decide(case: Case) -> Heard:
            odds = {n: c.log_odds(case.evidence[n]) for n, c in calibrations.items()}
            return heard(decided(odds, RULE), expectation, case.seconds)

        return decide

    found = {f"{name} alone": alone(name) for name in calibrations}
    found["both, nothing expected"] = together(flat)
    if expected:
        found["both, session's expectation"] = together(expectation_of(session()))
    return found


def plain_grammar(case: Case) -> str | None:
    """The best phrase of a grammar decode that rejects nothing and hears no second engine."""
    gaps = case.evidence["sphinx"].gaps
    return max(gaps, key=lambda words: gaps[words], default=None)


def report_spoken(cases: Sequence[Case], engines: Agreement, expected: bool = False) -> None:
    """Right, wrong, asked, nothing by way of deciding; wrong by voice group; confusions; time."""
    groups = ["all", *dict.fromkeys(case.voice.group for case in cases)]
    plain = Counter(_outcome(case, plain_grammar(case)) for case in cases)
    print(f"  {len(cases)} utterances")
    _row("plain grammar decode", "all", plain)
    confused: Counter[tuple[str, str]] = Counter()
    for name, way in ways(engines, expected).items():
        found = [(case, way(case)) for case in cases]
        for group in groups:
            some = [(c, h) for c, h in found if group in ("all", c.voice.group)]
            _row(name, group, Counter(outcome(c, h) for c, h in some))
        wrong = sum(outcome(c, h) == "wrong" for c, h in found)
        print(f"    wrong actions against the plain grammar decode: {wrong} : {plain['wrong']}")
        if name.startswith("both, nothing"):
            confused.update(
                (c.saying.words, f"{h.action}: {' / '.join(a.words for a in h.alternatives[:2])}")
                for c, h in found if c.saying and outcome(c, h) != "right"
            )  # fmt: skip
    _times(cases)
    for (said, taken), count in confused.most_common(25):
        print(f"    {count} x {said!r} -> {taken}")


def outcome(case: Case, result: Heard) -> str:
    """One of right, wrong, "asked, among them", asked, nothing."""
    assert case.saying is not None
    said = read(case.saying.words)
    if result.action is Action.SILENT:
        return "nothing"
    if result.action is Action.ACT:
        return "right" if result.command == said else "wrong"
    among = any(read(offered.words) == said for offered in result.alternatives)
    return "asked, among them" if among else "asked"


def _outcome(case: Case, words: str | None) -> str:
    if words is None or case.saying is None:
        return "nothing"
    return "right" if read(words) == read(case.saying.words) else "wrong"


def _row(name: str, group: str, counts: Mapping[str, int]) -> None:
    total = max(1, sum(counts.values()))
    kinds = ("right", "wrong", "asked, among them", "asked", "nothing")
    shares = "  ".join(f"{kind} {100 * counts.get(kind, 0) / total:.1f} %" for kind in kinds)
    print(f"  {name:28} {group:8} {total:5}  {shares}")


def _times(cases: Sequence[Case]) -> None:
    took = np.array([case.seconds for case in cases])
    hang_s = EndpointSettings().hang_s
    for name, extra_s in (("last sample", 0.0), (f"end of speech ({hang_s} s pause)", hang_s)):
        middle, late = np.percentile(took, (50, 95)) + extra_s
        print(f"    seconds from {name} to decision: median {middle:.2f}, 95 % {late:.2f}")


def report_prose(name: str, cases: Sequence[Case], engines: Agreement) -> None:
    """False actions and questions an hour of talk."""
    hours = sum(case.length_s for case in cases) / 3600
    print(f"  {name}: {len(cases)} pieces, {hours * 60:.1f} minutes")
    for way_name, way in ways(engines, expected=True).items():
        done = [(case, way(case)) for case in cases]
        acts = [h.text for _, h in done if h.action is Action.ACT]
        asks = sum(h.action is Action.ASK for _, h in done)
        print(f"    {way_name:28} acts {len(acts) / hours:.1f} an hour, asks {asks / hours:.1f}"
              f"  {', '.join(acts[:8])}")  # fmt: skip
