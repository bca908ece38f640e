"""A call by voice with a real microphone and loudspeaker: opens what it needs, or says why not."""

from __future__ import annotations

import time
from argparse import Namespace
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from pattern.commands import Signs
from voice import device_choice, engines
from voice.attention import Attention, AttentionUnheard, When
from voice.delivery import Delivery
from voice.endpoint import Endpointer, Segment
from voice.loop import Conversation
from voice.ports import RATE_HZ, Condition
from voice.senses import Ears, Mouth
from voice.sentences import hearing as words
from voice.sound_watch import utterance_condition
from voice.turn_state import Manners

if TYPE_CHECKING:
    from pattern.events import SpeechChosen
    from voice.caller import Caller, Reply
    from voice.hearing import Heard, Hearing
    from voice.speaker import Renderer


class Screen:
    """Prints what is said and heard, for whoever looks; keeps sound only when that was asked for.
    """

    def __init__(self, keep_in: Path | None = None) -> None:
        """`keep_in` is a folder for what the maker says."""
        self._keep_in = keep_in
        self._kept = 1
        self._level: type[Condition] | None = None

    def said(self, text: str) -> None:
        """The program says something."""
        print(text, flush=True)

    def heard(self, segment: Segment, what: Heard) -> None:
        """The maker said something; what is wrong with its level is told once, till it is right.
        """
        if what.text:
            print(f"> {what.text}", flush=True)
        condition = utterance_condition(segment.samples)
        if condition is not None and type(condition) is not self._level:
            self.trouble(condition)
        self._level = type(condition) if condition is not None else None
        if self._keep_in is not None:
            self._keep(segment)

    def trouble(self, condition: Condition) -> None:
        """Something is wrong with the sound, or right again."""
        print(f"[{condition.sentence}]", flush=True)

    def _keep(self, segment: Segment) -> None:
        import soundfile  # type: ignore[import-untyped]

        assert self._keep_in is not None
        while (file := self._keep_in / f"{self._kept:05d}.wav").exists():
            self._kept += 1
        try:
            soundfile.write(file, segment.samples, RATE_HZ)
        except (OSError, soundfile.LibsndfileError) as error:
            print(f"[{words.keeps_no_more(file, error)}]", flush=True)
            self._keep_in = None


def converse(caller: Caller, opening: Reply, args: Namespace) -> None:
    """Calls the piece by voice until it is done or the maker leaves.

    Raises: SoundUnavailableError where there is no sound device; FolderRefused; EngineMissing and
    what else an engine refuses; AttentionUnheard for attention words that no engine knows.
    """
    from voice.devices import native_messages_hidden
    from voice.folder import writable
    from voice.hearing import Hearing
    from voice.sound import Sound
    from voice.speaker import PlayedSpeaker, Renderer

    keep_in = writable(args.keep_audio) if args.keep_audio else None
    signs = Signs(args.earcons) if args.earcons else caller.state.signs
    remind_s = caller.state.remind_s if args.remind is None else args.remind
    claps = args.claps or caller.state.claps
    manners = Manners(args.headphones, claps, remind_s, signs)
    devices = device_choice.settings(args)
    with native_messages_hidden(), Sound(devices) as sound, Renderer() as renderer:
        hearing = Hearing(engines.opened(args))
        try:
            attention = Attention(args.attention, When(args.addressed))
            warm_up(hearing, attention)

            def speak_as(chosen: SpeechChosen) -> None:
                renderer.change(delivery(chosen, renderer))

            speech = caller.state.speech
            speech = replace(speech, rate_wpm=args.rate) if args.rate else speech
            speak_as(speech)
            caller.choose(speech)
            speaker = PlayedSpeaker(renderer, sound)
            conversation = Conversation(
                caller, Ears(sound, hearing, Endpointer()), Mouth(speaker, sound),
                Screen(keep_in), clock=time.monotonic, manners=manners, speak_as=speak_as,
                attention=attention,
            )  # fmt: skip
            if keep_in:
                conversation.tell(words.KEEPS_AUDIO)
            conversation.run(opening)
        finally:
            hearing.close()


def delivery(chosen: SpeechChosen, renderer: Renderer) -> Delivery:
    """The delivery that the maker chose, among the English voices that there are."""
    english = [voice.id for voice in renderer.voices() if voice.language.startswith("en")]
    voice = english[chosen.voice % len(english)] if chosen.voice and english else None
    return Delivery(chosen.rate_wpm, chosen.volume, voice)


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
