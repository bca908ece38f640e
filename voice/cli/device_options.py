"""Options that choose the microphone and the loudspeaker."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from voice.sound.sound_errors import SPOKEN

if TYPE_CHECKING:
    from voice.sound.sound_settings import SoundSettings


def add_arguments(parser: ArgumentParser) -> None:
    """Put the options that choose the devices on a parser."""
    group = parser.add_argument_group("sound devices")
    for name in SPOKEN.values():
        group.add_argument(
            f"--{name}",
            metavar="NAME",
            help=f"name of the {name}, part of it, or its number in what"
            " 'rounds-aloud check' lists (default: the system's)",
        )


def settings(args: Namespace) -> SoundSettings:
    """Sound settings from the options; devices are only looked up when they are opened."""
    from voice.sound.sound_settings import SoundSettings

    return SoundSettings(microphone=args.microphone, loudspeaker=args.loudspeaker)
