"""Phrases about the yarn: its ball, its weight."""

from __future__ import annotations

from pattern.session import commands as c
from pattern.trade.fibres import Fibre
from voice.words.phrases.row import Group, Phrase, amount_of, first, fixed


def _weighed(help_: str, *forms: str) -> Phrase:
    return Phrase(
        Group.CHANGE, "yarn", help_, forms, lambda slots: c.Weighed(amount_of(first(slots)))
    )


def _fibre(fibre: Fibre) -> Phrase:
    name = fibre.value
    return Phrase(
        Group.CHANGE,
        "finishing",
        "the fibre, for the washing",
        (f"the yarn is {name}", f"it is {name}", f"{name} yarn"),
        fixed(c.Choose("fibre", name)),
    )


ROWS: tuple[Phrase, ...] = (
    _weighed(
        "what the scales say is left of the yarn",
        "weighed <weight> [left]",
        "<grams> left",
        "<grams> are left",
        "i have <grams> left",
        "there are <grams> left",
        "[the] scales say <weight>",
    ),
    Phrase(
        Group.CHANGE,
        "yarn",
        "the yarn there is, by weight",
        (
            "i have <grams> [of yarn]",
            "there are <grams> [of yarn]",
            "my yarn weighs <weight>",
            "change [the] yarn to <grams>",
        ),
        lambda slots: c.Change("stash_g", amount_of(first(slots))),
    ),
    Phrase(
        Group.CHANGE,
        "yarn",
        "the yarn there is, in balls",
        (
            "i have <number> (balls | ball) [of yarn]",
            "there are <number> balls [of yarn]",
            "<number> (balls | ball) [of yarn]",
        ),
        lambda slots: c.HaveBalls(slots["number"]),
    ),
    Phrase(
        Group.WORK,
        "yarn",
        "how to join the next ball; noted with its round",
        (
            "new ball",
            "i need a new ball",
            "next ball",
            "i start a new ball",
            "[the | my] ball is (finished | empty)",
        ),
        fixed(c.NewBall()),
    ),
    *map(_fibre, Fibre),
    Phrase(
        Group.CHANGE,
        "yarn",
        "what the band of a ball says",
        (
            "[a | the | one] ball weighs <weight>",
            "[a | the] ball is <grams>",
            "<grams> (a | in a | per) ball",
        ),
        lambda slots: c.Change("ball_g", amount_of(first(slots))),
    ),
    Phrase(
        Group.CHANGE,
        "yarn",
        "how long the yarn of a ball is",
        (
            "[a | the | one] ball has <ball_length>",
            "[a | the] ball is <ball_length> [long]",
            "<ball_length> (a | in a | per) ball",
        ),
        lambda slots: c.Change("ball_m", amount_of(first(slots))),
    ),
)
"""Phrases about yarn."""
