"""Clear commands: done, and followed by what was said after them in the same breath."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import commands as c
from pattern.session.decisions import only_asks
from pattern.session.state import State
from pattern.trade.stitches import Terms
from voice.caller.pending import Then, Understood, Unsure, followed
from voice.sentences import asked_first, asked_further
from voice.words.free.clear import stitch_terms
from voice.words.free.matched import Match


def told(command: c.Command, state: State) -> Understood:
    """The result of a clear command; a stitch in terms that were not said is asked about."""
    terms = stitch_terms(command, state)
    if len(terms) == 2 and isinstance(command, c.Choose):
        return Understood(say=asked_further.which_terms(command), pending=Unsure(command))
    if terms == {Terms.UK}:
        return Understood((c.Choose("terms", Terms.UK.value), command))
    return Understood((command,))


def in_turn(both: Sequence[Match], state: State) -> Understood:
    """Things that were said in one breath, one after the other."""
    first, *after = both
    command = first.command
    assert command is not None
    if first.asks and not only_asks(state, command):
        pending = Then(command, tuple(after)) if after else command
        return Understood(say=asked_first.question(command, state), pending=pending)
    done = told(command, state)
    return followed(done, after, state) if after and done.commands else done


def asks_first(command: c.Command, state: State) -> Understood:
    """The question before a command is done, unless that only asks itself."""
    if only_asks(state, command):
        return Understood((command,))
    return Understood(say=asked_first.question(command, state), pending=command)
