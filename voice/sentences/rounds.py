"""A round as it is called; the words mean exactly the stitches placed."""

from __future__ import annotations

from pattern.shape.rounds import Group, Repeat, Round, recipe
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, stitch_name
from voice.sentences.amounts import counted, joined
from voice.words.spoken_numbers import say_integer

_TIMES = {1: "once", 2: "twice"}
_CHANGES = {
    (False, False): "two in the next",
    (False, True): "two in one",
    (True, False): "the next two together",
    (True, True): "two together",
}
"""An increase or decrease, by (decreasing, brief)."""


def called(offered: Round, settings: Settings, brief: bool, sets: int = 0) -> str:
    """The offered round, with what is left of it where `sets` repeats are worked."""
    number = say_integer(offered.number)
    if offered.ring:
        return _ring(offered, settings, brief)
    body = _body(offered, brief)
    if 0 < sets < offered.sets:
        body = f"{body}; {counted(sets, 'set')} done, {say_integer(offered.sets - sets)} to go"
    total = say_integer(offered.after) if brief else counted(offered.after, "stitch", "stitches")
    if brief:
        return joined(f"round {number}: {body}.", f"{total}.")
    return joined(
        f"round {number}: {_opening_chain(settings)}{body}.",
        f"{total}.",
        "Join." if settings.joined else "",
    )


def _ring(offered: Round, settings: Settings, brief: bool) -> str:
    stitch = stitch_name(settings.stitch, settings.terms)
    count = say_integer(offered.after)
    if brief:
        return f"Round one: {count} {stitch} in the ring."
    end = "join with a slip stitch" if settings.joined else "do not join: mark the first stitch"
    return joined(
        f"round one: {count} {stitch} into a ring, pulled closed.",
        f"Then {end}, and count {count} stitches.",
    )


def _opening_chain(settings: Settings) -> str:
    if not settings.joined:
        return ""
    return f"chain {say_integer(STITCHES[settings.stitch].turning_chains)}, then "


def _body(offered: Round, brief: bool) -> str:
    said = recipe(offered)
    if not said.groups:
        return "plain" if brief else "plain, one in each stitch"
    if offered.after == 2 * offered.before:
        return "two in each" if brief else "two in each stitch"
    if offered.sets == 1 and not said.tail:
        return _group(said.groups[0], said.lead, offered.decreasing, brief).removesuffix(", once")
    parts = [_group(said.groups[0], said.lead, offered.decreasing, brief)]
    alike = said.groups[0].repeats[0].plain > 0
    for group in said.groups[1:]:
        whole = _group(group, said.lead, offered.decreasing, brief)
        parts.append(_like_it(group, said.lead) if alike else whole)
    if said.tail:
        parts.append(f"{_plain(said.tail, brief)} at the end")
    return "; then ".join(parts)


def _like_it(group: Group, lead: int) -> str:
    """A group that only differs from the first in its plain stitches after the change."""
    repeat = group.repeats[0]
    return f"the same with {_after(repeat.plain - lead)}, {_times(repeat.times)}"


def _after(plain: int) -> str:
    return say_integer(plain) if plain else "none"


def _group(group: Group, lead: int, decreasing: bool, brief: bool) -> str:
    if len(group.repeats) == 1:
        repeat = group.repeats[0]
        return _repeated(Repeat(repeat.plain, repeat.times * group.times), lead, decreasing, brief)
    inner = ", then ".join(_repeated(r, lead, decreasing, brief) for r in group.repeats)
    if group.times == 1:
        return inner
    return f"{inner}; all that {_times(group.times)}"


def _repeated(repeat: Repeat, lead: int, decreasing: bool, brief: bool) -> str:
    if repeat.plain == 0 and not decreasing:
        return f"two in each of the next {say_integer(repeat.times)}"
    change = _CHANGES[decreasing, brief]
    before = f"{_plain(lead, brief)}, " if lead else ""
    after = f", {_plain(repeat.plain - lead, brief)}" if repeat.plain > lead else ""
    return f"{before}{change}{after}, {_times(repeat.times)}"


def _plain(count: int, brief: bool) -> str:
    if brief:
        return f"{say_integer(count)} plain"
    return "one in the next" if count == 1 else f"one in each of the next {say_integer(count)}"


def _times(times: int) -> str:
    return _TIMES.get(times) or f"{say_integer(times)} times"
