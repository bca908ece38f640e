"""Short wordings that are clear as a whole, where the session is now.

They are read by rule rather than by likeness. Words: common practice, no source.
"""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.rounds import Stage
from pattern.trade import names
from pattern.trade.stitches import Terms
from pattern.trade.techniques import Technique
from voice.words.free.another_wearer import another_wearer
from voice.words.free.answers_by_name import name_in_answer, wearer_in
from voice.words.free.asked_now import asked_now
from voice.words.free.at_finishing import at_finishing
from voice.words.free.at_work import at_work
from voice.words.free.by_touch import by_touch
from voice.words.free.counts_off import as_called, instead_of
from voice.words.free.denied import denies
from voice.words.free.fit_changes import fit_change
from voice.words.free.in_steps import in_steps
from voice.words.free.lying_asked import asks_how_it_lies
from voice.words.free.matched import Match
from voice.words.free.mishaps import mishap
from voice.words.free.on_the_head import on_the_head
from voice.words.free.part_balls import part_of_ball
from voice.words.free.part_ends import part_ends
from voice.words.free.pausing import interrupts
from voice.words.free.rounds_told import rounds_told
from voice.words.free.sits_well import sits_well
from voice.words.free.size_words import size_in, wished_depth
from voice.words.free.so_far import so_far
from voice.words.free.spellings import said_plainly
from voice.words.free.stitch_asked import asks_for_stitch
from voice.words.free.stop_after import stop_after
from voice.words.free.to_begin import to_begin
from voice.words.free.to_others import to_others
from voice.words.free.told_counts import told_count
from voice.words.free.told_enough import told_enough
from voice.words.free.vague_changes import (
    another_unit,
    brim_again,
    brim_of,
    vague_change,
    wanted_depth,
    wanted_size,
)
from voice.words.free.wanted import Wanted
from voice.words.free.weights import NOTHING
from voice.words.free.yarn_asked import yarn_told_and_asked

SHORT_WORDS = 10
"""Words of an answer in which a name alone counts; our choice."""
LONG_WORDS = 20
"""Words of an answer that may tell whose head it is; our choice."""


def clear(text: str, state: State) -> Match | Wanted | None:
    """The meaning of a wording by rule, or the number that it lacks; None for any other.

    A match without a command is that of words that were said to somebody else.
    """
    words = re.sub(r"^(?:(?:okay|um|uh|er|well|right|and) )+(?=.)", "", said_plainly(text))
    if to_others(words):
        return Match(None, reason=NOTHING)
    if state.paused:
        return None
    if (step := in_steps(words, state)) is not None:
        return Match(step)
    if interrupts(words):
        return Match(c.Pause())
    if asks_for_stitch(words):
        return Match(c.Explain(Technique.STITCH))
    if state.stage is Stage.SETUP:
        return _answer(words, state)
    if denies(words):
        return Match(c.Ask(c.Asked.AGAIN))
    if (touched := by_touch(words, state)) is not None:
        return touched
    for tells in (told_enough, part_ends, sits_well, at_finishing):
        if (told := tells(words, state)) is not None:
            return told
    if (tried := on_the_head(words, state)) is not None:
        return Match(tried, asks=True)
    if (weighed := yarn_told_and_asked(words, state)) is not None:
        return Match(weighed, asks=True)
    if (asked := _asked(text, words, state)) is not None:
        return Match(asked)
    if (head := another_wearer(words, state)) is not None:
        return head
    if (change := _change(words, state)) is not None:
        return Match(change, asks=True)
    if (rounds := rounds_told(words, state)) is not None:
        return rounds
    return _counted(words, state) or mishap(words, state) or at_work(words, state)


def _change(words: str, state: State) -> c.Command | None:
    """A change of the plan."""
    return (
        stop_after(words, state)
        or brim_of(words)
        or brim_again(words, state)
        or another_unit(words)
        or vague_change(words, state)
        or wanted_size(words)
        or wanted_depth(words, state)
        or fit_change(words, state)
        or wished_depth(words, state)
    )


def _counted(words: str, state: State) -> Match | Wanted | None:
    """Yarn that is left, or stitches that were counted."""
    if (yarn := part_of_ball(words, state)) is not None:
        return Match(yarn, asks=isinstance(yarn, c.Weighed))
    if (counted := told_count(words, state)) is not None:
        return counted
    count = so_far(words, state) or instead_of(words, state) or as_called(words, state)
    return None if count is None else Match(count, asks=isinstance(count, c.Counted))


_DONE = r"\b(?:done|finished|marker|worked|that is it|end of the round)\b"
"""Words that tell more than a question does: the round is done."""


def _asked(text: str, words: str, state: State) -> c.Command | None:
    """The question about this moment in the words, or in a clause of a longer text: its last one
    before the others.
    """
    if (asked := asked_now(words, state)) is not None:
        return asked
    if asks_how_it_lies(words) and state.doubt is None:
        return c.Explain(Technique.NORMAL)
    *before, last = re.split(r"[,.;:!] ", text.rstrip("?!. "))
    if not before or re.search(_DONE, said_plainly(" ".join(before))):
        return None
    clauses = (asked_now(said_plainly(clause), state) for clause in (last, *before))
    return next((asked for asked in clauses if asked is not None), None)


_STARTS = r"\b(?:begin|get going|get started|crack on|make a start|us start)\b"
"""Words that ask to begin before every question is answered."""
_SAFE = r"\b(?:safe|safely|safety|danger|dangerous|choke|choking|sleep|asleep|cot|bed)\b"
"""Words of a question about a child, which is no answer of whose head it is."""


def _answer(words: str, state: State) -> Match | Wanted | None:
    """An answer of the interview by the name or the size in it, or a yes to its last question."""
    if state.question == BEGIN and (found := to_begin(words)) is not None:
        return Match(found)
    if re.search(_STARTS, words) and isinstance(to_begin(words), c.Begin):
        return Match(c.Begin(), asks=True)
    size = (
        brim_of(words)
        or brim_again(words, state)
        or wanted_depth(words, state)
        or vague_change(words, state)
        or fit_change(words, state)
        or size_in(words, state)
    )
    if size is not None:
        return Match(size)
    if (asks := asked_now(words, state)) == c.Ask(c.Asked.AGAIN):
        return Match(asks)
    if re.search(_SAFE, words):
        return None
    if len(words.split()) <= SHORT_WORDS:
        return name_in_answer(words, state)
    return wearer_in(words, state) if len(words.split()) <= LONG_WORDS else None


def stitch_terms(command: c.Command | None, state: State) -> frozenset[Terms]:
    """The terms in which a stitch is called as it was named, before it was said which terms are
    meant; none for any other command.
    """
    if not isinstance(command, c.Choose) or command.key != "stitch":
        return frozenset()
    if state.stage is not Stage.SETUP or "terms" in state.answered:
        return frozenset()
    return names.terms_of(str(command.value).removesuffix(" crochet"))
