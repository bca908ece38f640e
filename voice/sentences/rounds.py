"""A round as it is called; the words mean exactly the stitches placed."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.repeats import Group, Recipe, Repeat, recipe
from pattern.shape.rounds import Round
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, chain_counts, stitch_name
from voice.sentences.amounts import counted, joined
from voice.words.spoken_numbers import say_integer

IN_FULL = 16
"""Words that a round may have for its plain stitches to be said in full, "one in each of the next
five"; a longer one has "five plain". No source: what is held in the ear until it is worked."""


def called(offered: Round, settings: Settings, *, brief: bool, sets: int = 0) -> str:
    """The offered round, with what is left of it where `sets` repeats are worked."""
    number = say_integer(offered.number)
    if offered.ring:
        return _ring(offered, settings, brief=brief)
    body = _body(offered, brief=brief)
    if 0 < sets < offered.sets:
        body = f"{body}; {counted(sets, 'set')} done, {say_integer(offered.sets - sets)} to go"
    total = say_integer(offered.after) if brief else counted(offered.after, "stitch", "stitches")
    if brief:
        return joined(f"round {number}: {body}.", f"{total}.")
    return joined(
        f"round {number}: {_opening_chain(settings, whole=body)}.",
        _join_or_mark(offered.number, settings),
        f"{total}.",
    )


def _ring(offered: Round, settings: Settings, *, brief: bool) -> str:
    stitch = stitch_name(settings.stitch, settings.terms)
    count = say_integer(offered.after)
    counts = settings.joined and chain_counts(settings.stitch, settings.terms)
    chain = f"chain {_chains(settings)}, then " if settings.joined else ""
    worked = say_integer(offered.after - counts)
    if brief:
        return f"Round one: {chain}{worked} {stitch} in the ring."
    end, chain_is = "do not join: mark the first stitch", ""
    if settings.joined:
        chain_is = f"In every round, {CHAIN_COUNTS[counts]}."
        end = f"join with a slip stitch in the {'top of the chain' if counts else 'first stitch'}"
    return joined(
        f"round one: {chain}{worked} {stitch} into a ring, pulled closed.",
        chain_is,
        f"Then {end}, and count {count} stitches.",
    )


CHAIN_COUNTS = {
    True: "the chain counts as the first stitch",
    False: "the chain doesn't count as a stitch",
}
"""How the chain of a joined round counts, see chain_counts."""


def _opening_chain(settings: Settings, whole: str) -> str:
    """The `whole` round after its chain, which is one of its stitches where it counts."""
    if not settings.joined:
        return whole
    if chain_counts(settings.stitch, settings.terms):
        return f"chain {_chains(settings)}, as the first of these: {whole}"
    return f"chain {_chains(settings)}, then {whole}"


def _chains(settings: Settings) -> str:
    return say_integer(STITCHES[settings.stitch].turning_chains)


def _join_or_mark(number: int, settings: Settings) -> str:
    """How a round ends; the marker is told of once, where it is moved first."""
    if settings.joined:
        return "Join."
    return "Move the marker up to its first stitch." if number == 2 else ""


def _body(offered: Round, *, brief: bool) -> str:
    """The stitches of the round; plain ones are said in full where that is short."""
    if not offered.places:
        return "plain" if brief else "every stitch plain"
    if offered.after == 2 * offered.before:
        return "two in each" if brief else "two in each stitch"
    full = _said(offered, _Full(offered.decreasing))
    if not brief and len(full.split()) <= IN_FULL:
        return full
    return _said(offered, (_Brief if brief else _Short)(offered.decreasing))


@dataclass(frozen=True, slots=True)
class _Full:
    """How stitches are said."""

    decreasing: bool

    @property
    def change(self) -> str:
        return "the next two together" if self.decreasing else "two in the next"

    @property
    def to_end(self) -> str:
        return "one in each stitch to the end"

    def plain(self, count: int) -> str:
        return "one in the next" if count == 1 else f"one in each of the next {say_integer(count)}"

    def last(self, count: int) -> str:
        return "one in the last" if count == 1 else f"one in each of the last {say_integer(count)}"


@dataclass(frozen=True, slots=True)
class _Short(_Full):
    """The same where a round has much to say."""

    def plain(self, count: int) -> str:
        return f"{say_integer(count)} plain"

    def last(self, count: int) -> str:
        return f"the last {say_integer(count)} plain"


@dataclass(frozen=True, slots=True)
class _Brief(_Short):
    """The same for who wants few words."""

    @property
    def change(self) -> str:
        return "two together" if self.decreasing else "two in one"

    @property
    def to_end(self) -> str:
        return "plain to the end"


def _said(offered: Round, words: _Full) -> str:
    said = recipe(offered)
    if offered.sets == 1:
        return _alone(said, words)
    groups = "; then ".join(_group(group, said.lead, words) for group in said.groups)
    if not said.tail:
        return groups
    long = said.tail > said.groups[-1].repeats[-1].plain + 1
    return f"{groups}; {words.to_end if long else words.last(said.tail)}"


def _alone(said: Recipe, words: _Full) -> str:
    """The only increase of a round."""
    before = f"{words.plain(said.lead)}, " if said.lead else ""
    more = said.groups[0].repeats[0].plain - said.lead
    return f"{before}{words.change}" + (f", {words.to_end}" if more else "")


def _group(group: Group, lead: int, words: _Full) -> str:
    if len(group.repeats) == 1:
        repeat = group.repeats[0]
        return _repeated(Repeat(repeat.plain, repeat.times * group.times), lead, words)
    inner = ", then ".join(_repeated(repeat, lead, words) for repeat in group.repeats)
    return f"{inner}; all that {_times(group.times)}"


def _repeated(repeat: Repeat, lead: int, words: _Full) -> str:
    if repeat.plain == 0 and not words.decreasing and repeat.times > 1:
        return f"two in each of the next {say_integer(repeat.times)}"
    before = f"{words.plain(lead)}, " if lead else ""
    after = f", {words.plain(repeat.plain - lead)}" if repeat.plain > lead else ""
    times = f", {_times(repeat.times)}" if repeat.times > 1 else ""
    return f"{before}{words.change}{after}{times}"


def _times(times: int) -> str:
    return "twice" if times == 2 else f"{say_integer(times)} times"
