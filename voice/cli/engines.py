"""The options that choose the listening engine, and the recogniser they choose."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from voice.inputs.one_line import shown
from voice.inputs.user_files import FileRefused, reaching

if TYPE_CHECKING:
    from voice.recognisers.recogniser import Recogniser


def add_arguments(parser: ArgumentParser) -> None:
    """Put the options that choose engines on a parser."""
    group = parser.add_argument_group("who listens")
    group.add_argument(
        "--engine",
        metavar="NAMES",
        help="moonshine and letters, two looks at one net, or vosk, another engine; join several"
        " with + (default: moonshine+letters where the net is installed, and vosk where its"
        " English model was fetched)",
    )
    group.add_argument(
        "--model",
        type=_folder,
        metavar="DIR",
        help="folder of another vosk model (also the variable VOSK_MODEL)",
    )


def _folder(text: str) -> Path:
    """An existing folder. Raises: ArgumentTypeError if there is no such folder."""
    try:
        with reaching(place := Path(text)):
            there = place.is_dir()
    except FileRefused:
        there = False
    if not there:
        raise ArgumentTypeError(
            f"{shown(text)!r} is no folder; give that of a model, or leave it out"
        )
    return place


def opened(args: Namespace) -> Recogniser:
    """The recogniser chosen by the options.

    Raises: EngineMissing, ModelError.
    """
    from voice.recognisers.chosen import open_recogniser

    names = tuple(args.engine.split("+")) if args.engine else None
    return open_recogniser(names, args.model)
