"""Whether an utterance was heard to its end, or more is to be waited for."""

from __future__ import annotations

from voice.hearing.attention import Called
from voice.hearing.expectation import tells_a_number
from voice.hearing.listening import Action, Heard
from voice.hearing.utterance_part import Part
from voice.sound.endpoint import Segment

AFTER_NUMBER_S = 0.6
"""Twice the pause that ends an utterance in quiet, by judgement: "eight" may be followed by "and a
half", and a half left out would be believed."""
AFTER_CALL_S, AMID_TALK_S, AFTER_WORD_S = 1.5, 1.5, 0.9
"""By judgement; the last is twice the pause that ends an utterance amid talk, and for phrases of
one word, which are said most and go on least. With 1.5 s, and not 0.9 after what may go on and 0
after what was not clear, of 144 addressed phrases of tuning voices over talk 10 dB weaker 139 and
not 137 were right and 2 and not 3 taken for another; over talk 5 dB weaker 120 and not 116, and 7
and not 11. Of 96 not addressed 86 and not 85 were right; 65 and not 62, and 1 and not 4 wrong."""


_SAME_S = 0.05
"""Utterances that begin no further apart are one."""


def more_within_s(what: Heard, segment: Segment, part: Part) -> float:
    """For how long after its last speech more is to be waited for; 0 where an utterance is whole.

    The maker may pause after the attention words, and within a number; and amid talk what seems a
    pause may be the faint end of more: of a phrase that may go on, or of one that was not clear.
    What was `waited` for is whole.
    """
    if segment.waited or not part.complete:
        return 0.0
    if what.called is Called.ONLY:
        return AFTER_CALL_S
    if not segment.amid_talk:
        number = what.command is not None and tells_a_number(what.command)
        return AFTER_NUMBER_S if what.unfinished and number else 0.0
    unclear = what.action is Action.ASK or (
        what.action is Action.SILENT and what.called is Called.YES
    )
    if unclear or (what.unfinished and " " in what.text):
        return AMID_TALK_S
    return AFTER_WORD_S if what.unfinished else 0.0


class Whole:
    """Hears utterances out: remembers what was made of one when more of it was waited for."""

    def __init__(self) -> None:
        """Nothing is waited for yet."""
        self._begun: tuple[float, Heard] | None = None

    def heard(self, segment: Segment, what: Heard, part: Part = Part.WHOLE) -> tuple[Heard, float]:
        """What to take, and for how long more is to be waited for first; 0 where it is whole."""
        if self._begun and abs(segment.start_s - self._begun[0]) < _SAME_S:
            what = _with_more(self._begun[1], what)
        more_s = more_within_s(what, segment, part)
        self._begun = (segment.start_s, what) if more_s else None
        return what, more_s


def _with_more(before: Heard, now: Heard) -> Heard:
    """What to take of an utterance with what sounded on: that, if it went on from what was clear.

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
