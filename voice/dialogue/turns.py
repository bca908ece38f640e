"""Whose turn it is to speak: pure, as the session is; what happens goes in, what to do comes out.

`echo_gate` tells what the program's own speech does to what it hears. Times are seconds of the
loop's clock.
"""

from __future__ import annotations

import math
from dataclasses import replace

from pattern.session import commands as c
from voice.dialogue import echo
from voice.dialogue.moves import (
    AskWhich,
    FallSilent,
    Move,
    Remind,
    Repeat,
    Sign,
    Take,
    TellAttention,
    TellTrouble,
)
from voice.dialogue.trouble import Trouble
from voice.dialogue.turn_state import Manners, Turns
from voice.hearing.attention import Called, Switch, waited
from voice.hearing.evidence import Action, Reason, Verdict
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import attention_after
from voice.sound.earcons import Earcon

ANSWER_S = 30.0
"""An answer to a question of the program's own comes within this, by judgement, no source: a "yes"
much later is not for it."""
REPEATS_AFTER_S = 0.8
"""A sentence that was cut off by a sound is said again when nothing else was heard for so long."""
HEARD_OUT = 2
"""A sentence that was cut off so often is said to its end, unless a phrase is heard."""
MISSES_TOLD = 2
"""So many utterances in a row that were not caught, and the maker is told what is wrong."""


Step = tuple[Turns, tuple[Move, ...]]


def maker_speaks(turns: Turns, manners: Manners, now_s: float) -> Step:
    """Someone speaks: it is not quiet, and the program gives way where it may be talked over."""
    turns = replace(turns, quiet_since_s=now_s)
    if turns.speaking and manners.talk_over and turns.insists < HEARD_OUT:
        return replace(
            turns, speaking=False, silent_since_s=now_s, cut=turns.cut or not turns.signed
        ), (FallSilent(),)
    return turns, ()


def heard(
    turns: Turns,
    what: Verdict,
    manners: Manners,
    now_s: float,
    part: Part = Part.WHOLE,
    *,
    level: Trouble | None = None,
    amid_talk: bool = False,
) -> Step:
    """There is a verdict on an utterance that was heard out.

    `level` is what is wrong with its sound. It may have come out of talk of others.
    """
    turns = replace(turns, quiet_since_s=now_s, uncaught_s=-math.inf)
    uncaught = what.action is Action.SILENT and what.reason is not Reason.NEITHER
    if uncaught and part.complete and not amid_talk and not turns.attention.needed:
        turns = replace(turns, uncaught_s=now_s)
    if what.reason in {Reason.TALKED_OVER, Reason.PAUSED}:
        return turns, ()
    if level is None and amid_talk and len(turns.attention.others_s) > turns.misses:
        level = Trouble.TALK
    if part is Part.TAIL and not turns.signed:
        level = Trouble.EARLY
    turns, moves = _moves(turns, what, manners, part, level)
    answers = any(not isinstance(move, Sign) for move in moves)
    if manners.talk_over and turns.speaking and answers:
        return replace(turns, speaking=False, silent_since_s=now_s), (FallSilent(), *moves)
    return turns, moves


def _moves(
    turns: Turns, what: Verdict, manners: Manners, part: Part, level: Trouble | None
) -> Step:
    """The step that the verdict leads to, after all that was missed before it."""
    attention, switch = attention_after(turns.attention, what, turns.quiet_since_s)
    turns = replace(turns, attention=attention)
    if what.reason is Reason.LEFT_OUT or switch is not None:
        misses = 0 if switch is not None else turns.misses
        return replace(turns, misses=misses), (TellAttention(switch or Switch.LEFT_OUT),)
    if what.reason is Reason.NEITHER:  # the words are wanted once more
        return _missed(replace(turns, asked=(), reminded=False), manners, level)
    if what.action is Action.ASK:
        return _ask(turns, what, level)
    if what.command is None:
        # talk that was not for the program leaves no trace; something close to a phrase does
        near = bool(what.alternatives) and not attention.needed
        if what.called is Called.NOT and not near:
            return turns, ()
        return _missed(turns, manners, level, again=part is Part.TAIL and turns.signed)
    take = Take(what.command, what.text, freely=what.reason is Reason.FREE)
    missed = turns.misses > 0
    turns = replace(turns, asked=(), misses=0, reminded=False)
    return turns, (Sign(Earcon.HEARD, manners.signs), take) if missed else (take,)


def _ask(turns: Turns, what: Verdict, level: Trouble | None) -> Step:
    """Ask which was said; where the last question led to no answer, and to trouble, say that."""
    misses = turns.misses + bool(turns.asked)
    if misses >= MISSES_TOLD:
        return _told(replace(turns, asked=()), level)
    return replace(turns, asked=what.candidates, misses=misses), (AskWhich(what),)


def asking(turns: Turns, command: c.Command | None) -> Turns:
    """A reply ended by asking whether a command was meant, where one is given."""
    return turns if command is None else replace(turns, asked=(command,))


def _missed(turns: Turns, manners: Manners, level: Trouble | None, *, again: bool = False) -> Step:
    """The maker was not caught: a sign, and when it goes on, what is wrong.

    What was begun under the sign is the same miss `again`: the maker had not ended.
    """
    turns = replace(turns, misses=max(turns.misses + (not again), 1))
    if turns.misses >= MISSES_TOLD:
        return _told(turns, level)
    return turns, (_not_caught(manners),)


def _told(turns: Turns, level: Trouble | None) -> Step:
    """Say what is wrong: the sound, or talk of others besides what was missed, or the words."""
    return replace(turns, misses=0), (TellTrouble(level or Trouble.NO_PHRASE),)


def _not_caught(manners: Manners) -> Sign:
    return Sign(Earcon.NOT_CAUGHT, manners.signs)


def ticked(
    turns: Turns, manners: Manners, now_s: float, *, wanted: bool, maker_speaks: bool = False
) -> Step:
    """Time passes; silence is fine, but a reading that is wanted is asked for once more.

    A question that was not answered is over then, and after `ANSWER_S`. Nothing is told while
    something is heard that may be the maker.
    """
    silent_s = now_s - turns.silent_since_s
    turns = replace(turns, echo=echo.settled(turns.echo, silent_s))
    if turns.asked and not turns.speaking and silent_s >= ANSWER_S:
        turns = replace(turns, asked=())
    if maker_speaks:
        return turns, ()
    if turns.cut and now_s - turns.quiet_since_s >= REPEATS_AFTER_S:
        return replace(turns, cut=False), (Repeat(),)
    attention, switch = waited(turns.attention, now_s)
    if switch is not None:
        return replace(turns, attention=attention), (TellAttention(switch),)
    quiet_s = now_s - turns.quiet_since_s
    due = wanted and not turns.speaking and not turns.reminded and manners.remind_s > 0
    if due and quiet_s >= manners.remind_s:
        sign = Sign(Earcon.READING_WANTED, manners.signs)
        return replace(turns, asked=(), reminded=True, quiet_since_s=now_s), (sign, Remind())
    return turns, ()
