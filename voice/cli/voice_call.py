"""A call by voice with a real microphone and loudspeaker."""

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
    """Recordings of the maker can no longer be written."""

    sentence: str


def _for_owner(path: str, flags: int) -> int:
    """Open a new file that only its owner can read."""
    return os.open(path, flags, 0o600)


class Screen:
    """Prints what is said and heard, and keeps recordings only if asked to."""

    def __init__(self, keep_in: Path | None = None) -> None:
        """`keep_in` is the folder for recordings of the maker."""
        self._keep_in = keep_in
        self._kept = 1
        self._level: type[Condition] | None = None

    def said(self, text: str) -> None:
        """Print the program's words."""
        print(text, flush=True)

    def heard(self, segment: Segment, what: Verdict) -> Condition | None:
        """Print the maker's words, and a new level problem; returns a failure to keep the sound."""
        if what.text:
            print(f"> {what.text}", flush=True)
        condition = utterance_condition(segment.samples)
        if condition is not None and type(condition) is not self._level:
            self.trouble(condition)
        self._level = type(condition) if condition is not None else None
        return self._kept_no_more(segment) if self._keep_in is not None else None

    def trouble(self, condition: Condition) -> None:
        """Print a condition of the sound."""
        print(f"[{condition.sentence}]", flush=True)

    def _kept_no_more(self, segment: Segment) -> Condition | None:
        """Keep the recording; if that fails, stop keeping and return a condition to tell."""
        assert self._keep_in is not None
        while (file := self._keep_in / f"{self._kept:05d}.wav").exists():
            self._kept += 1
        try:
            # x: never write to an existing file or a link
            with open(file, "xb", opener=_for_owner) as kept:
                kept.write(as_wav(segment.samples))
        except OSError as error:
            self._keep_in = None
            return KeepsNoMore(words.keeps_no_more(file, error))
        return None


def converse(caller: Caller, opening: Reply, args: Namespace) -> None:
    """Call the piece by voice until it is finished or the maker leaves.

    Raises: SoundUnavailableError without a sound device; FolderRefused; EngineMissing and other
    refusals of an engine; AttentionUnheard for attention words that no engine knows.
    """
    from voice.caller.piece_folder import writable
    from voice.models.model_errors import ModelError
    from voice.recognisers.engine import BadGrammar, EngineMissing
    from voice.sound.card import Sound
    from voice.sound.devices import native_messages_hidden
    from voice.speech.speaker import PlayedSpeaker, Renderer

    keep_in = writable(args.keep_audio, 0o700) if args.keep_audio else None
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
            manners=_manners(caller, args),
            attention=attention,
            speak_as=partial(speak_as, renderer),
        )
        _tell_first(conversation, args)
        conversation.run(opening)


def _manners(caller: Caller, args: Namespace) -> Manners:
    """The manners from the options, or else as the piece remembers them."""
    signs = Signs(args.earcons) if args.earcons else caller.state.signs
    remind_s = caller.state.remind_s if args.remind is None else args.remind
    return Manners(args.headphones, remind_s, signs)


def _tell_first(conversation: Conversation, args: Namespace) -> None:
    """Tell that recordings are kept, and that the attention words are a poor choice."""
    if args.keep_audio:
        conversation.tell(words.KEEPS_AUDIO)
    if (why := weakness(args.attention)) is not None:
        conversation.tell(words.poor_attention(args.attention, why))


def ready_to_hear(args: Namespace, attention: Attention) -> Hearing:
    """Hearing, warmed up. Raises: the errors of `engines.opened` and `warm_up`."""
    from voice.hearing.listening import Hearing

    hearing = Hearing(engines.opened(args))
    warm_up(hearing, attention)
    return hearing


def tell_of_typing(refused: Exception, renderer: Renderer, player: Player) -> None:
    """Say aloud why the call continues by typing, for makers who cannot see the screen."""
    from voice.speech.speaker import SpeechFailedError

    with suppress(SpeechFailedError):
        player.play(renderer.render(f"{refused} {words.TYPING}"))
    while player.playing:
        time.sleep(_TICK_S)


def speak_as(renderer: Renderer, chosen: SpeechChosen) -> None:
    """Speak the next texts as the maker chose, with one of the available English voices.

    If speech fails, so that no voices are listed, the voice is left as it is; the next text reports
    the failure. Raises: DeliveryRefusedError.
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
    """Load the engines and build their grammar before the first words come.

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
