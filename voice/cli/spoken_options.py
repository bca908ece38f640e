"""Command-line options of a call by voice."""

from __future__ import annotations

import argparse
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from pattern.session.commands import Signs
from pattern.session.commands.manner import FASTEST_WPM, SLOWEST_WPM
from pattern.session.decide_asides import LATEST_S
from voice.cli import attention_options, device_options, engines, playing
from voice.hearing.attention import Attention, When
from voice.inputs.option_numbers import number, whole

if TYPE_CHECKING:
    from voice.cli.voice_call import CallSettings


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Put the options of a call by voice on a parser."""
    spoken = parser.add_argument_group("by voice")
    _add_speech(spoken)
    _add_listening(spoken)


def _add_speech(spoken: argparse._ArgumentGroup) -> None:
    spoken.add_argument(
        "--headphones",
        action="store_true",
        help="you wear headphones, and may talk over it at once",
    )
    spoken.add_argument(
        "--rate",
        type=whole("rate", SLOWEST_WPM, FASTEST_WPM),
        metavar="WPM",
        help=f"words a minute, {SLOWEST_WPM} to {FASTEST_WPM} (default: as the"
        " piece remembers, at first 160)",
    )
    spoken.add_argument(
        "--remind",
        metavar="S",
        type=number("time in seconds", 1, LATEST_S, or_zero=True),
        help="ask once more for a reading after so many seconds; 0 for never"
        " (default: as the piece remembers, at first 90)",
    )
    spoken.add_argument(
        "--earcons",
        choices=[each.value for each in Signs],
        help="short signs as sounds, in words, or both (default: as the piece"
        " remembers, at first sounds)",
    )


def _add_listening(spoken: argparse._ArgumentGroup) -> None:
    attention_options.add_arguments(spoken)
    playing.add_arguments(spoken)
    spoken.add_argument(
        "--keep-audio",
        type=Path,
        metavar="DIR",
        help="keep what you say as WAV files there; nothing is kept otherwise",
    )


def settings(args: argparse.Namespace) -> CallSettings:
    """How the call is held, by these options, those of devices and those of engines."""
    from voice.cli.voice_call import CallSettings

    return CallSettings(
        devices=device_options.settings(args),
        recogniser=partial(engines.opened, args),
        attention=Attention(args.attention, When(args.addressed)),
        headphones=args.headphones,
        playing=args.playing,
        tv_microphone=args.tv_microphone,
        keep_audio=args.keep_audio,
        rate_wpm=args.rate,
        remind_s=args.remind,
        signs=Signs(args.earcons) if args.earcons else None,
    )
