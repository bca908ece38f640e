"""Odd TOML: shapes and scenarios with something wrong in them."""

from __future__ import annotations

import random
import re

from pattern.errors import RoundsAloudError
from pattern.shape.catalogue import SHAPES
from pattern.shape.shape_text import as_text
from tests.bench.attack.field import Field, TooLong, here, limited
from tests.command_lines import ended
from tests.small_hat import SCENARIO
from voice.rehearsal import scripted

ODD = (
    "inf",
    "nan",
    "-1",
    "0",
    "1e308",
    "1e-308",
    "9" * 400,
    "9" * 5000,
    "0x" + "f" * 5000,
    "true",
    "[]",
    "{}",
    '""',
    '"x"',
    "1979-05-27",
    "[" * 3000,
    "{a=" * 3000,
    '"9**9**9 cm"',
    '"1e400 mm"',
    '"3000 mm"',
    '"0.001 mm"',
    "6",
    "0.001",
    "180",
    "85",
    '"depth"',
    '"brim"',
    '"height"',
    '"taper"',
    '"side"',
    '"ball"',
    "\x00",
    "=",
    '"\\ud800"',
    "'''",
    "a.a.a.a.a.a.a.a.a.a = 1",
)
_VALUE = re.compile(r"(?<== ).+$", re.MULTILINE)


def _changed(text: str, rng: random.Random) -> str:
    for _ in range(rng.randint(1, 3)):
        found = [*_VALUE.finditer(text)]
        if found and rng.random() < 0.7:
            one = rng.choice(found)
            text = text[: one.start()] + rng.choice(ODD) + text[one.end() :]
            continue
        lines = text.splitlines(keepends=True) or [""]
        at = rng.randrange(len(lines))
        lines[at : at + rng.randint(0, 2)] = [rng.choice([*lines, rng.choice(ODD) + "\n"])]
        text = "".join(lines)
    return text


def shapes(field: Field) -> None:
    """Planned, or refused with a sentence, within 10 s."""
    file = field.place / "shape.toml"
    with here(field.place):
        while field.going:
            shape = as_text(field.rng.choice(SHAPES)).replace('name = "', 'name = "my ', 1)
            file.write_text(text := _changed(shape, field.rng), "utf-8", "surrogatepass")
            try:
                with limited():
                    why = ended(["plan", f"--shape={file}"]).fallen
            except TooLong:
                why = "no end within 10 s"
            field.check(why, text[:400])


def scenarios(field: Field) -> None:
    """Read, or refused with a sentence; they are not played, which would take a minute each."""
    file = field.place / "scenario.toml"
    while field.going:
        file.write_text(text := _changed(SCENARIO, field.rng), "utf-8", "surrogatepass")
        why = None
        try:
            with limited():
                scripted.load(file)
        except TooLong:
            why = "no end within 10 s"
        except RoundsAloudError as refused:
            why = None if str(refused) and len(str(refused)) < 1000 else "no sentence to be read"
        except Exception as fault:  # whatever it is, it is no refusal
            why = repr(fault)[:200]
        field.check(why, text[:400])
