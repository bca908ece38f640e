"""Tables of what was heard."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from pattern.session.commands import Leave, Pause
from pattern.session.decisions import decide
from pattern.session.folding import QUIET
from pattern.session.refusals import Refused
from pattern.session.state import State
from tests.bench.hearing_cases import Case
from tests.bench.intervals import interval
from voice.hearing.evidence import Action, Context, Evidence, Verdict, flat
from voice.hearing.session_expectation import expectation_of, reader_in
from voice.hearing.verdict import verdict
from voice.recognisers.agreement import Agreement
from voice.recognisers.calibration import hypotheses
from voice.recognisers.recogniser import Opinion
from voice.sound.endpoint import EndpointSettings

Way = Callable[[Case], Verdict]
APP = "as the program does"


def ways(engines: Agreement) -> dict[str, Way]:
    """Every way to decide that the tables compare, by its name; the program's own comes last."""
    calibrations = engines.calibrations

    def alone(name: str) -> Way:
        def decide_alone(case: Case) -> Verdict:
            found = case.evidence.get(name)
            odds = calibrations[name].log_odds(found) if found else {}
            opinion = Opinion(hypotheses(odds), name)
            return verdict(
                Evidence(opinion, seconds=case.seconds), Context(reader=reader_in(case.state))
            )

        return decide_alone

    def together(expected: bool) -> Way:
        def decide_together(case: Case) -> Verdict:
            opinion = engines.opinion(case.evidence)
            weights = expectation_of(case.state) if expected else flat
            evidence = Evidence(opinion, amid_talk=case.amid_talk, seconds=case.seconds)
            return verdict(evidence, Context(weights, reader=reader_in(case.state)))

        return decide_together

    return {f"{name} alone": alone(name) for name in calibrations} | {
        "nothing expected": together(False),
        APP: together(True),
    }


def report_spoken(cases: Sequence[Case], engines: Agreement) -> None:
    """Right, wrong, asked, nothing by way of deciding, part and voices; times; confusions."""
    plain = Counter(_plain_outcome(case) for case in cases)
    print(f"  {len(cases)} utterances")
    _row("the likeliest, always", "all", plain)
    for name, way in ways(engines).items():
        found = [(case, way(case)) for case in cases]
        _rows(name, found)
        wrong = sum(outcome(c, h) == "wrong" for c, h in found)
        print(f"    wrong actions against the likeliest, always: {wrong} : {plain['wrong']}")
    _times(cases)
    _confusions(found)


def _rows(name: str, found: Sequence[tuple[Case, Verdict]]) -> None:
    _row(name, "all", Counter(outcome(c, h) for c, h in found))
    parts = [case.saying.sort if case.saying else "" for case, _ in found]
    groups = [case.voice.group for case, _ in found]
    for labels in (parts, groups) if name == APP else ():
        for label in dict.fromkeys(labels):
            some = [pair for pair, mine in zip(found, labels, strict=True) if mine == label]
            _row(name, label, Counter(outcome(c, h) for c, h in some))


def _confusions(found: Sequence[tuple[Case, Verdict]]) -> None:
    taken = Counter(
        (
            c.saying.words,
            f"{h.action} {h.text or '-'}: "
            f"{', '.join(f'{a.words} {a.score:.2f}' for a in h.alternatives[:2])}",
        )
        for c, h in found
        if c.saying and outcome(c, h) != "right"
    )
    for (said, what), count in taken.most_common(30):
        print(f"    {count} x {said!r} -> {what}")


def outcome(case: Case, result: Verdict) -> str:
    """One of right, wrong, "asked, among them", asked, nothing."""
    assert case.saying is not None
    if result.action is Action.SILENT:
        return "nothing"
    said = case.saying.command
    if result.action is Action.ACT:
        return "right" if result.command == said else "wrong"
    return "asked, among them" if said in result.candidates else "asked"


def _plain_outcome(case: Case) -> str:
    words = case.plain
    if words is None or case.saying is None:
        return "nothing"
    return "right" if reader_in(case.state)(words) == case.saying.command else "wrong"


def _row(name: str, group: str, counts: Mapping[str, int]) -> None:
    total = max(1, sum(counts.values()))
    kinds = ("right", "wrong", "asked, among them", "asked", "nothing")
    shares = "  ".join(f"{kind} {100 * counts.get(kind, 0) / total:.1f} %" for kind in kinds)
    sure = ", ".join(f"{kind} {interval(counts.get(kind, 0), total)}" for kind in kinds[:2])
    print(f"  {name:24} {group:10} {total:5}  {shares}  (95 %: {sure})")


def _times(cases: Sequence[Case]) -> None:
    took = np.array([case.seconds for case in cases])
    hang_s = EndpointSettings().hang_s
    for name, extra_s in (("last sample", 0.0), (f"end of speech ({hang_s} s pause)", hang_s)):
        middle, late = np.percentile(took, (50, 95)) + extra_s
        print(f"    seconds from {name} to decision: median {middle:.2f}, 95 % {late:.2f}")
    middle, late = np.percentile([case.cpu_s for case in cases], (50, 95))
    print(f"    CPU seconds a decision: median {middle:.2f}, 95 % {late:.2f}")


def effect(state: State, result: Verdict) -> str:
    """What an action would do: "changes" the piece, "stops" listening, or only "speaks"."""
    assert result.command is not None
    if isinstance(result.command, Pause | Leave):
        return "stops"
    try:
        turn = decide(state, result.command)
    except Refused:
        return "speaks"
    return "changes" if any(not isinstance(event, QUIET) for event in turn) else "speaks"


def report_prose(cases: Sequence[Case], engines: Agreement) -> None:
    """False actions and questions an hour of talk."""
    hours = sum(case.length_s for case in cases) / 3600
    print(f"  {len(cases)} pieces, {hours * 60:.1f} minutes of them")
    for way_name, way in ways(engines).items():
        done = [(case, way(case)) for case in cases]
        acts = [(effect(case.state, h), h.text) for case, h in done if h.action is Action.ACT]
        counts = Counter(kind for kind, _ in acts)
        asks = sum(h.action is Action.ASK for _, h in done)
        shares = "  ".join(
            f"{kind} {counts[kind]} ({counts[kind] / hours:.1f} an hour)"
            for kind in ("changes", "stops", "speaks")
        )
        print(f"    {way_name:24} {shares}  asks {asks} ({asks / hours:.1f} an hour)")
        if way_name == APP:
            print(f"      {', '.join(f'{kind}: {text}' for kind, text in acts)}")
