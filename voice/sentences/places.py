"""Where the maker is, what is left, and what comes next."""

from __future__ import annotations

import re

from pattern.forecast.looking_ahead import (
    LOOK_AHEAD,
    rounds_to_next_reading,
    turn_after_this_round,
)
from pattern.plan.brim import brim_total
from pattern.plan.next_round import rounds_left, rounds_of
from pattern.plan.piece import left_in
from pattern.plan.readings import Reading
from pattern.plan.sides import sides_left
from pattern.session.events import RoundOffered, StageStarted
from pattern.session.refusals import Refused
from pattern.session.state import RIPPED, State
from pattern.shape.part_kinds import shaping
from pattern.shape.profile import Stretch
from pattern.shape.rounds import Round, Stage
from voice.sentences import decorating, questions, readings
from voice.sentences.amounts import counted, joined
from voice.sentences.rounds import called
from voice.words.spoken_numbers import say_integer


def where(state: State) -> str:
    """The round, the set, the stage and the last reading."""
    if state.offered is None:
        return _outside(state)
    last = next(state.readings_taken(), None)
    reading = ""
    if last is not None:
        after = say_integer(last.after_round)
        reading = f"Last reading: {readings.place(last.reading, state.settings)}, round {after}."
    sets = ""
    if state.sets:
        done, all_ = say_integer(state.sets), counted(state.offered.sets, "set")
        sets = f"{done} of {all_} done."
    number = say_integer(state.offered.number)
    return joined(
        f"round {number}, the {_part(state.offered, state)}.",
        sets,
        f"{say_integer(state.piece.stitches)} stitches in the round before."
        if state.piece.finished
        else "",
        reading,
    )


def _part(offered: Round, state: State) -> str:
    """The part of the shape that a round belongs to, as its shape calls it."""
    return "ring" if offered.ring else state.piece.stretches[offered.part].called


def _outside(state: State) -> str:
    if state.stage is Stage.SETUP:
        done = counted(len(state.answered), "answer")
        return f"Setting up: {done} so far."
    if state.stage is Stage.DONE:
        return f"The {state.settings.shape.noun} is done."
    return "The rounds are done; now the finishing."


def noted(text: str, round_: int) -> str:
    """A note read back where it has only words, so that it can be spoken as it is written."""
    at = f"noted at round {say_integer(round_)}" if round_ else "noted"
    plain = re.fullmatch(r"[a-z]+(?:'[a-z]+)?(?: [a-z]+(?:'[a-z]+)?)*", text)
    return f"{at}: {text}." if plain else f"{at}."


def taken_last(state: State) -> str:
    """The last thing that was taken, which "no" would take back."""
    match state.last:
        case Reading() as reading:
            return f"I took last: {readings.place(reading, state.settings)}."
        case int(count):
            return f"I took last: {counted(count, 'stitch', 'stitches')} counted."
        case str(key) if key == RIPPED and state.undo is not None:
            rounds = state.undo.piece.finished - state.piece.finished
            return f"I took last: {counted(rounds, 'round')} ripped back."
        case str(key) if key in questions.NAMES:
            return f"I took last: {questions.answered(key, state.settings)}"
    return "I took nothing lately that a no would take back."


def how_many(state: State) -> str:
    """Sets, stitches, rounds and the way to the next reading."""
    if state.stage is Stage.SETUP:
        return _outside(state)
    return joined(stitches(state), rounds(state), next_reading(state))


def stitches(state: State) -> str:
    """Stitches of the offered round, and what is left of it."""
    offered = state.offered
    if offered is None:
        return "No round is open."
    said = f"{counted(offered.after, 'stitch', 'stitches')} in this round."
    if left := offered.sets - state.sets:
        return joined(said, f"{counted(left, 'set')} to go.")
    return said


def rounds(state: State) -> str:
    """Rounds left, with their spread."""
    left = rounds_left(state.piece, state.offered)
    if state.stage is Stage.SETUP:
        return _outside(state)
    if not left:
        return f"{counted(state.piece.finished, 'round')} in all; none is left."
    in_brim = state.offered is not None and shaping(state.offered.stage).flared
    spread = 0 if in_brim else round(sides_left(state.piece).sd)
    give = f", give or take {say_integer(spread)}" if spread else ""
    said = f"About {counted(left, 'round')} left{give}."
    brim = brim_total(state.piece)
    if brim and not in_brim:
        return joined(said, f"{counted(brim, 'round is', 'rounds are')} brim.")
    return said


def part_rounds(state: State) -> str:
    """Rounds left of the part in work, with their spread, and how to go on sooner."""
    offered, piece = state.offered, state.piece
    if offered is None:
        return rounds(state)
    stretch = piece.stretches[offered.part]
    left = max(rounds_of(piece, offered.part, piece.finished), 1)
    spread = round(left_in(piece, offered.part).sd) if stretch.shaping.hangs else 0
    give = f", give or take {say_integer(spread)}" if spread else ""
    said = f"About {counted(left, 'more round')} of the {stretch.called}{give}."
    after = piece.stretches[offered.part + 1 : offered.part + 2]
    if state.brief or not after:
        return said
    return joined(said, f"To go on sooner, say start the {_next_called(after[0])}.")


def _next_called(stretch: Stretch) -> str:
    """The next part in the words of the phrases."""
    if stretch.shaping.flared:
        return "brim"
    return "sides" if stretch.shaping.hangs else "next part"


def next_reading(state: State) -> str:
    """How far it is to the next reading, if nothing unforeseen is measured before."""
    if state.want is not None:
        return "A reading is wanted now."
    rounds = rounds_to_next_reading(state)
    if rounds is None and rounds_left(state.piece, state.offered) > LOOK_AHEAD:
        return f"No reading is due in the next {say_integer(LOOK_AHEAD)} rounds."
    if rounds is None:
        return "No more readings are planned."
    return f"The next reading is after {counted(rounds, 'round')}."


def what_next(state: State) -> str:
    """The round after the offered one, as far as is known now; of a decoration the next step."""
    if state.decorating is not None:
        return decorating.following(state)
    if state.offered is None:
        return "No round follows." if state.stage is not Stage.SETUP else "The ring comes first."
    try:
        turn = turn_after_this_round(state)
    except Refused:
        return "First yes or no to what I asked."
    for event in turn:
        if isinstance(event, RoundOffered):
            said = called(event.round, state.settings, brief=state.brief)
            return f"After this, r{said.removeprefix('R')}"
        if isinstance(event, StageStarted):
            return "After this, the finishing."
    return "After this, the same again."
