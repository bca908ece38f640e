"""Made-up command lines of every command, and plans within and outside the limits."""

from __future__ import annotations

import random

from pattern.shape.catalogue import SHAPES
from pattern.trade.stitches import Stitch
from tests.bench.attack.field import Field, TooLong, here, limited
from tests.command_lines import COMMANDS, ended, made_up

EACH = 1000
"""Command lines of each command at the most."""


def _in_time(argv: list[str]) -> str | None:
    """Why a command line fell, run in this process; None where it stood."""
    try:
        with limited():
            return ended(argv).fallen
    except TooLong:
        return "no end within 10 s"


def in_process(field: Field) -> None:
    """Every command by turns."""
    with here(field.place):
        for _ in range(EACH):
            for command in COMMANDS:
                if not field.going:
                    return
                argv = made_up(command, field.rng)
                field.check(_in_time(argv), argv)


def as_processes(field: Field) -> None:
    """The same from outside, with what only a process has: streams, signals, an exit code."""
    while field.going:
        argv = made_up(field.rng.choice(COMMANDS), field.rng)
        found = field.program(*argv, typed=b"next\nagain\n")
        field.check(found.fallen, (argv, found.err[-300:]))


def plans(field: Field) -> None:
    """Each within 10 s."""
    with here(field.place):
        while field.going:
            argv = ["plan", *_answers(field.rng)]
            field.check(_in_time(argv), argv)


def _answers(rng: random.Random) -> list[str]:
    """Mostly within the limits of each answer, now and then beyond, or at one of them."""
    ranges = {
        "head": (28, 72, "cm"),
        "depth": (8, 45, "cm"),
        "brim": (0, 25, "cm"),
        "hook": (1, 30, ""),
        "slope": (0, 85, ""),
        "fullness": (0.7, 2, ""),
        "ease": (-10, 10, "cm"),
        "start": (4, 24, ""),
        "across": (3, 200, "cm"),
        "height": (1, 100, "cm"),
        "ball-grams": (5, 2000, ""),
        "ball-metres": (5, 5000, ""),
        "stash": (1, 20000, ""),
        "age": (0, 120, ""),
    }
    chosen = rng.sample(sorted(ranges), rng.randint(1, 7))
    argv = [f"--{name}={_number(rng, *ranges[name])}" for name in chosen]
    argv += [f"--head={_number(rng, 28, 72, 'cm')}"] * (rng.random() < 0.1)
    choices = {
        "shape": [shape.name for shape in SHAPES],
        "yarn": [str(n) for n in range(8)],
        "stitch": [stitch.value for stitch in Stitch],
        "unit": ["cm", "mm", "inch"],
        "terms": ["us", "uk"],
        "swatch": [
            f"{rng.randint(1, 60)} stitches {rng.randint(1, 40)}cm",
            f"{rng.randint(1, 60)} rounds {rng.randint(1, 40)}cm",
        ],
    }
    argv += [
        f"--{name}={rng.choice(known)}" for name, known in choices.items() if rng.random() < 0.5
    ]
    flags = (["--joined", "--spiral"], ["--stacked", "--spread"], ["--json"])
    return argv + [rng.choice(flag) for flag in flags if rng.random() < 0.4]


def _number(rng: random.Random, low: float, high: float, unit: str) -> str:
    how = rng.random()
    if how < 0.1:
        value = rng.choice([low, high])
    elif how < 0.15:
        value = rng.choice([low - 1, high * 2, 0, 0.001, 10**6])
    else:
        value = rng.uniform(low, high)
    return f"{value:.{rng.randint(0, 2)}f}{unit}"
