"""Does every piece end, and how long do its plan and its longest reply take? Random ones."""

from __future__ import annotations

import argparse
import time
from random import Random
from typing import NamedTuple

from pattern.forecast.rest_of_piece import rounds_ahead
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_planned
from tests.any_call import Call, begun, worked
from tests.any_plan import any_answers
from voice.sentences import yarn

PLAN_S, REPLY_S = 10.0, 2.0
"""Figures to reach; our choice."""
MANY = 2000
"""Pieces of more rounds than this are planned but not called through: no hands make them."""


class Ended(NamedTuple):
    """One piece, and how long it took."""

    seed: int
    rounds: int
    plan_s: float
    reply_s: float
    called: int
    """Rounds of the call; 0 where it was not called through."""


def ended(seed: int) -> Ended:
    """One piece, planned, written up, asked for its yarn, and called through to its end."""
    rng = Random(seed)
    state = begun(any_answers(rng))
    start = time.perf_counter()
    rounds = len(rounds_ahead(state))
    as_text(as_planned(state, "x"))
    plan_s = time.perf_counter() - start
    start = time.perf_counter()
    yarn.needed(state)
    reply_s = time.perf_counter() - start
    if rounds > MANY:
        return Ended(seed, rounds, plan_s, reply_s, 0)
    call = worked(Call(rng, state))
    return Ended(
        seed, rounds, plan_s, max(reply_s, call.longest_reply_s), call.state.piece.finished
    )


def run(argv: list[str]) -> int:
    """Prints the longest; returns 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench ends")
    parser.add_argument("--pieces", type=int, default=600)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(argv)
    first = options.seed * 10**6
    all_ = [ended(first + at) for at in range(options.pieces)]
    print(f"{len(all_)} random pieces within the limits, seed {options.seed}: all end")
    slow, late = max(all_, key=lambda one: one.plan_s), max(all_, key=lambda one: one.reply_s)
    called = [one for one in all_ if one.called]
    print(
        f"most rounds {max(one.rounds for one in all_)}; called through {len(called)}, "
        f"of up to {max((one.called for one in called), default=0)} rounds"
    )
    print(
        f"longest plan {slow.plan_s:.2f} s ({slow.rounds} rounds, piece {slow.seed}), "
        f"at most {PLAN_S:g} s"
    )
    print(
        f"longest reply {late.reply_s:.2f} s ({late.rounds} rounds, piece {late.seed}), "
        f"at most {REPLY_S:g} s"
    )
    return 0 if slow.plan_s <= PLAN_S and late.reply_s <= REPLY_S else 1
