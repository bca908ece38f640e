"""Costs of what is done about an utterance.

They are in seconds of the maker's time, by judgement and not by measurement; only their ratios
matter. A command that changes the piece is done from a probability of about 0.8 on.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from pattern.session.commands import (
    Answer,
    Ask,
    Choose,
    Command,
    Decorate,
    HeadOf,
    Help,
    RemindAfter,
    Rests,
    Signal,
    Speak,
    Wording,
)

WRONG_CHANGE_S = 25.0
"""A command taken that was not given: hear it in the reply, undo, say it again. Of 15, 25, 40 and
60 the one taken after a look at the tuning half of `tests.bench hear`."""
WRONG_ANSWER_S = 12.0
"""An answer to a question that was not asked, or another way to speak: listen to it, ask again; the
piece is as it was. An answer of the interview costs as much: it is read back, and "no" with the
right one mends it."""
_MILD = (Ask, Help, Answer, Choose, HeadOf, Wording, Speak, Signal, Rests, RemindAfter, Decorate)
QUESTION_S = 5.0
"""A question of ours: hear the two readings, say which."""
MISS_S = 6.0
"""No reaction to a command: wait for one, say it again."""
INTRUSION_S = 15.0
"""A question of ours into talk that was not for us."""


def cost_of_wrong(command: Command) -> float:
    """Cost of a command that is done and was not given."""
    return WRONG_ANSWER_S if isinstance(command, _MILD) else WRONG_CHANGE_S


def cost_of_asking(candidates: Sequence[Command], chance: Mapping[Command, float]) -> float:
    """A right answer costs the question; a phrase left out is missed as well."""
    offered = sum(chance[command] for command in candidates)
    phrases = sum(chance.values())
    intrusion = INTRUSION_S * max(0.0, 1.0 - phrases)
    return QUESTION_S * phrases + MISS_S * (phrases - offered) + intrusion
