"""The context of an utterance, from the state of the piece and what is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from pattern.session.commands import Answer, Command, Counted, CountedIn, LostAt, No, Yes
from pattern.session.state import State
from voice.hearing.attention import Attention
from voice.hearing.evidence import Context, Expectation
from voice.hearing.narrowing import groups_now
from voice.hearing.number_expectation import ANSWER, OPEN, RARE
from voice.hearing.session_expectation import expectation_of, reader_in
from voice.words.free.spoken import match_spoken
from voice.words.phrases import Group


def context_of(
    state: State,
    asked: tuple[Command, ...] = (),
    attention: Attention | None = None,
    *,
    insists: bool = False,
    now_s: float = 0.0,
) -> Context:
    """All that an utterance falls into in this state, while it is asked which of `asked` was said.

    `insists` is as in `Context`; `now_s` is on the clock of the attention.
    """
    expectation, groups = expectation_of(state), groups_now(state)
    if asked:
        expectation, groups = answer_to(asked, expectation), groups | {Group.CONFIRM}
    return Context(
        expectation,
        groups,
        reader_in(state, asked),
        attention,
        asked,
        state.paused,
        insists,
        partial(match_spoken, state=state, asked=asked[0] if asked else None),
        attention.others(now_s) if attention else 0,
    )


def wanting_number(context: Context) -> Context:
    """The same while a number is asked for that leads out of a mishap: it may be said alone."""

    def weight(command: Command) -> float:
        alone = isinstance(command, Answer | Counted | LostAt | CountedIn)
        return ANSWER if alone else context.expectation(command)

    return replace(context, expectation=weight, groups=context.groups | {Group.ANSWER})


def answer_to(asked: Sequence[Command], otherwise: Expectation) -> Expectation:
    """The weights while it is asked which of some commands was said."""

    def weight(command: Command) -> float:
        return (
            OPEN
            if isinstance(command, Yes | No) or command in asked
            else (RARE * otherwise(command))
        )

    return weight
