"""The sound of a call without what is playing: on this machine, or on a telly with a microphone."""

from __future__ import annotations

from argparse import ArgumentParser, _ArgumentGroup
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, NamedTuple

from voice.sentences import hearing as words

if TYPE_CHECKING:
    from voice.dialogue.talk_over import TakesOwnOut
    from voice.sound.card import Sound
    from voice.sound.ports import AudioSource

OPEN_LIMIT_S = 3.0
"""Longest time that the start of a call waits for what is playing."""


class Heard(NamedTuple):
    """A source for the call, and the sentences to begin it with."""

    source: AudioSource
    told: tuple[str, ...] = ()
    own: TakesOwnOut | None = None
    """The source, where it takes the program's own voice out."""
    telly: TakesOwnOut | None = None
    """The source, where it takes out what a second microphone hears."""


def add_arguments(parser: ArgumentParser | _ArgumentGroup) -> None:
    """Put the options that say what is taken out of the microphone's sound on a parser."""
    parser.add_argument(
        "--playing",
        choices=["auto", "none"],
        default="auto",
        help="whether what this machine plays, a film for example, is taken out of the"
        " microphone's sound; nothing of it is kept (default: auto, where it can be had)",
    )
    parser.add_argument(
        "--tv-microphone",
        metavar="NAME",
        help="take out what a second microphone hears instead: lay it close to a telly",
    )


@contextmanager
def taken_out(
    sound: Sound, playing: str, tv_microphone: str | None, *, headphones: bool = False
) -> Iterator[Heard]:
    """The sound without what is playing; without the program's own voice alone, where more cannot
    be had.
    """
    from voice.sound.canceller_settings import SECOND_MICROPHONE
    from voice.sound.known_sound import WithoutKnown
    from voice.sound.played_here import NoMonitorError, PlayedHere

    if playing == "none" and tv_microphone is None:
        yield _without_own(sound, headphones=headphones)
        return
    known = PlayedHere(tv_microphone)
    try:
        known.open(OPEN_LIMIT_S)
    except NoMonitorError as error:
        told = () if tv_microphone is None else (words.no_tv_microphone(tv_microphone, error),)
        yield _without_own(sound, told, headphones=headphones)
        return
    try:
        told = (words.TAKES_OUT if tv_microphone is None else words.TAKES_OUT_TV,)
        if tv_microphone is None:  # what a loudspeaker plays holds the program's own voice too
            without = WithoutKnown(sound, known)
            yield Heard(without, told, without)
        else:
            without = WithoutKnown(sound, known, SECOND_MICROPHONE)
            yield Heard(without, told, telly=without)
    finally:
        known.close()


def _without_own(sound: Sound, told: tuple[str, ...] = (), *, headphones: bool) -> Heard:
    """The sound without the program's own voice, which headphones keep away from it."""
    from voice.sound.known_sound import WithoutKnown

    if headphones:
        return Heard(sound, told)
    without = WithoutKnown(sound, sound.own_voice(), tells=False)
    return Heard(without, told, without)
