"""Abbreviations, and how the rounds are worked."""

from __future__ import annotations

from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, Terms, chain_counts, stitch_name
from pattern.writeup.document import Facts, Items, Paragraph, Section
from pattern.writeup.written_rounds import short_name, slip_name


def abbreviations(settings: Settings, *, decreasing: bool) -> Section:
    """Abbreviations of this document, and the stitch's name in the other dialect."""
    stitch, terms = settings.stitch, settings.terms
    other = Terms.UK if terms is Terms.US else Terms.US
    short, name = short_name(stitch, terms), stitch_name(stitch, terms)
    facts = [("st, sts", "stitch, stitches"), (short, name)]
    if decreasing:
        facts.append((f"{short}2tog", f"work the next two sts together as one {short}"))
    facts.append((slip_name(terms), "slip stitch"))
    if settings.joined:
        facts.append(("ch", "chain"))
    words = (
        f"This pattern uses {terms.value.upper()} terms. In {other.value.upper()} terms "
        f"{name} is {stitch_name(stitch, other)} ({short_name(stitch, other)})."
    )
    return Section("Abbreviations", (Facts(tuple(facts)), Paragraph(words)))


def how_to_work(settings: Settings) -> Section:
    """How rounds begin and end, and how to read the brackets. Common practice, no source."""
    chains, slip = STITCHES[settings.stitch].turning_chains, slip_name(settings.terms)
    ring = (
        f"Adjustable ring: a loop of yarn that is pulled tight after round 1; or chain {chains + 1}"
        " and work round 1 into the first chain."
    )
    if chain_counts(settings.stitch, settings.terms):
        closing = (
            f"Begin each round, also round 1, with ch {chains}, which counts as its first st; "
            f"close it with {slip} in the top of that ch."
        )
    else:
        closing = (
            f"Begin each round, also round 1, with ch {chains}, which does not count as a st; "
            f"close it with {slip} in its first st, and work the next first st there."
        )
    spiral = "Work in a spiral without joining; keep a marker in the first st of each round."
    reading = (
        "Work the square brackets the number of times stated. The stitches at the end of "
        "the round stand in round brackets."
    )
    return Section(
        "Before you begin", (Items((ring, closing if settings.joined else spiral, reading)),)
    )
