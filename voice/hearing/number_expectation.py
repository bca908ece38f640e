"""How likely numbers are in a session: an answer, a reading, a count, what the scales say; and
the scale of weights.

Weights are ratios to a phrase about which nothing is known.
"""

from __future__ import annotations

import math

from pattern.plan.readings import expected, reading_of
from pattern.session.commands import Command, Kind
from pattern.session.decide_yarn import on_hand
from pattern.session.state import State
from pattern.shape.limits import LIMITS, Limits
from pattern.shape.reading_kinds import BY_TAPE
from pattern.shape.settings import DEFAULT_HEAD_MM
from pattern.trade.lengths import TAPE_UNITS, Amount, Unit, grams

ANSWER = 40.0
"""An answer to the open question of the interview, or yes and no to a doubt: nearly all that is
said then is one, and there are few; so they are this much likelier than one phrase among all.
Worked out, not fitted: some four fifths shared by 8 to 40 answers, against the thousand numbers and
phrases that the grammar has."""
PREDICTED = 25.0
"""A reading that is asked for, where it is predicted; in the same way."""
OPEN = 8.0
"""An answer to the question that is open."""
USUAL = 4.0
"""Weight of words that are said most in the work."""
RARE = 0.3
"""Weight of words that are said a few times in a hat, or do not fit the stage."""
NEVER = 0.03
"""Weight of words that cannot be right as far as the session knows; still possible, as it may be
mistaken."""
FAR = 0.2
"""A reading or a count far from what was predicted: said clearly it is to be heard, as the session
itself asks before it believes it. Judgement, after a look at two such commands in a bench room."""
REFUSED = 0.02
"""Weight of words that the session would only refuse: it does nothing but say why, and is taken
only where it was heard clearly. Judgement: from about 0.98 on it is."""
ASIDE = 0.5
"""In the interview, an answer to another question than the open one. Of 0.1, 0.5 and 1 taken after
a look at tuning voices: of 210 phrases 2 more are heard than with 0.1, and none with 1."""
_EASE_MM = 100.0
"""Hats are made up to 5 cm smaller than the head (common practice, no source): within two spreads.
"""
_USUAL_SPREAD = 0.3
"""Answers lie about the usual one by this share of it, or of the room that its limits leave."""
_ADJUSTED_MM = 50.0
"""Part of a hat is changed by about so much or less; judgement, no source."""
_SPREAD = 3.0
"""A prediction is believed with this many times its standard deviation: hats are not all alike."""


def ends_in_zero(command: Command) -> bool:
    """Whether a number was said to a tenth, with a zero at its end: few read "ten point oh"."""
    amount = getattr(command, "amount", None)
    if not isinstance(amount, Amount) or amount.step not in (0.1, 0.01):
        return False
    return round(amount.value / amount.step) % 10 == 0


def answer_weight(state: State, key: str, amount: Amount) -> float:
    """High near the usual answer; all that the question allows stays possible."""
    if (limits := LIMITS.get(key)) is None:
        return ASIDE
    value = amount.mm(_unit_of(state, limits, amount)) if limits.tape else amount.value
    usual = {
        "head_mm": DEFAULT_HEAD_MM,
        "hook_mm": state.settings.hook,
        "ease_mm": 0.0,
        "depth_mm": state.settings.depth,
        "brim_mm": state.settings.brim,
        "start": float(state.settings.increases),
    }.get(key)
    if usual is None:
        return ANSWER
    room = _EASE_MM if key == "ease_mm" else 25.0 if limits.tape else 1.0
    off = (value - usual) / (_USUAL_SPREAD * max(abs(usual), room))
    return max(1.0, ANSWER * math.exp(-off * off / 2))


def _unit_of(state: State, limits: Limits, amount: Amount) -> Unit:
    """The unit that a bare length tells by its size where none is known yet; else the maker's."""
    units = (state.settings.unit, Unit.CM, Unit.MM)
    known = amount.unit is not None or "unit" in state.answered
    fits = (unit for unit in units if limits.hold(amount.mm(unit)))
    return units[0] if known else next(fits, units[0])


def adjustment_weight(state: State, amount: Amount) -> float:
    """Hats are made a little deeper or wider, hardly ever by a hand's breadth."""
    off = amount.mm(amount.unit or state.settings.unit) / _ADJUSTED_MM
    return max(NEVER, math.exp(-off * off / 2))


def kind_asked(state: State) -> Kind | None:
    """The measurement that is asked for, or None."""
    return state.want.kind if state.want is not None else None


def reading_weight(state: State, amount: Amount, kind: Kind | None, stitches: int | None) -> float:
    """High near the predicted value: its density against that of any length being as likely."""
    if kind is None or kind is Kind.LOOK or state.piece.finished == 0:
        return 1.0
    kind = BY_TAPE.get(kind, kind)
    unit = amount.unit or state.settings.unit
    if unit not in TAPE_UNITS:
        return NEVER
    value_mm, step_mm = amount.mm(unit), amount.step_mm(unit)
    wanted = state.want.stitches if state.want is not None and kind is state.want.kind else None
    reading = reading_of(state.piece, kind, value_mm, step_mm, 0.0, stitches=stitches or wanted)
    hoped = expected(state.piece, reading)
    off = (value_mm - hoped.mean) / (_SPREAD * max(hoped.sd, 1e-6))
    base = PREDICTED if kind_asked(state) is kind else 1.0
    return max(FAR, base * math.exp(-off * off / 2))


def yarn_left_weight(state: State, amount: Amount) -> float:
    """High near the yarn that should be left; kitchen scales show whole grams."""
    hoped = on_hand(state)
    if hoped is None:
        return RARE
    off = (grams(amount) - hoped.mean) / (_SPREAD * max(hoped.sd, 1.0))
    return max(NEVER, math.exp(-off * off / 2))


def count_weight(state: State, count: int) -> float:
    """The count the round should have is likeliest; a slip of a few stitches is not rare."""
    if state.piece.finished == 0:
        return RARE
    return max(FAR, OPEN * 0.5 ** abs(count - state.piece.stitches))


def sets_weight(state: State, count: int) -> float:
    """Repeats beyond those of the round cannot be; nor fewer than were said before."""
    if state.offered is None:
        return RARE
    return USUAL if max(state.sets, 1) <= count <= state.offered.sets else NEVER
