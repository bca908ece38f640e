"""The sound of a call without what is playing: on this machine, or on a telly with a microphone."""

from __future__ import annotations

from argparse import ArgumentParser, _ArgumentGroup
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, NamedTuple

from voice.sentences import hearing as words

if TYPE_CHECKING:
    from voice.sound.ports import AudioSource

OPEN_LIMIT_S = 3.0
"""Longest time that the start of a call waits for what is playing."""


class Heard(NamedTuple):
    """A source for the call, and the sentences to begin it with."""

    source: AudioSource
    told: tuple[str, ...] = ()


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
def taken_out(source: AudioSource, playing: str, tv_microphone: str | None) -> Iterator[Heard]:
    """The source without what is playing, or as it is where that cannot be had."""
    from voice.sound.canceller import CancellerSettings
    from voice.sound.known_sound import WithoutKnown
    from voice.sound.played_here import NoMonitorError, PlayedHere

    if playing == "none" and tv_microphone is None:
        yield Heard(source)
        return
    known = PlayedHere(tv_microphone)
    try:
        known.open(OPEN_LIMIT_S)
    except NoMonitorError as error:
        told = () if tv_microphone is None else (words.no_tv_microphone(tv_microphone, error),)
        yield Heard(source, told)
        return
    # A microphone beside a telly hears its distortion too.
    settings = CancellerSettings(bends=tv_microphone is None)
    try:
        told = (words.TAKES_OUT if tv_microphone is None else words.TAKES_OUT_TV,)
        yield Heard(WithoutKnown(source, known, settings), told)
    finally:
        known.close()
