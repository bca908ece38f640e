"""The one decision about an utterance: act on it, ask about it, or stay silent. Pure."""

from __future__ import annotations

from dataclasses import replace

from pattern.session.commands import Answer, Command, Measured, No, Resume
from voice.hearing.attention import (
    CLEAR_AFTER_CALL,
    Attention,
    Called,
    Step,
    called_by,
    meant,
    other_talk,
    phrase_heard,
)
from voice.hearing.continuation import more_within_s, with_more
from voice.hearing.disambiguation import picked
from voice.hearing.evidence import Action, Context, Evidence, Reader, Reason, Verdict
from voice.hearing.expectation import Act, AskWhich, choose, clear_amid_talk
from voice.hearing.free_wording import freely, worth_writing
from voice.hearing.utterance_part import Part
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.words.phrases import read


def verdict(evidence: Evidence, context: Context) -> Verdict:
    """Decide on an utterance, with the reason.

    Where more of it is to be waited for, the verdict is the one on its beginning.
    """
    found = _of_words(evidence, context)
    if evidence.before is not None:
        found = with_more(evidence.before, found)
    if more_s := more_within_s(found, evidence):
        return replace(found, more_s=more_s)
    found = replace(found, more_s=0.0)
    if found.action is Action.SILENT or not evidence.part.complete:
        found = _passed_over(found, evidence, context)
        if not worth_writing(found, evidence, context):
            return found
        if evidence.texts is None:
            return replace(found, wants_text=True)
        found = freely(found, evidence, context)
    if evidence.part is Part.REST and _number_alone(found):
        found = _asked_as_reading(found)
    return _settled(found, context.asked) if context.asked else found


def _of_words(evidence: Evidence, context: Context) -> Verdict:
    """The verdict from the words that may have been said, and from nothing else.

    Amid talk only what is clear is done. So it is where the attention words are needed, unless they
    clearly came first; where they did, less is clear enough: it is meant for the program.
    """
    opinion, called, wary = evidence.opinion, Called.NOT, evidence.amid_talk
    if attention := context.attention:
        called, opinion = called_by(opinion, attention), meant(opinion, attention)
        wary = wary or (attention.needed and called is not Called.YES)
    clear = CLEAR_AFTER_CALL if called is Called.YES else clear_amid_talk(opinion)
    decision = choose(opinion, context.expectation, context.reader, clear if wary else None)
    action, commands = Action.SILENT, tuple[Command, ...]()
    match decision:
        case Act(command):
            action, commands = Action.ACT, (command,)
        case AskWhich(candidates):
            action, commands = Action.ASK, candidates
    offered = tuple(_words_of(each, opinion, context.reader) for each in commands)
    first = commands[0] if commands else None
    return Verdict(
        offered[0].words if offered else "",
        first,
        action,
        decision.reason,
        offered[0].score if offered else 0.0,
        offered if action is Action.ASK else opinion.hypotheses,
        opinion.engine,
        evidence.seconds,
        commands if action is Action.ASK else (),
        first,
        called,
        evidence.unfinished,
    )


def _words_of(command: Command, opinion: Opinion, reader: Reader) -> Hypothesis:
    return next(found for found in opinion.hypotheses if reader(found.words) == command)


def _passed_over(found: Verdict, evidence: Evidence, context: Context) -> Verdict:
    """Nothing is done and nothing is asked.

    While the piece is paused only what may end the pause is missed, and under what the program has
    to say to its end nothing is.
    """
    if context.insists:
        reason = Reason.TALKED_OVER
    elif context.paused and not _may_resume(found):
        reason = Reason.PAUSED
    elif _left_out(evidence, context):
        reason = Reason.LEFT_OUT
    elif not evidence.part.complete:
        reason = Reason.CUT_OFF
    elif found.called is Called.ONLY:
        reason = Reason.CALL_ALONE
    elif context.attention and context.attention.needed and found.called is Called.NOT:
        reason = Reason.NOT_CALLED
    else:
        reason = found.reason
    return replace(
        found,
        text="",
        command=None,
        action=Action.SILENT,
        reason=reason,
        candidates=(),
    )


def _may_resume(found: Verdict) -> bool:
    return any(isinstance(read(each.words), Resume) for each in found.alternatives)


def _left_out(evidence: Evidence, context: Context) -> bool:
    """Whether it is a clear phrase without the attention words, though they are needed."""
    if evidence.without_call is None:
        return False
    clear = clear_amid_talk(evidence.without_call)
    decision = choose(evidence.without_call, context.expectation, context.reader, clear)
    return isinstance(decision, Act)


def _number_alone(found: Verdict) -> bool:
    """Whether some of what may have been said is a number alone that is taken for a reading."""
    words = [each.words for each in found.alternatives] if found.candidates else [found.text]
    return any(
        isinstance(command, Measured) and isinstance(read(each), Answer)
        for each, command in zip(words, found.candidates or (found.command,), strict=True)
    )


def _asked_as_reading(found: Verdict) -> Verdict:
    """Asked about as the reading that it would be, since it may have been the end of a count."""
    if found.action is Action.ASK or found.command is None:
        return replace(found, reason=Reason.BARE_REST)
    return replace(
        found,
        action=Action.ASK,
        reason=Reason.BARE_REST,
        alternatives=(Hypothesis(found.text, found.score),),
        candidates=(found.command,),
    )


def _settled(found: Verdict, asked: tuple[Command, ...]) -> Verdict:
    """The verdict while it is asked which of some commands was said."""
    if found.command is None:
        return found
    if (command := picked(asked, found.command)) is not None:
        return replace(
            found, command=command, action=Action.ACT, reason=Reason.PICKED, candidates=()
        )
    if isinstance(found.command, No):
        return replace(
            found, command=None, action=Action.SILENT, reason=Reason.NEITHER, candidates=()
        )
    return found


def attention_after(attention: Attention, found: Verdict, now_s: float) -> Step:
    """The attention after an utterance; one that was no phrase was said to somebody else.

    What is asked about freely may have been, too: it doesn't show that the maker spoke before.
    """
    if found.reason is Reason.FREE_CHANGE:
        return attention, None
    if found.action is not Action.SILENT or found.reason is Reason.NEITHER:
        return phrase_heard(attention), None
    if found.called is not Called.NOT or found.reason is Reason.LEFT_OUT:
        return attention, None
    return other_talk(attention, now_s)
