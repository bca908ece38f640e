"""Carries things between microphone, hearing, turns, session and voice; holds no rules."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session.commands import Next, Signs
from pattern.session.events import SpeechChosen
from pattern.shape.rounds import Stage
from voice.caller.caller import Caller
from voice.caller.reply import Reply
from voice.caller.spoken import Spoken
from voice.dialogue import echo_gate, moves, turns
from voice.dialogue.aloud import Aloud
from voice.dialogue.done_silence import DoneSilence
from voice.dialogue.made_out import MadeOut
from voice.dialogue.protocols import Ears, Listener, Mouth
from voice.dialogue.sound_news import SoundNews
from voice.dialogue.talk_over import TalkOver
from voice.dialogue.trouble import level_trouble
from voice.dialogue.turn_state import Manners, Turns
from voice.hearing.attention import Attention
from voice.hearing.utterance_part import Part
from voice.sentences import hearing as words
from voice.sound.earcons import Earcon
from voice.sound.endpoint import Segment
from voice.sound.ports import AudioBlock, Condition, DeviceBack, DeviceLost

_TICK_S = 0.05


class Conversation:
    """One piece called by voice, until the maker leaves, or is silent after it is done."""

    def __init__(
        self,
        caller: Caller,
        ears: Ears,
        mouth: Mouth,
        listener: Listener,
        *,
        clock: Callable[[], float],
        manners: Manners | None = None,
        attention: Attention | None = None,
        speak_as: Callable[[SpeechChosen], None] = lambda _chosen: None,
    ) -> None:
        """Borrow everything; the owner closes it. `speak_as` changes how the mouth speaks."""
        self._caller, self._ears, self._mouth = caller, ears, mouth
        self._listener, self._clock, self._speak_as = listener, clock, speak_as
        self._manners = manners or Manners()
        self._over = TalkOver(ears.own, ears.telly, headphones=self._manners.talk_over)
        self._turns = Turns(attention=attention or Attention())
        self._aloud = Aloud(mouth, listener)
        self._made_out, self._spoken = MadeOut(ears), Spoken(caller)
        self._news, self._silence = SoundNews(), DoneSilence()
        self.ended = False

    def run(self, opening: Reply) -> None:
        """Say the opening, then listen and answer until the end."""
        self.tell(opening.say)
        while not self.ended:
            self.step()
        while self._mouth.speaker.speaking:
            self._ears.source.read(_TICK_S)

    def step(self) -> None:
        """Take the next block of sound, or let a moment pass."""
        item = self._ears.source.read(_TICK_S)
        self._notice_silence()
        if isinstance(item, AudioBlock):
            self._news.hear(item, self._turns)
            self._listen(item)
        elif isinstance(item, DeviceLost):
            self._lost(item)
        elif item is not None:
            self._news.keep(item)
        speaks = self._ears.endpointer.waiting
        for news in self._news.due(self._turns, maker_speaks=speaks):
            self._tell(news)
        wanted = self._caller.state.want is not None and not self._caller.state.paused
        now_s = self._news.heard_until_s(self._clock())
        ticks = turns.ticked(self._turns, self._manners, now_s, wanted=wanted, maker_speaks=speaks)
        self._do(ticks)

    def _notice_silence(self) -> None:
        """Its own, and that after a piece that is done, which ends the call."""
        if self._turns.speaking and not self._mouth.speaker.speaking:
            self._turns = echo_gate.fell_silent(self._turns, self._clock())
        broken = self._turns.speaking or self._ears.endpointer.waiting
        silent = self._caller.state.stage is Stage.DONE and not broken
        self.ended |= self._silence.over(self._clock(), silent=silent)

    def _listen(self, block: AudioBlock) -> None:
        endpointer = self._ears.endpointer
        self._manners = self._over.manners(self._manners)
        self._news.keep(self._over.lost(block, speaking=self._turns.speaking))
        if not echo_gate.listens(self._turns, self._manners) and self._deaf_in(block):
            return
        segments = endpointer.feed(block.samples, self._over.left_db(block, self._turns))
        start_s, now_s = block.time_s - endpointer.fed_s, block.time_s
        if endpointer.open_s is not None:
            began_s, spoke_s = (start_s + at_s for at_s in endpointer.open_s)
            manners = self._over.giving_way(self._turns, self._manners, began_s, spoke_s)
            self._do(turns.maker_speaks(self._turns, manners, self._clock()))
            self._turns = echo_gate.sound_heard(self._turns, began_s, spoke_s)
            if echo_gate.echo_over(self._turns, self._manners, began_s, spoke_s, now_s):
                self._turns = echo_gate.echo_ended(self._turns, spoke_s)
                endpointer.forget()
        for segment in segments:
            began_s, ended_s = start_s + segment.start_s, start_s + segment.end_s
            part = self._over.part(self._turns, self._manners, began_s, ended_s)
            if part is Part.ECHO:
                self._turns = echo_gate.echo_ended(self._turns, ended_s)
                endpointer.no_others(segment)
            else:
                self._make_out(segment, part)

    def _deaf_in(self, block: AudioBlock) -> bool:
        """Whether the program is heard in a block, and gave way to nothing begun before."""
        from_s, endpointer = self._mouth.player.heard_from_s, self._ears.endpointer
        if block.time_s <= from_s:
            return False
        began_s = block.time_s - block.duration_s - endpointer.fed_s + endpointer.begun_s
        if gives_way := began_s < from_s and self._turns.insists < turns.HEARD_OUT:
            self._mouth.speaker.stop()
            self._turns = echo_gate.gave_way(self._turns, from_s, self._clock())
        else:
            endpointer.forget()
        return not gives_way

    def _make_out(self, segment: Segment, part: Part) -> None:
        now_s = self._clock()
        what = self._made_out.verdict(segment, part, self._spoken, self._turns, now_s)
        if what is None:
            return
        self._news.keep(self._listener.heard(segment, what))
        if what.missed and (lost := self._caller.missed(what.missed)):
            self.tell(lost)
        now_s, level, amid = self._clock(), level_trouble(segment.samples), segment.amid_talk
        self._do(
            turns.heard(self._turns, what, self._manners, now_s, part, level=level, amid_talk=amid)
        )

    def _do(self, step: turns.Step) -> None:
        self._turns, outputs = step
        for output in outputs:
            match output:
                case moves.Take(command, said, freely):
                    self._answer(self._spoken.take(command, said, freely=freely))
                case moves.AskWhich(what):
                    self.tell(words.asked(what, self._caller.state))
                case moves.Sign(earcon, signs):
                    self._sign(earcon, signs)
                case moves.TellTrouble(trouble):
                    self.tell(trouble.value)
                case moves.Remind():
                    self.tell(self._caller.again().say)
                case moves.Repeat():
                    self.tell(self._aloud.last, insists=self._turns.insists + 1)
                case moves.TellAttention(switch):
                    self.tell(words.attention(switch, self._turns.attention.words))
                case moves.FallSilent():
                    self._mouth.speaker.stop()

    def _answer(self, reply: Reply) -> None:
        for event in reply.events:
            if isinstance(event, SpeechChosen):
                self._speak_as(event)
                self._turns = echo_gate.sounds_otherwise(self._turns)
            self._manners = self._manners.after(event)
        self.tell(reply.say)
        self._turns = turns.asking(self._turns, reply.asks)
        self.ended = reply.ends
        if not self.ended:
            self._mouth.speaker.prepare(self._caller.preview(Next()))

    def _sign(self, earcon: Earcon, signs: Signs) -> None:
        if signs is not Signs.WORDS:
            self._turns = echo_gate.began_speaking(self._turns, sign=True)
            self._aloud.sound(earcon)
        if signs is not Signs.SOUNDS:
            self.tell(earcon.words)

    def tell(self, text: str, *, insists: int = 0) -> None:
        """Say something; what was cut off before `insists` on being heard out."""
        self._aloud.say(text)
        self._turns = echo_gate.began_speaking(self._turns, insists=insists)

    def _lost(self, loss: DeviceLost) -> None:
        """There is nothing to say it with; the screen has it."""
        self._listener.trouble(loss)
        self._ears.endpointer.forget()
        self._turns = echo_gate.sounds_otherwise(self._turns)
        self._news = SoundNews()

    def _tell(self, condition: Condition) -> None:
        self._listener.trouble(condition)
        self.tell(condition.sentence)
        if isinstance(condition, DeviceBack):
            self.tell(self._caller.again().say)
