"""Whole calls by hands whose stitch is another than planned, who measure when they like."""

from __future__ import annotations

import math
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from random import Random
from typing import Any

from pattern.plan.next_round import most_rounds
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Command, Kind, Look
from pattern.session.decisions import decide
from pattern.session.folding import fold, unfolding
from pattern.session.next_offer import WORKING, offered_after
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from voice.sentences.reply import reply
from voice.words import phrases

READINGS = 12
"""Readings, looks and counts in a call at the most."""
_OFTEN = 0.2
_STRETCH, _READ_MM = 0.3, 4.0


def begun(answers: Mapping[str, Any]) -> State:
    """A piece at its ring, with these answers."""
    given = (e.QuestionAnswered(key, value) for key, value in answers.items())
    return offered_after(unfolding(State(), e.Begun(), *given, e.SetupDone())).after


@dataclass
class Call:
    """A call in work; `most` is the last round that there may be, worked out at each reading."""

    rng: Random
    state: State
    most: int = 0
    readings: int = 0
    longest_reply_s: float = 0.0
    _width: float = field(init=False)
    _height: float = field(init=False)

    def __post_init__(self) -> None:
        """Draws the hands."""
        gauge = self.state.piece.gauge
        self._width = gauge.width_mm * math.exp(self.rng.uniform(-_STRETCH, _STRETCH))
        self._height = gauge.height_mm * math.exp(self.rng.uniform(-_STRETCH, _STRETCH))
        self.most = most_rounds(self.state.piece)

    def step(self) -> None:
        """One turn: a reading that is asked for or not, else "next"."""
        told = self.readings < READINGS and self._tells()
        command = self._reading() if told else None
        if command is None or not self._say(command):
            aside = self.state.doubt is not None or self.state.want is not None
            typed = phrases.read("skip" if aside else "next")
            assert typed is not None
            assert self._say(typed)

    @property
    def ended(self) -> bool:
        """Whether no round is called any more."""
        return self.state.stage not in WORKING

    def _tells(self) -> bool:
        return self.state.want is not None or self.rng.random() < _OFTEN

    def _reading(self) -> Command | None:
        piece, want = self.state.piece, self.state.want
        if self.state.doubt is not None:
            return c.Yes()
        if want is not None and want.kind is Kind.LOOK:
            return c.Lies(self.rng.choice(list(Look)))
        if piece.finished < 3:
            return None
        if self.rng.random() < 0.1:
            return c.Counted(piece.stitches + self.rng.choice((-2, -1, 1, 2)))
        kind = want.kind if want else self.rng.choice((Kind.AROUND, Kind.DEPTH, Kind.ACROSS))
        depth = (piece.finished - piece.brim_rounds) * self._height
        true_mm = {
            Kind.AROUND: piece.stitches * self._width,
            Kind.DEPTH: depth,
            Kind.ALONG: (want.stitches or 1) * self._width if want else 0.0,
            Kind.BRIM: piece.brim_rounds * self._height,
        }.get(kind, 2 * depth)
        read_mm = max(round(true_mm + self.rng.uniform(-_READ_MM, _READ_MM)), 1)
        along = want.stitches if want else None
        return c.Measured(Amount(float(read_mm), 1.0, Unit.MM), kind, along)

    def _say(self, command: Command) -> bool:
        """Whether the session took the command; its reply is put in words."""
        started, before = time.perf_counter(), self.state
        try:
            turn = decide(before, command)
        except Refused:
            return False
        self.state = fold(before, turn)
        assert reply(before, command, turn, self.state) or command != c.Next()
        self.longest_reply_s = max(self.longest_reply_s, time.perf_counter() - started)
        if not isinstance(command, c.Next | c.Skip):
            self.readings += 1
            self.most = self.state.piece.finished + most_rounds(self.state.piece)
        return True


def at_most(state: State) -> float:
    """Rounds that a piece may have by its lengths, as real numbers; to leave out the longest."""
    lengths_mm = sum(stretch.part.length_mm for stretch in state.piece.stretches)
    return math.ceil(lengths_mm / state.piece.gauge.height_mm)


def worked(call: Call) -> Call:
    """The call at its end. Raises: AssertionError where it goes on for longer than it may."""
    while not call.ended:
        call.step()
        piece = call.state.piece
        assert piece.finished <= call.most, f"round {piece.finished} of at most {call.most}"
        assert call.state.stage is not Stage.SETUP
    return call
