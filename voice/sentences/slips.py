"""A count within a round: right, or where the slip lies and how it is mended."""

from __future__ import annotations

from pattern.plan.slips import Found, found, made_after, stitches_in_set
from pattern.session.commands import CountedIn
from pattern.session.state import State
from pattern.shape.rounds import Round
from voice.sentences.amounts import counted, joined
from voice.words.spoken_numbers import say_integer


def answer(state: State, command: CountedIn) -> str:
    """The result of a count within the round in work."""
    round_ = state.offered
    if round_ is None:
        return "No round is open."
    slip = found(round_, command.count, command.sets)
    left = round_.after - command.count
    to_go = f"{say_integer(left)} to go." if left > 0 else ""
    if not round_.sets:
        return joined(f"{say_integer(command.count)} of {_stitches(round_.after)}.", to_go)
    if command.sets is None:
        return joined(_place(slip), to_go)
    if not slip.over:
        right = f"{say_integer(command.count)} after {counted(slip.sets, 'set')}: that is right."
        return joined(right)
    way = "too many" if slip.over > 0 else "short"
    said = f"{say_integer(abs(slip.over))} {way}: it should be {say_integer(slip.expected)}."
    if slip.likelier is not None:
        return joined(
            said,
            f"{counted(slip.likelier, 'set has', 'sets have')} just that many: "
            f"look whether you are there, then say {counted(slip.likelier, 'set')}.",
        )
    return joined(said, _where(round_, slip), _mend(round_, slip))


def _place(slip: Found) -> str:
    """Where in the round so many stitches end."""
    if not slip.sets:
        return f"That is {_stitches(slip.over)} into the first set."
    said = counted(slip.sets, "set")
    more = f" and {_stitches(slip.over)}" if slip.over else ""
    return f"That is {said}{more}."


def _where(round_: Round, slip: Found) -> str:
    size = stitches_in_set(round_)
    each = f"each set has {_stitches(size)}" if size else "count each set"
    if slip.check is None:
        return f"Look at the last set first: {each}."
    made = say_integer(made_after(round_, slip.check))
    return (
        f"Look at the last set first: {each}; or count back to the marker: "
        f"{say_integer(slip.check)} sets have {made}."
    )


def _mend(round_: Round, slip: Found) -> str:
    if not slip.mendable:
        return f"That is too much to mend: rip the {counted(slip.sets, 'set')} back to the marker."
    change = "decrease" if round_.decreasing else "increase"
    more = (slip.over < 0) is not round_.decreasing
    many = f"{say_integer(abs(slip.over))} {'more' if more else 'fewer'} {change}"
    return f"Or make {many}{'s' * (abs(slip.over) > 1)} in this round."


def _stitches(count: int) -> str:
    return counted(count, "stitch", "stitches")
