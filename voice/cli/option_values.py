"""Reads the values of options that answer questions of the interview."""

from __future__ import annotations

import argparse
from pathlib import Path

from pattern.errors import BadShape
from pattern.session import commands as c
from pattern.shape.catalogue import SHAPES
from pattern.shape.shape_names import SHAPE_NAMES
from pattern.shape.shape_text import shape_from
from pattern.trade import names
from pattern.trade.hook_names import hook_in
from pattern.trade.lengths import Amount, Unit
from pattern.trade.yarns_and_hooks import YARNS
from voice.inputs.one_line import shown
from voice.inputs.option_numbers import read_whole
from voice.inputs.user_files import FileRefused, read_text
from voice.words.phrases import read
from voice.words.spoken_numbers import read_amount
from voice.words.typed_text import normalise

UNITS = {"in": Unit.INCH, "inch": Unit.INCH, "cm": Unit.CM, "mm": Unit.MM}
"""Units by the names that `--unit` takes."""


def read_length(text: str) -> Amount:
    """An amount with or without a unit. Raises: ArgumentTypeError."""
    minus, text = text.startswith("-"), text.lstrip("+-")
    amount = read_amount(normalise(text))
    if amount is None:
        raise argparse.ArgumentTypeError(
            f"{shown(text)!r} is no number or length; write 56cm or 22.5in"
        )
    return Amount(-amount.value, amount.step, amount.unit) if minus else amount


def read_swatch(text: str) -> c.Swatch:
    """A measured swatch. Raises: ArgumentTypeError."""
    words = text if "washed" in text else f"swatch {text}"
    command = read(words)
    if not isinstance(command, c.Swatch):
        raise argparse.ArgumentTypeError(f"{shown(text)!r} is no swatch; write '20 stitches 11cm'")
    return command


def read_brim(text: str) -> Amount:
    """A brim width, which is 0 for "no". Raises: ArgumentTypeError."""
    return Amount(0.0) if text in {"no", "none"} else read_length(text)


def read_yarn(text: str) -> int:
    """A yarn class by number or name. Raises: ArgumentTypeError."""
    if (number := read_whole(text)) is not None and number < len(YARNS):
        return number
    if (named := names.yarn_in(normalise(text))) is not None:
        return named
    raise argparse.ArgumentTypeError(
        f"{shown(text)!r} is no class of yarn; give 0 to 7, or its name, such as DK or worsted"
    )


def read_hook(text: str) -> Amount:
    """A hook in mm, or by the letter or number it is marked with. Raises: ArgumentTypeError."""
    if (named := hook_in(normalise(text))) is not None:
        return Amount(named, 0.25, Unit.MM)
    try:
        return read_length(text)
    except argparse.ArgumentTypeError:
        raise argparse.ArgumentTypeError(
            f"{shown(text)!r} is no hook; give millimetres, or what is marked on it, such as H-8"
        ) from None


def read_shape(text: str) -> str:
    """The name of a built-in shape, or the text of a file that describes one.

    Raises: ArgumentTypeError.
    """
    if (named := SHAPE_NAMES.get(normalise(text))) is not None:
        return named
    try:
        described = read_text(Path(text))
        shape_from(described)
    except FileRefused as refusal:
        shapes = ", ".join(shape.name for shape in SHAPES)
        raise argparse.ArgumentTypeError(
            f"{shown(text)!r} is no shape and no file that can be read ({refusal.why}); give "
            f"{shapes}, or a file that describes one"
        ) from refusal
    except BadShape as refusal:
        raise argparse.ArgumentTypeError(f"{shown(text)}: {refusal}") from refusal
    return described
