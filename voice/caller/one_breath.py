"""Commands that were said in one breath: each is read back, and what is due is asked once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from pattern.session.commands import Command, Next
from pattern.session.decisions import only_tells
from voice.caller.pending import Understood
from voice.caller.reply import Reply
from voice.sentences import due
from voice.sentences.amounts import joined


def taken(found: Understood, take: Callable[[Command], Reply]) -> Reply:
    """The reply to the commands of what was understood, one after another."""
    *first, last = found.commands
    said = [_read_back(take(command)) for command in first]
    reply = take(last)
    asks = found.pending is not None and found.say and not only_tells(last)
    said.append(_read_back(reply) if asks else reply.say)
    return replace(reply, say=joined(*said, found.say))


def _read_back(reply: Reply) -> str:
    """A reply without what is due, where more follows in the same breath; of a round that is done
    it calls the next one alone.
    """
    if isinstance(reply.command, Next) and reply.refused is None and reply.events:
        return ""
    return reply.say.removesuffix(due.now(reply.state)).rstrip()
