"""The check told to a person who crochets: a few lines, and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from voice.cli.checks import Finding

MOST_LINES = 8
"""Lines of the whole check, those that ask to speak included."""
ABOUT: dict[str, str] = {
    "speech": "Speaking",
    "voices": "Speaking",
    "engines": "Hearing",
    "listening": "Hearing",
    "vosk": "Hearing",
    "recognition": "Hearing",
    "loopback": "Hearing",
    "latency": "Hearing",
    "microphone": "Microphone",
    "noise": "Your room",
    "playing": "Over sound",
}
"""The thing that each finding is about, in a maker's words; others are left out."""
_TOLD = frozenset({"voices", "latency", "microphone", "noise", "playing"})
"""Findings that are told where all is well: the last one of each thing."""
_EXPECT = (
    "In a quiet room I hear nearly every phrase from a metre away. When others talk, come closer, "
    "and say the attention words first."
)


def printed(findings: Iterable[Finding]) -> int:
    """Print the check as it goes on; returns 0 if all is well."""
    wrong = False
    for about, finding in _first_of_each(findings):
        mark = "" if finding.good else "Not yet: "
        told = finding.plain or finding.told
        print(f"{about}: {mark}{told.rstrip('.')}.", flush=True)
        wrong = wrong or not finding.good
    print(_EXPECT)
    print(
        "Mend what is not well, or type: rounds-aloud call --typed. For more: rounds-aloud check"
        " --technical"
        if wrong
        else "All is well. Begin your hat: rounds-aloud call"
    )
    return int(wrong)


def _first_of_each(findings: Iterable[Finding]) -> Iterator[tuple[str, Finding]]:
    """The finding that is told of each thing: the first that is not well, or that it is well."""
    told: set[str] = set()
    for finding in findings:
        about = ABOUT.get(finding.what)
        if about is None or about in told or (finding.good and finding.what not in _TOLD):
            continue
        told.add(about)
        yield about, finding
