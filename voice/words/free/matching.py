"""Decides on free wording: do it, ask first, or say what would be understood here. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.decide_decorating import steps
from pattern.session.decisions import decide, leaves_piece
from pattern.session.events import QuestionAnswered
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.words.free.amounts import amounts
from voice.words.free.candidates import Candidate, pooled
from voice.words.free.denied import contradicts
from voice.words.free.matched import Match
from voice.words.free.meanings import MEANINGS
from voice.words.free.said import Said
from voice.words.free.spellings import said_plainly
from voice.words.free.weights import NOTHING, Weights, learnt

SURE = 0.4
"""Chance from which a meaning is taken, or asked about where it changes the piece. Of 0.3, 0.4 and
0.5 taken after a look at `tests/wordings/looked_at.txt`: of 675 wordings 4.6, 4.9 and 5.5 % are not
understood, and 1.5, 1.2 and 1.0 % answered as another question."""
LEAST = 0.2
"""Chance below which nothing is taken, however much less likely all else is: words that were never
met in learning, such as "blah", leave every meaning so unlikely. See `bench words`."""
SURE_REFUSED = 0.6
"""Chance from which it is told why a meaning makes no sense here."""
ANSWERS = 3.0
"""So many times as likely is what answers the open question."""
NEAR = 0.08
"""Chance from which a meaning is named as near."""
_SHARED = frozenset(
    noun for noun, many in Counter(one.noun for one in MEANINGS.values()).items() if many > 1
)
"""Nouns of several meanings: they do not tell which of them a yes would be to."""
LOOKED_AT = 12
"""Likeliest meanings that are looked at; of the others none is ever right (see `bench words`)."""


@dataclass(frozen=True, slots=True)
class _Weighed:
    """All that a wording may mean, against everything else."""

    found: Sequence[Candidate]
    nothing: float
    """Chance that it was said to somebody else, or is denied, doubted or supposed in it."""
    likeliest: str
    """The likeliest meaning, whether it makes a command here or not, and its chance."""

    @property
    def fits(self) -> list[Candidate]:
        """Those that make sense here."""
        return [one for one in self.found if not one.refused]

    @property
    def whole(self) -> float:
        """Chance of all that fits here, and that it was said to somebody else."""
        return self.nothing + sum(one.chance for one in self.fits)

    def chance(self, one: Candidate) -> float:
        """Chance of a meaning against the whole; one of less than `LEAST` is never sure."""
        return one.chance / max(self.whole, LEAST / SURE)


def match(text: str, state: State, asked: c.Command | None = None) -> Match:
    """Match a wording that no phrase of the table holds, where the session is now.

    `asked` is what free wording was taken for and is asked about: then yes and no fit.
    """
    weighed = _weighed(text, state, asked)
    if weighed is None:
        return Match(None, reason="no words")
    best = max(weighed.fits, key=lambda one: one.chance, default=None)
    if best is not None and weighed.chance(best) >= SURE and best.chance >= weighed.nothing:
        return _matched(best, weighed, state, asked)
    top = max(weighed.found, key=lambda one: one.chance, default=None)
    if top is not None and top.refused and top.chance >= SURE_REFUSED:
        return Match(top.command, reason=f"{top.name} {top.chance:.2f}, refused here")
    near = [one for one in weighed.fits if one.chance >= NEAR * weighed.whole]
    named = [MEANINGS[one.name].noun for one in near]
    nouns = tuple(dict.fromkeys(noun for noun in named if noun))[:2]
    only = near[0].command if len(nouns) == 1 and named[0] == nouns[0] else None
    if only is not None and (near[0].chance < weighed.nothing or nouns[0] in _SHARED):
        only = None  # likelier said to somebody else, as a yes may be; or more than its noun tells
    return Match(None, near=nouns, nearest=only, reason=weighed.likeliest)


def matches(
    text: str, state: State, asked: c.Command | None = None, weights: Weights | None = None
) -> tuple[Match, ...]:
    """Everything that a wording may mean here, sure or not, and what it surely means and is refused
    here; `weights` may be others than usual.
    """
    weighed = _weighed(text, state, asked, weights)
    if weighed is None:
        return ()
    refused = (one for one in weighed.found if one.refused and one.chance >= SURE_REFUSED)
    return (
        *(_matched(one, weighed, state, asked) for one in weighed.fits),
        *(Match(one.command, chance=one.chance, refused=True) for one in refused),
    )


def _weighed(
    text: str, state: State, asked: c.Command | None, weights: Weights | None = None
) -> _Weighed | None:
    words = said_plainly(text)
    if not words:
        return None
    said = Said(text, words, amounts(words), state)
    chances = (weights or learnt()).chances(text)
    likeliest = sorted(chances, key=chances.__getitem__, reverse=True)[:LOOKED_AT]
    every = [one for name in likeliest if (one := _candidate(name, chances[name], said, asked))]
    found = [one for one in every if not contradicts(words, one.command)]
    nothing = chances[NOTHING] + sum(one.chance for one in every) - sum(one.chance for one in found)
    return _Weighed(pooled(found), nothing, f"{likeliest[0]} {chances[likeliest[0]]:.2f}")


def _matched(one: Candidate, weighed: _Weighed, state: State, asked: c.Command | None) -> Match:
    asks = changes_piece(one.command, state) and not _answers(one.command, state, asked)
    asks = asks or (state.paused and isinstance(one.command, c.Resume | c.GoOn))
    chance = weighed.chance(one)
    expected = one.answers or answers_what_is_open(one.command, state)
    reason = f"{one.name} {chance:.2f}"
    return Match(one.command, asks, reason=reason, chance=chance, expected=expected, turn=one.turn)


def _answers(command: c.Command, state: State, asked: c.Command | None) -> bool:
    """Whether a command answers a question that stands, so that it need not be asked about."""
    doubt = state.doubt
    if doubt is not None and doubt.reading is not None and isinstance(command, c.Answer):
        return True
    return (asked is not None or doubt is not None) and isinstance(command, c.Yes | c.No)


def answers_what_is_open(command: c.Command, state: State) -> bool:
    """Whether a command answers a doubt, or tells the reading that is wanted."""
    if state.doubt is not None:
        return isinstance(command, c.Yes | c.No | c.Answer)
    if state.want is None:
        return False
    return isinstance(command, c.Answer | c.Measured | c.Counted | c.Lies | c.Skip)


def changes_piece(command: c.Command, state: State) -> bool:
    """Whether a command changes the piece; before its first stitch there is none."""
    return state.stage is not Stage.SETUP and not (steps(state, command) or leaves_piece(command))


def _candidate(name: str, chance: float, said: Said, asked: c.Command | None) -> Candidate | None:
    """A meaning with its command, and whether the session refuses it; None for no command."""
    meaning = MEANINGS.get(name)
    command = meaning.build(said) if meaning is not None else None
    if command is None:
        return None
    if asked is not None and isinstance(command, c.Yes | c.No):
        return Candidate(name, chance, command, ())
    try:
        turn = decide(said.state, command)
    except Refused:
        return Candidate(name, chance, command, None)
    key = said.state.question
    answers = any(isinstance(event, QuestionAnswered) and event.key == key for event in turn)
    answers = key is not None and answers
    return Candidate(name, chance * (ANSWERS if answers else 1.0), command, turn, answers)
