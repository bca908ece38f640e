"""A call by voice with a real microphone and loudspeaker."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext, suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from pattern.session.commands import Signs
from voice.cli.call_screen import Screen
from voice.cli.page_options import Shows
from voice.cli.playing import Heard, taken_out
from voice.cli.ready import ready_to_hear
from voice.dialogue.conversation import Conversation
from voice.dialogue.protocols import Ears, Mouth
from voice.dialogue.turn_state import Manners
from voice.hearing.attention import Attention, weakness
from voice.sentences import hearing as words
from voice.sound.endpoint import Endpointer
from voice.sound.ports import Player
from voice.speech.delivery import Delivery

if TYPE_CHECKING:
    from pattern.session.events import SpeechChosen
    from voice.caller.caller import Caller
    from voice.caller.reply import Reply
    from voice.recognisers.recogniser import Recogniser
    from voice.sound.card import Sound
    from voice.sound.sound_settings import SoundSettings
    from voice.speech.speaker import Renderer

_TICK_S = 0.05


@dataclass(frozen=True, slots=True)
class CallSettings:
    """How a call by voice is held."""

    devices: SoundSettings
    recogniser: Callable[[], Recogniser]
    """Opens it. Raises: EngineMissing, ModelError."""
    attention: Attention
    headphones: bool = False
    playing: str = "auto"
    """Whether what this machine plays is taken out: "auto" or "none"."""
    tv_microphone: str | None = None
    """Second microphone, which hears what is taken out instead."""
    keep_audio: Path | None = None
    """Folder for recordings of the maker; None keeps none."""
    rate_wpm: int | None = None
    """Words a minute; None as the piece remembers, and so with the next two."""
    remind_s: float | None = None
    signs: Signs | None = None


def converse(
    caller: Caller,
    opening: Reply,
    settings: CallSettings,
    opens_page: Callable[[], AbstractContextManager[Shows | None]] = nullcontext,
) -> None:
    """Call the piece by voice until it is finished or the maker leaves; a page shows what is said.

    Raises: SoundUnavailableError without a sound device; FolderRefused; EngineMissing and other
    refusals of an engine; AttentionUnheard for attention words that no engine knows.
    """
    from voice.models.model_errors import ModelError
    from voice.recognisers.engine import BadGrammar, EngineMissing
    from voice.sound.card import Sound
    from voice.sound.devices import native_messages_hidden
    from voice.speech.played_speaker import PlayedSpeaker
    from voice.speech.speaker import Renderer

    keep_in = _kept_in(settings)
    with (
        native_messages_hidden(),
        Sound(settings.devices) as sound,
        _without_playing(sound, settings) as heard,
        Renderer() as renderer,
    ):
        speak_as(renderer, chosen := _speech(caller, settings))
        renderer.prepare(opening.say)  # the voice is loaded while hearing is
        try:
            hearing = ready_to_hear(settings.recogniser, settings.attention)
        except (EngineMissing, BadGrammar, ModelError) as refused:
            tell_of_typing(refused, renderer, sound)
            raise
        caller.choose(chosen)
        ears = Ears(heard.source, hearing, Endpointer(), heard.own, heard.telly)
        mouth = Mouth(PlayedSpeaker(renderer, sound), sound)
        with opens_page() as page:
            ends = ears, mouth, Screen(keep_in, _shows(page, caller))
            conversation = _conversation(caller, ends, settings, renderer)
            _tell_first(conversation, settings, heard.told)
            conversation.run(opening)


def _without_playing(sound: Sound, settings: CallSettings) -> AbstractContextManager[Heard]:
    """The sound without what is playing, as the settings want it."""
    headphones = settings.headphones
    return taken_out(sound, settings.playing, settings.tv_microphone, headphones=headphones)


def _kept_in(settings: CallSettings) -> Path | None:
    """The folder for what the maker says; None where it is not kept. Raises: FolderRefused."""
    from voice.caller.piece_folder import writable

    return writable(settings.keep_audio, 0o700) if settings.keep_audio else None


def _conversation(
    caller: Caller, ends: tuple[Ears, Mouth, Screen], settings: CallSettings, renderer: Renderer
) -> Conversation:
    return Conversation(
        caller,
        *ends,
        clock=time.monotonic,
        manners=_manners(caller, settings),
        attention=settings.attention,
        speak_as=partial(speak_as, renderer),
    )


def _shows(page: Shows | None, caller: Caller) -> Callable[[str], None] | None:
    """A function that shows on the page what is said; None without a page."""
    return None if page is None else lambda text: page.show(text, caller.state)


def _speech(caller: Caller, settings: CallSettings) -> SpeechChosen:
    """Speech as the piece remembers it, at the rate of the settings if they give one."""
    chosen = caller.state.speech
    return chosen if settings.rate_wpm is None else replace(chosen, rate_wpm=settings.rate_wpm)


def _manners(caller: Caller, settings: CallSettings) -> Manners:
    """The manners from the settings, or else as the piece remembers them."""
    signs = settings.signs or caller.state.signs
    remind_s = caller.state.remind_s if settings.remind_s is None else settings.remind_s
    return Manners(settings.headphones, remind_s, signs)


def _tell_first(
    conversation: Conversation, settings: CallSettings, playing: tuple[str, ...]
) -> None:
    """Tell what else is listened to, what is kept, and that attention words are a poor choice."""
    for sentence in playing:
        conversation.tell(sentence)
    if settings.keep_audio:
        conversation.tell(words.KEEPS_AUDIO)
        if playing:
            conversation.tell(words.KEEPS_FILM)
    called = settings.attention.words
    if (why := weakness(called)) is not None:
        conversation.tell(words.poor_attention(called, why))


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
