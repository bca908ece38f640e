"""Options that choose the microphone and the loudspeaker."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from voice.sound.devices import SPOKEN

if TYPE_CHECKING:
    from voice.sound.duplex import SoundSettings


def add_arguments(parser: ArgumentParser) -> None:
    """The options that choose the devices."""
    group = parser.add_argument_group("sound devices")
    for name in SPOKEN.values():
        group.add_argument(
            f"--{name}",
            metavar="NAME",
            help=f"name of the {name}, part of it, or its number in what"
            " 'rounds-aloud check' lists (default: the system's)",
        )


def settings(args: Namespace) -> SoundSettings:
    """The devices that the options mean, looked up only when they are opened."""
    from voice.sound.duplex import SoundSettings

    return SoundSettings(microphone=args.microphone, loudspeaker=args.loudspeaker)
