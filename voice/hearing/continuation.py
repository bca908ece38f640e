"""Whether an utterance was heard to its end, or more is to be waited for."""

from __future__ import annotations

from voice.hearing.attention import Called
from voice.hearing.evidence import Action, Evidence, Verdict
from voice.words.numbers_told import tells_a_number

AFTER_NUMBER_S = 0.6
"""Twice the pause that ends an utterance in quiet, by judgement: "eight" may be followed by "and a
half", and a half left out would be believed."""
AFTER_CALL_S, AMID_TALK_S, AFTER_WORD_S = 1.5, 1.5, 0.9
"""By judgement; the last is twice the pause that ends an utterance amid talk, and for phrases of
one word, which are said most and go on least. With 1.5 s, and not 0.9 after what may go on and 0
after what was not clear, of 144 addressed phrases of tuning voices over talk 10 dB weaker 139 and
not 137 were right and 2 and not 3 taken for another; over talk 5 dB weaker 120 and not 116, and 7
and not 11. Of 96 not addressed 86 and not 85 were right; 65 and not 62, and 1 and not 4 wrong."""


def more_within_s(found: Verdict, evidence: Evidence) -> float:
    """For how long after its last speech more is to be waited for; 0 where an utterance is whole.

    The maker may pause after the attention words, and within a number; and amid talk what seems a
    pause may be the faint end of more: of a phrase that may go on, or of one that was not clear.
    """
    if evidence.waited or not evidence.part.complete:
        return 0.0
    if found.called is Called.ONLY:
        return AFTER_CALL_S
    if not evidence.amid_talk:
        number = found.command is not None and tells_a_number(found.command)
        return AFTER_NUMBER_S if found.unfinished and number else 0.0
    unclear = found.action is Action.ASK or (
        found.action is Action.SILENT and found.called is Called.YES
    )
    if unclear or (found.unfinished and " " in found.text):
        return AMID_TALK_S
    return AFTER_WORD_S if found.unfinished else 0.0


def with_more(before: Verdict, now: Verdict) -> Verdict:
    """The verdict on an utterance that sounded on: that, if it went on from what was clear.

    Otherwise what sounded on was no more of it, and what was clear before stays so, unless the
    whole is heard more clearly yet as something else; or as nothing, which is let pass (of 48
    commands of tuning voices over talk 5 dB weaker one would be taken for another).
    """
    if before.action is not Action.ACT or now.action is Action.SILENT:
        return now
    if now.text.startswith(f"{before.text} "):
        return now
    clearer = now.action is Action.ACT and now.score > before.score
    return now if clearer else before
