"""Phrases of measuring by touch: a string, fingers, the hand."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.session.commands import Fit, Kind, OwnUnit
from pattern.trade.lengths import Amount
from voice.words.phrases.row import Group, Phrase, Slots, fixed

_WIDE = "(fingers | finger)"


def _string(unit: OwnUnit | None, *, too_long: bool) -> Callable[[Slots], c.Command]:
    slot = "length" if unit is None else "number"
    return lambda slots: c.StringOff(slots[slot], too_long, unit)


def _own(unit: OwnUnit) -> Callable[[Slots], c.Command]:
    return lambda slots: c.OwnWidth(unit, slots["length"])


def _by(kind: Kind, fit: Fit | None) -> Callable[[Slots], c.Command]:
    return lambda slots: c.ByHand(kind, slots["number"], fit=fit)


ROWS: tuple[Phrase, ...] = (
    *(
        Phrase(Group.READING, "touch", f"how much too {way} a string cut to the head is", forms, to)
        for way, too_long in (("long", True), ("short", False))
        for forms, to in (
            (
                (f"[the] string is <number> {_WIDE} too {way}",),
                _string(OwnUnit.FINGER, too_long=too_long),
            ),
            ((f"[the] string is <length> too {way}",), _string(None, too_long=too_long)),
            (
                (f"[the] string is a finger too {way}",),
                fixed(c.StringOff(Amount(1.0), too_long, OwnUnit.FINGER)),
            ),
        )
    ),
    Phrase(
        Group.READING,
        "touch",
        "the string goes just around the edge",
        ("[the] string (fits | meets)", "[the] string is just right"),
        fixed(c.StringOff(Amount(0.0), too_long=True, unit=OwnUnit.FINGER)),
    ),
    Phrase(
        Group.ALWAYS,
        "touch",
        "how wide your finger is, so that you can tell lengths in fingers",
        ("my finger is <length> [wide]",),
        _own(OwnUnit.FINGER),
    ),
    Phrase(
        Group.ALWAYS,
        "touch",
        "how wide your thumb is",
        ("my thumb is <length> [wide]",),
        _own(OwnUnit.THUMB),
    ),
    Phrase(
        Group.ALWAYS,
        "touch",
        "how wide your hand is",
        ("my hand is <length> [wide]",),
        _own(OwnUnit.HAND),
    ),
    *(
        Phrase(Group.READING, "touch", help_, (form,), _by(kind, fit))
        for kind, fit, help_, form in (
            (Kind.ACROSS, None, "across the crown in fingers", f"<number> {_WIDE} across"),
            (Kind.DEPTH, None, "the depth in fingers", f"<number> {_WIDE} deep"),
            (Kind.BRIM, None, "the brim in fingers", f"brim <number> {_WIDE} [wide]"),
            (
                Kind.EDGE,
                Fit.SHORT_BY,
                "how much it still has to come down",
                f"<number> {_WIDE} more",
            ),
            (
                Kind.EDGE,
                Fit.DEEP_BY,
                "how much too far down it comes",
                f"<number> {_WIDE} too deep",
            ),
        )
    ),
)
"""Phrases of touch."""
