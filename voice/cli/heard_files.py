"""Decides on the sound of files, each file a room of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from pattern.plan.readings import Want
from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.hearing.attention import Attention, Switch, waited
from voice.hearing.evidence import Action, Context, Expectation, Reader, Verdict
from voice.hearing.listening import Hearing
from voice.hearing.narrowing import groups_now
from voice.hearing.number_expectation import OPEN
from voice.hearing.session_expectation import reader_in
from voice.hearing.verdict import attention_after, verdict
from voice.rehearsal.cutting import utterances
from voice.sound.ports import Samples
from voice.words.phrases import Group, read

ALONG_STITCHES = 10
"""Stitches that a length along the edge is read over, where that is asked."""


def decide(
    hearing: Hearing,
    blocks: Iterable[Samples],
    context: Context,
    tell: Callable[[Switch, float], None] = lambda _switch, _at_s: None,
) -> tuple[Verdict, ...]:
    """Decisions on a sound, at least one; a long sound is cut at its pauses.

    `tell` is called where the attention words come to be needed, or no more, at so many seconds.
    """
    attention = context.attention or Attention()
    first, found = None, []
    for segment in utterances(iter(blocks)):
        attention, quiet = waited(attention, segment.start_s)
        context = replace(context, attention=attention)
        evidence = hearing.listen(segment.samples, context, amid_talk=segment.amid_talk)
        what = verdict(evidence, context)
        attention, talks = attention_after(attention, what, segment.end_s)
        for switch, at_s in ((quiet, segment.start_s), (talks, segment.end_s)):
            if switch is not None:
                tell(switch, at_s)
        first = first or what
        if what.action is not Action.SILENT:
            found.append(what)
    assert first is not None
    return tuple(found) or (first,)


def context_for(stage: str | None = None, asks: str | None = None) -> Context:
    """The context of an utterance at a stage, while something is asked."""
    groups = groups_now(State(stage=Stage(stage))) if stage else frozenset(Group)
    return Context(_expectation(asks), groups, _reader(asks))


def _reader(asks: str | None) -> Reader:
    """Reads a bare number as the answer to what is asked."""
    if asks in set(c.Kind):
        stitches = ALONG_STITCHES if asks == c.Kind.ALONG else None
        return reader_in(State(stage=Stage.CROWN, want=Want(c.Kind(asks), stitches)))

    def read_here(words: str) -> c.Command | None:
        match command := read(words):
            case c.Answer(amount) if asks == "count" and (count := amount.whole()) is not None:
                return c.Counted(count)
        return command

    return read_here


def _expectation(asks: str | None) -> Expectation:
    """An answer to what is asked is likelier than anything else."""

    def weight(command: c.Command) -> float:
        match command:
            case c.Measured(_, kind, _) if kind is not None and kind.value == asks:
                return OPEN
            case c.Counted() if asks == "count":
                return OPEN
            case c.Lies() if asks == "look":
                return OPEN
            case c.Answer() | c.Choose() | c.HeadOf() if asks == "setup":
                return OPEN
        return 1.0

    return weight
