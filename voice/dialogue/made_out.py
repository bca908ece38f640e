"""Makes out utterances with the hearing, until each is whole."""

from __future__ import annotations

from voice.caller.spoken import Spoken
from voice.dialogue.protocols import Ears
from voice.dialogue.turn_state import Turns
from voice.hearing.context import context_of, wanting_number
from voice.hearing.evidence import Verdict
from voice.hearing.listening import Whole
from voice.hearing.utterance_part import Part
from voice.sound.endpoint import Segment


class MadeOut:
    """Decides on utterances one after another; remembers one of which more is waited for."""

    def __init__(self, ears: Ears) -> None:
        """Borrow the ears."""
        self._ears = ears
        self._whole = Whole()

    def verdict(
        self, segment: Segment, part: Part, spoken: Spoken, turns: Turns, now_s: float
    ) -> Verdict | None:
        """The verdict on an utterance; None while more of it is waited for."""
        insists = turns.insists > 0 and turns.speaking
        state, asked = spoken.state, turns.asked
        context = context_of(state, asked, turns.attention, insists=insists, now_s=now_s)
        if spoken.wants_number:
            context = wanting_number(context)
        hearing, endpointer = self._ears.hearing, self._ears.endpointer
        evidence = hearing.listen(segment.samples, context, part, amid_talk=segment.amid_talk)
        found = self._whole.heard(segment, evidence, context, hearing.written)
        if found.more_s:
            endpointer.go_on(segment, found.more_s)
            return None
        if found.said is not None:
            endpointer.no_others(segment)
        return found
