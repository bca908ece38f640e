"""Several sizes by ear: what each needs, and only where they differ."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.writeup.many_sizes import Size, for_head, size_of, sizes_of
from voice.sentences.amounts import counted, joined, length, with_unit
from voice.words.spoken_numbers import say_integer

_METRES = 5
"""Yarn is told to so many metres."""
ONE = "There is one size. Say, also write it for a head, and how big it is."


def compared(state: State) -> str:
    """The needs of each size, smallest first, without those that are the same for all."""
    shape, sizes = state.settings.shape, sizes_of(state)
    if not shape.for_head:
        return f"A {shape.name} has one size; change it by its width."
    if len(sizes) < 2:
        return ONE
    facts = [_facts(size) for size in sizes]
    differ = [n for n, same in enumerate(zip(*facts, strict=True)) if len(set(same)) > 1]
    lines = [
        _line(size, [fact[n] for n in differ], state)
        for size, fact in zip(sizes, facts, strict=True)
    ]
    return joined(*lines)


def chosen(before: State, after: State) -> str:
    """The head that was added, with what it needs; or that there is one size again."""
    if not after.other_heads_mm:
        return "One size."
    (head_mm,) = set(after.other_heads_mm) - set(before.other_heads_mm)
    makes = f"That makes {say_integer(len(after.other_heads_mm) + 1)} sizes."
    if after.stage is Stage.SETUP:  # what it needs is not known yet
        return joined(f"{with_unit(head_mm, after.settings, 8)}, too.", makes)
    size = size_of(for_head(after, head_mm))
    return joined(_line(size, _facts(size), after), makes)


def _line(size: Size, facts: Sequence[str], state: State) -> str:
    needs = "; ".join(fact for fact in facts if fact)
    return f"{with_unit(size.head_mm, state.settings, 8)}: {needs or 'the same'}."


def _facts(size: Size) -> list[str]:
    """The facts told of a size, in the same order for all."""
    settings = size.state.settings
    facts = []
    for number, part in enumerate(settings.shape.parts):
        rounds = [one for one in size.rounds if one.part == number]
        said = f"{part.called} {counted(len(rounds), 'round')}" if rounds else ""
        if rounds and not number:
            said += f", {counted(rounds[-1].after, 'stitch', 'stitches')}"
        facts.append(said)
    if "depth_mm" in settings.shape.asked:
        facts.append(f"{length(settings.depth, settings, 8)} deep")
    metres = max(round(size.need.metres.mean / _METRES), 1) * _METRES
    facts.append(f"{say_integer(metres)} metres of yarn")
    return facts
