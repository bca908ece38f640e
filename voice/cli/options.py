"""Command-line options that answer questions of the interview in advance."""

from __future__ import annotations

import argparse
import sys

from pattern.session.refusals import Refused
from pattern.trade.fibres import Fibre
from pattern.trade.head_medians import Sex
from voice.cli.option_values import (
    UNITS,
    read_brim,
    read_hook,
    read_length,
    read_shape,
    read_swatch,
    read_yarn,
)
from voice.inputs.option_numbers import number


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Put the options that `plan` and `call` share on a parser."""
    group = parser.add_argument_group("answers given beforehand; each skips its question")
    _add_sizes(group)
    _add_work(group)
    _add_rounds(group)
    _add_yarn(group)
    group.add_argument("--terms", choices=["us", "uk"], help="stitch names")
    group.add_argument("--unit", choices=sorted(UNITS), help="for lengths without a unit")


def _add_sizes(group: argparse._ArgumentGroup) -> None:
    group.add_argument(
        "--shape",
        type=read_shape,
        metavar="NAME|FILE",
        help="what to make (default: brimmed hat); see `rounds-aloud shapes`",
    )
    group.add_argument(
        "--across", type=read_length, metavar="LENGTH", help="width of what is not worn"
    )
    group.add_argument(
        "--height",
        type=read_length,
        metavar="LENGTH",
        help="height of the sides of what is not worn",
    )
    group.add_argument(
        "--head",
        type=read_length,
        metavar="LENGTH",
        action="append",
        help="around the head above the ears, such as 56cm or '22 1/2 in'; plan takes several",
    )
    group.add_argument(
        "--depth",
        type=read_length,
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


def _add_work(group: argparse._ArgumentGroup) -> None:
    group.add_argument(
        "--yarn", type=read_yarn, metavar="CLASS", help="weight, 0 to 7, or its name"
    )
    group.add_argument(
        "--hook", type=read_hook, metavar="MM|NAME", help="hook in mm, or as H, H-8 or US 8"
    )
    group.add_argument("--stitch", metavar="NAME", help="'single', 'half double', ...")
    group.add_argument("--start", type=read_length, metavar="N", help="stitches in the ring")
    group.add_argument(
        "--ease", type=read_length, metavar="LENGTH", help="more (or, with =-, less) than the head"
    )
    group.add_argument(
        "--brim", type=read_brim, metavar="LENGTH", help="width of the brim, or 'no'"
    )
    group.add_argument(
        "--slope", type=read_length, metavar="DEGREES", help="of the brim below level"
    )
    group.add_argument(
        "--fullness",
        type=read_length,
        metavar="F",
        help="how full the brim is: 1 lies, more waves",
    )


def _add_rounds(group: argparse._ArgumentGroup) -> None:
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


def _add_yarn(group: argparse._ArgumentGroup) -> None:
    group.add_argument(
        "--ball-grams", type=read_length, metavar="GRAMS", help="weight of a ball, from its band"
    )
    group.add_argument(
        "--ball-metres",
        type=read_length,
        metavar="METRES",
        help="length of the yarn in a ball, such as 85 or '93 yards'",
    )
    group.add_argument("--stash", type=read_length, metavar="GRAMS", help="how much yarn there is")
    group.add_argument(
        "--swatch",
        type=read_swatch,
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


def refuse(refused: Refused) -> int:
    """Print why the options make no sense; returns the exit code for that."""
    from pattern.session.state import State
    from voice.sentences.refusals import refusal

    print(refusal(refused, State().settings), file=sys.stderr)
    return 2
