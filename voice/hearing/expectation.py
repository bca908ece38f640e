"""Which of several hearings to act on, given what the session makes likely."""

from __future__ import annotations

from dataclasses import dataclass, field

from pattern.session.commands import Command, No, Yes
from pattern.session.decisions import leaves_piece
from voice.hearing.costs import MISS_S, cost_of_asking, cost_of_wrong
from voice.hearing.evidence import Expectation, Reader, Reason, flat
from voice.recognisers.recogniser import Opinion
from voice.words.numbers_told import tells_a_number
from voice.words.phrases import read


@dataclass(frozen=True, slots=True)
class Act:
    """Do this."""

    command: Command
    probability: float
    reason: Reason = field(default=Reason.CLEAR, compare=False)


@dataclass(frozen=True, slots=True)
class AskWhich:
    """Ask which was meant: one or two commands, the likelier first."""

    candidates: tuple[Command, ...]
    reason: Reason = field(default=Reason.UNSURE, compare=False)


@dataclass(frozen=True, slots=True)
class Silent:
    """Do nothing and say nothing."""

    reason: Reason = field(default=Reason.NO_PHRASE, compare=False)


Decision = Act | AskWhich | Silent
CONFIRMS = 5.0
"""A command that the session expects this much is confirmed by it, as by another engine."""

CLEAR, WORD_CLEAR = 0.7, 0.95
"""So probable before anything was expected, a hearing that is not doubtful is clear amid talk; and
a single word, which pieces of talk are often taken for. After a look at tuning voices: in 18
minutes of talk 3 pieces change the piece where with 0.8 for all phrases 5 do, of 298 phrases with
talk 10 dB under them 91.3 and not 92.3 % are right, of 228 at 5 dB 73.7 and not 71.9 %."""

LIKELIER_THAN_NOT, A_NUMBER = 0.5, 0.7
"""A command is done only if it was this probable before anything was expected. Numbers count
together from the second on, since they sound alike: among them what the session expects decides.
Before the second was there, something else was taken for the number expected in a held-out table;
on tuning voices it changes nothing."""
YES_OR_NO_FROM = 0.95
"""So probable before anything was expected, yes or no is taken for itself; below that it is neither
done nor asked about. Where a doubt is open, of 300 puffs and knocks of noise nine had 0.9 or more
as "no" and its like, and one had more than this, 0.96; of "yes", "no" and "nope" by six tuning
voices at three paces, 108 in quiet and up to 4 kHz, three had less, the least 0.81."""
ASKED_FROM = 0.1
"""Commands that are asked about were this probable in all before anything was expected. By
judgement: without it a puff of noise, while yes or no is expected, led to "No, or yes?" on a
hundredth for each."""

AS_LIKELY = 1 / 0.3
"""Rarity of a phrase is no sign that nothing was said: up to this factor, what the session expects
does not make it likelier that no phrase was said. After a look at tuning voices, heard by one
engine: 79.2 and not 77.3 % of 207 phrases in rooms are right, and 4 pieces of 18 minutes of talk
and not 2 change the piece."""


def clear_amid_talk(opinion: Opinion) -> float:
    """How probable what was heard first must be, so that pieces of others' talk are kept out."""
    several = any(" " in found.words for found in opinion.hypotheses[:1])
    return CLEAR if several else WORD_CLEAR


def chances(
    opinion: Opinion, expectation: Expectation, reader: Reader = read
) -> dict[Command, float]:
    """Probability of each command, likeliest first; what is missing to 1 is "none of these"."""
    said = 0.0
    weights: dict[Command, float] = {}
    for found in opinion.hypotheses:
        if (command := reader(found.words)) is not None:
            said += found.score
            weight = found.score * expectation(command)
            weights[command] = weights.get(command, 0.0) + weight
    none = max(0.0, 1.0 - said)
    if weights:
        scale = min(max(1.0, said / sum(weights.values())), AS_LIKELY)
        weights = {command: weight * scale for command, weight in weights.items()}
    total = none + sum(weights.values())
    likely = sorted(weights, key=lambda command: -weights[command])
    return {command: weights[command] / total for command in likely if weights[command] > 0}


def choose(
    opinion: Opinion,
    expectation: Expectation = flat,
    reader: Reader = read,
    clear: float | None = None,
) -> Decision:
    """The decision of least expected cost.

    What is doubtful is asked about at most, unless it is just what the session expects. While
    others talk, so is what was not heard first, or is not as probable as what is `clear`,
    whatever the session expects.
    """
    chance = chances(opinion, expectation, reader)
    if not chance:
        return Silent()
    best, probability = next(iter(chance.items()))
    if best in {Yes(), No()} and (heard := _as_heard(best, opinion, reader)) < YES_OR_NO_FROM:
        return Silent(Reason.FAINT_ANSWER if heard >= ASKED_FROM else Reason.UNLIKELY)
    silent = Silent(Reason.UNLIKELY)
    costs: dict[Decision, float] = {silent: MISS_S * sum(chance.values())}
    doubt = _doubt(best, opinion, expectation, reader, clear)
    for count, why in ((1, doubt or Reason.UNSURE), (2, Reason.SEVERAL)):
        asked = AskWhich(tuple(chance)[:count], why)
        if sum(_as_heard(each, opinion, reader) for each in asked.candidates) >= ASKED_FROM:
            costs.setdefault(asked, cost_of_asking(asked.candidates, chance))
    if doubt is None:
        costs[Act(best, probability)] = (1 - probability) * cost_of_wrong(best)
    decision = min(costs, key=lambda decision: costs[decision])
    if isinstance(decision, Act) and not _may_be_done(best, opinion, reader):
        return AskWhich((best,), Reason.UNCONFIRMED)
    return decision


def _doubt(
    best: Command, opinion: Opinion, expectation: Expectation, reader: Reader, clear: float | None
) -> Reason | None:
    """Why the likeliest command is asked about at most; None where it may be done."""
    if clear is None:
        if opinion.doubtful and expectation(best) < CONFIRMS:
            return Reason.DOUBTED
    elif opinion.doubtful:
        return Reason.DOUBTED
    elif _as_heard(best, opinion, reader) < clear or reader(opinion.hypotheses[0].words) != best:
        return Reason.NOT_CLEAR_IN_TALK
    return None if _most_likely_said(best, opinion, reader) else Reason.UNSURE


def _may_be_done(command: Command, opinion: Opinion, reader: Reader) -> bool:
    """Whether an engine whose scores are not fitted, where one listened, heard the command too, or
    need not have.

    It can turn doing into asking, and does nothing else.
    """
    if opinion.confirmed is None or leaves_piece(command):
        return True
    return any(reader(words) == command for words in opinion.confirmed)


def _most_likely_said(command: Command, opinion: Opinion, reader: Reader) -> bool:
    """Whether the command was likelier than not before anything was expected, or some number was
    where it tells one.
    """
    if _as_heard(command, opinion, reader) >= LIKELIER_THAN_NOT:
        return True
    meant = [(reader(found.words), found.score) for found in opinion.hypotheses]
    first = next(one for one, _ in meant if one is not None)
    numbers = sum(score for one, score in meant if one is not None and tells_a_number(one))
    return tells_a_number(command) and tells_a_number(first) and numbers >= A_NUMBER


def _as_heard(command: Command, opinion: Opinion, reader: Reader) -> float:
    """How probable the command itself was, in whatever words."""
    return sum(found.score for found in opinion.hypotheses if reader(found.words) == command)
