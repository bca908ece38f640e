"""Options of the command line that answer questions of the interview beforehand."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from pattern.errors import BadShape
from pattern.session import commands as c
from pattern.session.refusals import Refused
from pattern.shape.catalogue import SHAPES
from pattern.shape.shape_names import SHAPE_NAMES
from pattern.shape.shape_text import shape_from
from pattern.trade import names
from pattern.trade.fibres import Fibre
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.yarns_and_hooks import YARNS
from voice.inputs.one_line import shown
from voice.inputs.option_numbers import number, read_whole
from voice.inputs.user_files import FileRefused, read_text
from voice.words.phrases import read
from voice.words.spoken_numbers import normalise, read_amount

_UNITS = {"in": Unit.INCH, "inch": Unit.INCH, "cm": Unit.CM, "mm": Unit.MM}


def _amount(text: str) -> Amount:
    minus, text = text.startswith("-"), text.lstrip("+-")
    amount = read_amount(normalise(text))
    if amount is None:
        raise argparse.ArgumentTypeError(
            f"{shown(text)!r} is no number or length; write 56cm or 22.5in"
        )
    return Amount(-amount.value, amount.step, amount.unit) if minus else amount


def _swatch(text: str) -> c.Swatch:
    words = text if "washed" in text else f"swatch {text}"
    command = read(words)
    if not isinstance(command, c.Swatch):
        raise argparse.ArgumentTypeError(f"{shown(text)!r} is no swatch; write '20 stitches 11cm'")
    return command


def _brim(text: str) -> Amount:
    return Amount(0.0) if text in {"no", "none"} else _amount(text)


def _yarn(text: str) -> int:
    if (number := read_whole(text)) is not None and number < len(YARNS):
        return number
    if (named := names.yarn_in(normalise(text))) is not None:
        return named
    raise argparse.ArgumentTypeError(
        f"{shown(text)!r} is no class of yarn; give 0 to 7, or its name, such as DK or worsted"
    )


def _hook(text: str) -> Amount:
    """A hook in mm, or by the letter or number it is marked with."""
    if (named := names.hook_in(normalise(text))) is not None:
        return Amount(named, 0.25, Unit.MM)
    try:
        return _amount(text)
    except argparse.ArgumentTypeError:
        raise argparse.ArgumentTypeError(
            f"{shown(text)!r} is no hook; give millimetres, or what is marked on it, such as H-8"
        ) from None


def _shape(text: str) -> str:
    """The name of a shape that comes along, or the text of a file that describes another."""
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


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Put on a parser the options that `plan` and `call` share."""
    group = parser.add_argument_group("answers given beforehand; each skips its question")
    group.add_argument(
        "--shape",
        type=_shape,
        metavar="NAME|FILE",
        help="what to make (default: brimmed hat); see `rounds-aloud shapes`",
    )
    group.add_argument(
        "--across", type=_amount, metavar="LENGTH", help="width, where it is for no head"
    )
    group.add_argument(
        "--height",
        type=_amount,
        metavar="LENGTH",
        help="height of the sides, where it is for no head",
    )
    group.add_argument(
        "--head",
        type=_amount,
        metavar="LENGTH",
        action="append",
        help="around the head above the ears, such as 56cm or '22 1/2 in'; plan takes several",
    )
    group.add_argument(
        "--depth",
        type=_amount,
        metavar="LENGTH",
        help="from the centre of the crown, along the cloth",
    )
    group.add_argument(
        "--age",
        type=number("age in years", 0, 120),
        metavar="YEARS",
        help="take the head by this age, from the table",
    )
    group.add_argument(
        "--sex", choices=[sex.value for sex in Sex], help="whose head, for that table"
    )
    group.add_argument("--adult", action="store_true", help="take a grown head from the table")
    group.add_argument("--yarn", type=_yarn, metavar="CLASS", help="weight, 0 to 7, or its name")
    group.add_argument(
        "--hook", type=_hook, metavar="MM|NAME", help="hook in mm, or as H, H-8 or US 8"
    )
    group.add_argument("--stitch", metavar="NAME", help="'single', 'half double', ...")
    group.add_argument("--start", type=_amount, metavar="N", help="stitches in the ring")
    group.add_argument(
        "--ease", type=_amount, metavar="LENGTH", help="more (or, with =-, less) than the head"
    )
    group.add_argument("--brim", type=_brim, metavar="LENGTH", help="width of the brim, or 'no'")
    group.add_argument("--slope", type=_amount, metavar="DEGREES", help="of the brim below level")
    group.add_argument(
        "--fullness", type=_amount, metavar="F", help="how full the brim is: 1 lies, more waves"
    )
    rounds = group.add_mutually_exclusive_group()
    rounds.add_argument(
        "--spiral", dest="joined", action="store_false", default=None, help="work in a spiral"
    )
    rounds.add_argument(
        "--joined", dest="joined", action="store_true", default=None, help="join each round"
    )
    where = group.add_mutually_exclusive_group()
    where.add_argument(
        "--spread",
        dest="stacked",
        action="store_false",
        default=None,
        help="increases between those of the round before",
    )
    where.add_argument(
        "--stacked",
        dest="stacked",
        action="store_true",
        default=None,
        help="increases above one another",
    )
    group.add_argument(
        "--ball-grams", type=_amount, metavar="GRAMS", help="weight of a ball, from its band"
    )
    group.add_argument(
        "--ball-metres",
        type=_amount,
        metavar="METRES",
        help="length of the yarn in a ball, such as 85 or '93 yards'",
    )
    group.add_argument("--stash", type=_amount, metavar="GRAMS", help="how much yarn there is")
    group.add_argument(
        "--swatch",
        type=_swatch,
        action="append",
        default=[],
        metavar="MEASURED",
        help="a swatch in the round, such as '20 stitches 11cm' or '12 rounds 9cm', "
        "or after washing 'washed 20 stitches 10.5cm'; may be given again",
    )
    group.add_argument(
        "--fibre",
        choices=[fibre.value for fibre in Fibre],
        help="what the yarn is spun from, for washing",
    )
    group.add_argument("--terms", choices=["us", "uk"], help="stitch names")
    group.add_argument("--unit", choices=sorted(_UNITS), help="for lengths without a unit")


_NUMBERS = {
    "across": "across_mm",
    "height": "height_mm",
    "hook": "hook_mm",
    "start": "start",
    "ease": "ease_mm",
    "depth": "depth_mm",
    "brim": "brim_mm",
    "slope": "slope_deg",
    "fullness": "fullness",
    "ball_grams": "ball_g",
    "ball_metres": "ball_m",
    "stash": "stash_g",
}
_WORDS: dict[str, tuple[str, Callable[[Any], Any]]] = {
    "unit": ("unit", lambda name: _UNITS[name].value),
    "terms": ("terms", str),
    "shape": ("shape", str),
    "yarn": ("yarn", int),
    "stitch": ("stitch", normalise),
    "fibre": ("fibre", str),
    "joined": ("joined", bool),
    "stacked": ("stacked", bool),
}


def answers(options: argparse.Namespace) -> Sequence[c.Command]:
    """The commands that the options stand for, in an order in which they make sense."""
    said: list[c.Command] = [
        c.Choose(key, convert(getattr(options, name)))
        for name, (key, convert) in _WORDS.items()
        if getattr(options, name) is not None
    ]
    if options.age is not None or options.sex is not None or options.adult:
        said.append(c.HeadOf(options.age, Sex(options.sex) if options.sex else None))
    said += [c.Change("head_mm", head) for head in options.head or ()]
    said += [
        c.Change(key, getattr(options, name))
        for name, key in _NUMBERS.items()
        if getattr(options, name) is not None
    ]
    return [*said, *options.swatch]


def refuse(refused: Refused) -> int:
    """Says why the options make no sense; returns the exit code for that."""
    from pattern.session.state import State
    from voice.sentences.refusals import refusal

    print(refusal(refused, State().settings), file=sys.stderr)
    return 2
