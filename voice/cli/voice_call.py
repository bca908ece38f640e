"""A call by voice with a real microphone and loudspeaker: opens what it needs, or says why not."""

from __future__ import annotations

import os
import time
from argparse import Namespace
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from pattern.session.commands import Signs
from voice.cli import device_options, engines
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.dialogue.turn_state import Manners
from voice.hearing.attention import Attention, AttentionUnheard, When, weakness
from voice.sentences import hearing as words
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.ports import RATE_HZ, Condition, Player
from voice.sound.sound_watch import utterance_condition
from voice.sound.wav import as_wav
from voice.speech.delivery import Delivery

if TYPE_CHECKING:
    from pattern.session.events import SpeechChosen
    from voice.caller.caller import Caller
    from voice.caller.reply import Reply
    from voice.hearing.evidence import Verdict
    from voice.hearing.listening import Hearing
    from voice.speech.speaker import Renderer

_TICK_S = 0.05


@dataclass(frozen=True, slots=True)
class KeepsNoMore:
    """What is said cannot be written to its folder any more."""

    sentence: str


def _for_owner(path: str, flags: int) -> int:
    """Open a new file that only its owner may read."""
    return os.open(path, flags, 0o600)


class Screen:
    """Prints what is said and heard; keeps sound only when that was asked for."""

    def __init__(self, keep_in: Path | None = None) -> None:
        """`keep_in` is a folder for what the maker says."""
        self._keep_in = keep_in
        self._kept = 1
        self._level: type[Condition] | None = None

    def said(self, text: str) -> None:
        """The program says something."""
        print(text, flush=True)

    def heard(self, segment: Segment, what: Verdict) -> Condition | None:
        """The maker said something; what is wrong with its level is told once, till it is right."""
        if what.text:
            print(f"> {what.text}", flush=True)
        condition = utterance_condition(segment.samples)
        if condition is not None and type(condition) is not self._level:
            self.trouble(condition)
        self._level = type(condition) if condition is not None else None
        return self._kept_no_more(segment) if self._keep_in is not None else None

    def trouble(self, condition: Condition) -> None:
        """Something is wrong with the sound, or right again."""
        print(f"[{condition.sentence}]", flush=True)

    def _kept_no_more(self, segment: Segment) -> Condition | None:
        """Keep the sound; where that fails nothing is kept from then on, and the maker is told."""
        assert self._keep_in is not None
        while (file := self._keep_in / f"{self._kept:05d}.wav").exists():
            self._kept += 1
        try:
            # x: nothing that is there is written to, nor a link
            with open(file, "xb", opener=_for_owner) as kept:
                kept.write(as_wav(segment.samples))
        except OSError as error:
            self._keep_in = None
            return KeepsNoMore(words.keeps_no_more(file, error))
        return None


def converse(caller: Caller, opening: Reply, args: Namespace) -> None:
    """Calls the piece by voice until it is done or the maker leaves.

    Raises: SoundUnavailableError where there is no sound device; FolderRefused; EngineMissing and
    what else an engine refuses; AttentionUnheard for attention words that no engine knows.
    """
    from voice.caller.piece_folder import writable
    from voice.models.model_errors import ModelError
    from voice.recognisers.engine import BadGrammar, EngineMissing
    from voice.sound.card import Sound
    from voice.sound.devices import native_messages_hidden
    from voice.speech.speaker import PlayedSpeaker, Renderer

    keep_in = writable(args.keep_audio, 0o700) if args.keep_audio else None
    signs = Signs(args.earcons) if args.earcons else caller.state.signs
    remind_s = caller.state.remind_s if args.remind is None else args.remind
    manners = Manners(args.headphones, remind_s, signs)
    devices = device_options.settings(args)
    with native_messages_hidden(), Sound(devices) as sound, Renderer() as renderer:
        attention = Attention(args.attention, When(args.addressed))
        try:
            hearing = ready_to_hear(args, attention)
        except (EngineMissing, BadGrammar, ModelError) as refused:
            tell_of_typing(refused, renderer, sound)
            raise
        chosen = caller.state.speech
        chosen = chosen if args.rate is None else replace(chosen, rate_wpm=args.rate)
        speak_as(renderer, chosen)
        caller.choose(chosen)
        speaker = PlayedSpeaker(renderer, sound)
        conversation = Conversation(
            caller,
            Ears(sound, hearing, Endpointer()),
            Mouth(speaker, sound),
            Screen(keep_in),
            clock=time.monotonic,
            manners=manners,
            attention=attention,
            speak_as=partial(speak_as, renderer),
        )
        if keep_in:
            conversation.tell(words.KEEPS_AUDIO)
        if (why := weakness(args.attention)) is not None:
            conversation.tell(words.poor_attention(args.attention, why))
        conversation.run(opening)


def ready_to_hear(args: Namespace, attention: Attention) -> Hearing:
    """What hears, warmed up. Raises: what opening the engines and warming up raise."""
    from voice.hearing.listening import Hearing

    hearing = Hearing(engines.opened(args))
    warm_up(hearing, attention)
    return hearing


def tell_of_typing(refused: Exception, renderer: Renderer, player: Player) -> None:
    """Say why it cannot listen and goes on by typing, to whoever does not see it printed."""
    from voice.speech.speaker import SpeechFailedError

    with suppress(SpeechFailedError):
        player.play(renderer.render(f"{refused} {words.TYPING}"))
    while player.playing:
        time.sleep(_TICK_S)


def speak_as(renderer: Renderer, chosen: SpeechChosen) -> None:
    """Let the next texts be spoken as the maker chose, among the English voices that there are.

    Where no voices can be had because speech fails, which the next text tells, it is done without.
    Raises: DeliveryRefusedError.
    """
    from voice.speech.speaker import SpeechFailedError

    plain = Delivery(chosen.rate_wpm, chosen.volume)
    try:
        voices = renderer.voices() if chosen.voice else []
        english = [voice.id for voice in voices if voice.language.startswith("en")]
        voice = english[chosen.voice % len(english)] if english else None
        renderer.change(replace(plain, voice=voice))
    except SpeechFailedError:
        renderer.change(plain)


def warm_up(hearing: Hearing, attention: Attention | None = None) -> None:
    """Let the engines load and build their grammar before the first words come.

    Raises: AttentionUnheard for attention words that no engine knows; BadGrammar for others.
    """
    from voice.recognisers.engine import BadGrammar

    hiss = np.random.default_rng(1).normal(0, 10, RATE_HZ // 2).astype(np.int16)
    try:
        hearing.decide(hiss, attention=attention)
    except BadGrammar as refused:
        if attention and set(refused.words) <= set(attention.words.split()):
            raise AttentionUnheard(attention.words, refused.words) from refused
        raise
