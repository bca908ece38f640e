"""Short wordings at the work that are clear as a whole, and what each means.

Words: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.part_kinds import SHAPING, Shaping
from pattern.shape.rounds import Stage
from pattern.trade.fibres import Fibre
from pattern.trade.techniques import Technique
from voice.words import spoken_numbers
from voice.words.free.builders import one_round
from voice.words.free.matched import Match
from voice.words.free.said import Said
from voice.words.free.short_answers import CANCEL
from voice.words.free.wanted import Number, Wanted


def at_work(words: str, state: State) -> Match | Wanted | None:
    """The meaning of plain words of the work; None for any others."""
    for pattern, build in _AT_WORK:
        if found := re.fullmatch(pattern, words):
            return build(found, state)
    return None


def _back_to(found: re.Match[str], state: State) -> Match | None:
    """Back to a round, which is worked again; the round in work is only called again."""
    number = spoken_numbers.read_integer(found["number"])
    if number is None:
        return None
    out = state.piece.finished - number + 1
    if out == 0:
        return Match(c.Ask(c.Asked.WHERE))
    return Match(c.RippedBack(out), asks=0 < out <= state.piece.finished)


def _round_done(found: re.Match[str], state: State) -> Match | None:
    """The round is done, where it is the one in work; of any other only the place is told."""
    number = spoken_numbers.read_integer(found["number"])
    if number is None or state.offered is None:
        return None
    return Match(c.Next() if number == state.offered.number else c.Ask(c.Asked.WHERE))


def _cancel(_found: re.Match[str], state: State) -> Match:
    open_ = state.doubt is not None or state.want is not None
    return Match(c.Skip()) if open_ else Match(c.Undo(), asks=state.undo is not None)


def _over(_found: re.Match[str], state: State) -> Match | None:
    worked = state.piece.finished
    return Match(c.RippedBack(worked), asks=True) if worked else Match(c.Ask(c.Asked.WHERE))


def _one_more(_found: re.Match[str], state: State) -> Match | None:
    """One round more: at once where it was just offered, after the last round of a brim."""
    finishing = state.stage is Stage.FINISHING
    if state.step or not (finishing or SHAPING.get(state.stage, Shaping()).goes_on):
        return None
    command = one_round(Said("", "", (), state))
    offered = finishing and state.piece.brim_rounds > 0
    return Match(command, asks=not offered) if command is not None else None


def _finish_here(_found: re.Match[str], state: State) -> Match | None:
    """The hat ends with its brim."""
    return Match(c.FinishNow(), asks=True) if state.piece.brim_rounds else None


def _fibre(found: re.Match[str], _state: State) -> Match:
    return Match(c.Choose("fibre", found["fibre"]))


_DONE = r"(?:(?:all|just|already|now) )*(?:done|did|finished|worked|made|completed|complete)"
_ROUND = (
    r"(?:that|it|this|that one|this one"
    r"|(?:the|that|this|my|the whole|this whole|that whole) rounds?)"
)
_NOW = r"(?: (?:now|too|as well|already|then))*"
_FIBRES = "|".join(fibre.value for fibre in Fibre if fibre is not Fibre.MIXED)
_AT_WORK: tuple[tuple[str, Callable[[re.Match[str], State], Match | Wanted | None]], ...] = (
    (
        rf"(?:that is |i am |i have |i )*(?:me )?(?:{_DONE})"
        rf"(?: (?:with )?{_ROUND}{_NOW}(?: (?:so |and )?what is (?:next|after|after that|coming"
        r" next))?"
        r"| (?:so |and )?what is (?:after|after that|coming next|coming))",
        lambda _found, _state: Match(c.Next()),
    ),
    (
        rf"(?:(?:i have |have )?(?:got|gotten) {_ROUND} (?:all )?(?:{_DONE}|out of the way)"
        rf"|(?:that is |there is )?(?:{_ROUND}|another one|another round) (?:is |has been )?"
        rf"(?:all )?(?:{_DONE})){_NOW}",
        lambda _found, _state: Match(c.Next()),
    ),
    (
        r"(?:that is |i am |i have |me )*(?:finished|done|completed|worked)(?: with)? "
        r"(?:round|row) (?P<number>\w+)(?: now)?",
        _round_done,
    ),
    (
        r"(?:that is )?(?:round|row) (?P<number>\w+) (?:is )?"
        r"(?:finished|done|complete|completed|worked)(?: now)?",
        _round_done,
    ),
    (
        r"(?:(?:that |this |the )?(?:round|row|one) (?:is )?|that is |all )?(?:done|finished)"
        r" (?:(?:and|so) )?(?:the )?"
        r"(?:same again|another the same|next one|on to the next(?: one)?)"
        r"(?: (?:i suppose|i guess|then|please|now))*",
        lambda _found, _state: Match(c.Next()),
    ),
    (
        r"(?:(?:let us|can we|i want to|i will|please) )*(?:stop|end|finish)(?: (?:the|my|this))?"
        r" (?:brim|hat|it)(?: right)? (?:here|now|there)(?: please| then)?",
        _finish_here,
    ),
    (
        r"(?:how come|why)(?: \w+){0,4} (?:not )?(?:want me to |have to |need to )?join"
        r"(?: \w+){0,4}",
        lambda _found, _state: Match(c.Explain(Technique.END_SPIRAL)),
    ),
    (
        r"(?:i want to )?(?:go |jump |take me )?(?:back )?to round (?:number )?(?P<number>.+)",
        _back_to,
    ),
    (
        r"(?:i )?(?:have |just |have just |am |will be )*"
        r"(?:swap(?:ped)?|changed?|changing|switch(?:ed)?|gone|going|went|moved|go|use|using"
        r"|used|took|taken|picked up|got)(?: (?:to|up|down|for|over|with|on|onto|out))*"
        r" (?:a |an |the |my )?(?:size )?(?:bigger|smaller|larger|different|another|new|other"
        r"|thicker|thinner|wider|finer)(?: size)? (?:crochet )?hook"
        r"(?: now| instead| since| here)*",
        lambda _found, _state: Wanted(Number.HOOK),
    ),
    (
        r"(?:i )?(?:have |just |am |now )*(?:changed?|changing|switch(?:ed)?|using|use|gone|took"
        r"|taken|joined|got)(?: (?:to|over|on|in|up|for))* (?:a |some |the )?(?:thicker|thinner"
        r"|different|another|new|other|finer|heavier|lighter|bulkier)(?: kind of| sort of)?"
        r" (?:yarn|wool|cotton)(?: now| instead| here| from here on)*",
        lambda _found, _state: Match(c.Explain(Technique.YARN_CLASS)),
    ),
    (
        r"(?:it is |that is |the yarn is |made of |just |a |real |pure |proper |plain |all "
        r"|hundred percent |one hundred percent |100 )*"
        rf"(?P<fibre>{_FIBRES})(?: yarn| i think| mostly)*",
        _fibre,
    ),
    (
        r"(?:stop |sorry |right |okay )*(?:i )?(?:(?:have )?got to|have to|need to|must)"
        r" (?:go|drive|run|dash|leave|be off|head off)(?: now| out)?"
        r"(?: (?:i will be )?back later)?",
        lambda _found, _state: Match(c.Leave()),
    ),
    (
        r"(?:(?:can|could|will|would) )?(?:you )?(?:please )?speak up(?: a (?:bit|little))?"
        r"(?: please)?",
        lambda _found, _state: Match(c.Speak(c.Manner.LOUDER)),
    ),
    (CANCEL, _cancel),
    (
        r"(?:.{1,60} )?(?:can|could|may|shall) (?:i|we) (?:just |still )?"
        r"(?:carry on|go on|keep going|continue|crack on)"
        r"(?: (?:without(?: it| that| measuring)?|anyway|first|now|then|please))*",
        lambda _found, state: Match(c.Skip() if state.want else c.Ask(c.Asked.AGAIN)),
    ),
    (
        r"(?:(?:the|my) tapes?(?: measure)? (?:is |has |have )?(?:gone|missing|lost|vanished|walked"
        r"|disappeared)|i (?:have lost|have mislaid|can not find|could not find|have not got) "
        r"(?:the|my|a) tape(?: measure)?)(?: (?:missing|off|again|now|anywhere|today|here))*",
        lambda _found, _state: Match(c.TapeThere(there=False), asks=True),
    ),
    (
        r"(?:(?:can|could|may|shall) (?:i|we|you) |i (?:want|would like) to |let us )"
        r"(?:make|do|start|begin|have) (?:another|one more|a second)(?: one| hat)?"
        r"(?: (?!round)\w+){0,6}",
        lambda _found, _state: Match(c.Another(), asks=True),
    ),
    (r"start (?:all )?over(?: again)?|start again from the (?:beginning|start)", _over),
    (
        r"(?:do|work|add) (?:a|one|another|one more) (?:round|row)(?: more)?"
        r"|(?:just )?(?:one more|another) (?:round|row)",
        _one_more,
    ),
    (
        r"what did i (?:just |last )?(?:tell|say to) you(?: last| just now)?",
        lambda _found, _state: Match(c.Ask(c.Asked.TOLD)),
    ),
)
"""Wordings at the work, and what each means."""
