"""Builds the commands of the meanings from free words."""

from __future__ import annotations

import re
from collections.abc import Callable

from pattern.session import commands as c
from pattern.session.commands import Fit
from pattern.shape.settings import Answered
from pattern.trade import names
from pattern.trade.fibres import Fibre
from pattern.trade.lengths import BALL_UNITS, WEIGHT_UNITS, Amount, Unit
from pattern.trade.stitches import STITCHES, Terms
from voice.words.free.amounts import MASK, amounts, masked
from voice.words.free.said import Build, Said


def fixed(command: c.Command) -> Build:
    """Builds this command from words without amounts."""
    return lambda said: None if said.amounts else command


def always(command: c.Command) -> Build:
    """Builds this command from any words."""
    return lambda _: command


def ask(what: c.Asked) -> Build:
    """Builds a question."""
    return always(c.Ask(what))


def decorate(what: c.Decoration) -> Build:
    """Builds the call of a decoration; a number in the words is no part of it."""
    return always(c.Decorate(what))


def measured(kind: c.Kind | None) -> Build:
    """Builds a reading of this kind from the last amount."""

    def build(said: Said) -> c.Command | None:
        amount = said.amount
        if amount is None or amount.unit in WEIGHT_UNITS | BALL_UNITS:
            return None
        brim = kind is c.Kind.ACROSS and said.state.piece.brim_rounds > 0
        return c.Measured(amount, c.Kind.BRIM if brim else kind)

    return build


def tried(fit: Fit) -> Build:
    """Builds a word of trying on; a number in it is no part of it."""
    return always(c.TriedOn(fit))


def tried_by(fit: Fit) -> Build:
    """Builds a word of trying on with its length."""
    return lambda said: c.TriedOn(fit, said.amount) if said.amount is not None else None


def answer(said: Said) -> c.Command | None:
    """The bare answer to a question."""
    return c.Answer(said.amount) if said.amount is not None else None


def along(said: Said) -> c.Command | None:
    """A reading along a number of stitches."""
    before, word, _ = said.words.partition("stitch")
    place = len(amounts(before)) if word else 0
    if re.search(rf"\b{MASK} (?:in|to|over|per|across) {MASK}\b", masked(said.words)):
        place = 1
    match said.amounts:
        case (length, stitches) if length.unit is not None or place == 2:
            pass
        case (stitches, length) if length.unit is not None or place == 1:
            pass
        case _:
            return None
    count = stitches.whole() if stitches.unit is None else None
    return c.Measured(length, c.Kind.ALONG, count) if count else None


def change(key: str) -> Build:
    """Builds a change of a setting to the last amount."""
    return lambda said: c.Change(key, said.amount) if said.amount is not None else None


def choose(key: str, value: Answered) -> Build:
    """Builds the choice of a value for a setting."""
    return always(c.Choose(key, value))


def counted(off: int) -> Build:
    """A count that is told by how much it is off from what was called, or beside that itself."""

    def build(said: Said) -> c.Command | None:
        by = said.whole if said.amounts else 1
        offered = said.state.offered
        called = offered.after if offered is not None else said.state.piece.stitches
        if by is None:
            return None
        return c.Counted(by if by > called / 2 else called + off * by)

    return build


def whole(make: Callable[[int], c.Command], alone: int | None = None) -> Build:
    """A command of one count; `alone` is the count where none was said."""

    def build(said: Said) -> c.Command | None:
        count = said.whole if said.amounts else alone
        return make(count) if count is not None else None

    return build


def sets(said: Said) -> c.Command | None:
    """A number of worked repeats."""
    if not said.amounts:
        return c.Sets(1, more=True)
    return c.Sets(said.whole) if said.whole is not None else None


def ripped_to(said: Said) -> c.Command | None:
    """Back to a round of that number, which is to be worked again."""
    number = said.whole
    out = said.state.piece.finished - number + 1 if number is not None else 0
    return c.RippedBack(out) if out > 0 else None


def from_start(said: Said) -> c.Command | None:
    """Beginning again from the ring."""
    return c.RippedBack(said.state.piece.finished) if said.state.piece.finished else None


def grams(key: str | None) -> Build:
    """Builds a weight in grams, for a setting or for the yarn left."""

    def build(said: Said) -> c.Command | None:
        amount = said.amount
        if amount is None or amount.unit not in {None, *WEIGHT_UNITS}:
            return None
        if key is None:
            return c.Weighed(amount)
        return c.Change(key, Amount(amount.value, amount.step, amount.unit or Unit.GRAM))

    return build


def yarn(said: Said) -> c.Command | None:
    """A choice of yarn, by class or name."""
    named = names.yarn_in(said.words)
    if named is not None:
        return c.Choose("yarn", named)
    asked = said.state.question in {"yarn", None}
    return c.Answer(Amount(float(said.whole))) if asked and said.whole is not None else None


def stitch(said: Said) -> c.Command | None:
    """A choice of stitch, by name."""
    terms = said.state.settings.terms
    stitch = names.stitch_in(said.words, terms)
    if stitch is None:
        return None
    name = stitch.value if terms is Terms.US else STITCHES[stitch].uk_name
    return c.Choose("stitch", name)


def one_round(said: Said) -> c.Command | None:
    """One round more of the part that is worked, or of the last one: wider by a round's height."""
    piece = said.state.piece
    height = Amount(piece.gauge.height_mm, 0.1, Unit.MM)
    return c.Adjust("brim_mm" if piece.brim_rounds else "depth_mm", height)


def fibre(said: Said) -> c.Command | None:
    """A choice of fibre, by name."""
    fibre = next((f for f in sorted(Fibre, key=len, reverse=True) if f.value in said.words), None)
    return c.Choose("fibre", fibre.value) if fibre is not None else None
