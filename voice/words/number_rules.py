"""Rules of spoken numbers and lengths, for recognisers."""

from __future__ import annotations

from voice.words import grammar
from voice.words.spoken_numbers import ONES, TEENS, TENS

RULES: dict[str, grammar.Node] = {
    name: grammar.parse(expression)
    for name, expression in {
        "digit": " | ".join(ONES),
        "below_hundred": f"<digit> | {' | '.join(TEENS)} | ({' | '.join(TENS)}) [<digit>]",
        "integer": "zero | <below_hundred> | (<digit> | a) hundred [[and] <below_hundred>]",
        "few": "<below_hundred>",
        "fraction": (
            "a half | half | one half | (a | one) quarter | three quarters | (a | one) third"
            " | two thirds | (an | one) eighth | (three | five | seven) eighths"
            " | (a | one | three | five | seven | nine | eleven | thirteen | fifteen) sixteenth"
            " | (three | five | seven | nine | eleven | thirteen | fifteen) sixteenths"
        ),
        "decimal": "point (zero | oh | [zero | oh] <digit> | <digit> <digit>)",
        "number": "<integer> [and <fraction> | <decimal>] | <fraction> | <decimal>",
        "tape_unit": (
            "inch | inches | centimetre | centimetres | centimeter | centimeters"
            " | millimetre | millimetres | millimeter | millimeters"
        ),
        "length": (
            "<number> [<tape_unit>] | <integer> (inch | inches) and <fraction>"
            " | half an inch | an inch | a centimetre | a centimeter | <fraction> of an inch"
        ),
        "weight": "<number> [gram | grams | ounce | ounces]",
        "grams": "<number> (gram | grams | ounce | ounces)",
        "ball_length": "<number> (metre | metres | meter | meters | yard | yards)",
    }.items()
}
"""Number rules for recognisers, in terms of each other."""
