"""The facts on the first sheet: size, yarn, hook, gauge, and what else is needed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from pattern.forecast.yarn_left import at_most
from pattern.gauge.yarn_use import Need
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.shape.settings import Settings
from pattern.trade.head_medians import Sex, hat_size_us, head_median_mm
from pattern.trade.hook_names import hook_letter
from pattern.trade.lengths import Unit, factor
from pattern.trade.stitches import stitch_name
from pattern.trade.yarns_and_hooks import YARNS
from pattern.writeup.document import Facts
from pattern.writeup.measure_text import both_lengths, length, mixed
from pattern.writeup.named_measures import Named, head_mm

_SKILL = {1: "Basic: one part, increases only", 2: "Easy: simple shaping"}
"""By the number of parts, two for more. Source: skill levels of the Craft Yarn Council (from
memory)."""


def glance(state: State, need: Need, named: Sequence[Named]) -> Facts:
    """The facts on the first sheet."""
    return Facts(tuple(_facts(state, need, named)))


def _facts(state: State, need: Need, named: Sequence[Named]) -> Iterator[tuple[str, str]]:
    settings = state.settings
    if settings.shape.for_head:
        yield "Size", size(settings)
    yield from finished(state, named)
    yield "Yarn", yarn(settings, need)
    yield "Hook", hooks(state)
    yield "Gauge", gauge(state)
    yield "Notions", notions(settings)
    yield "Skill", _SKILL[min(len(settings.shape.parts), 2)]


def finished(state: State, named: Sequence[Named]) -> Iterator[tuple[str, str]]:
    """The measures of the finished piece, and those before washing where washing changes them."""
    unit = state.settings.unit
    if state.wanted is None:
        yield "Finished", _listed((one.name, both_lengths(one.found.mean, unit)) for one in named)
        return
    washed = ((one.name, both_lengths(one.wanted_mm, unit)) for one in named)
    yield "After washing", _listed(washed)
    before = ((one.name, both_lengths(one.found.mean, unit)) for one in named)
    yield "Before washing", _listed(before)


def _listed(pairs: Iterator[tuple[str, str]]) -> str:
    words = "; ".join(f"{name.lower()} {value}" for name, value in pairs)
    return words[0].upper() + words[1:]


def size(settings: Settings) -> str:
    """The head that the piece is for, and how much it stretches or leaves."""
    unit, ease, head = settings.unit, settings.ease_mm, head_mm(settings)
    words = f"For a head of {length(head, unit)}, US hat size {mixed(hat_size_us(head))}"
    if ease:
        less = "smaller" if ease < 0 else "larger"
        words += f"; the hat is {both_lengths(abs(ease), unit)} {less}"
    if head_from_table(settings):
        words += ". This size is from a table: measure the head if you can"
    return words


def head_from_table(settings: Settings) -> bool:
    """Whether the head size is from a table or the default, not measured."""
    if settings.head_mm is None:
        return True
    if settings.age_years is None:
        return False
    medians = [head_median_mm(settings.age_years, sex) for sex in Sex]
    known = (*medians, sum(medians) / len(medians))
    return any(abs(settings.head_mm - girth) < 1e-6 for girth in known)


def yarn(settings: Settings, need: Need) -> str:
    """The yarn, and how much of it to have."""
    fibre = f", {settings.fibre.value}" if settings.fibre else ""
    kind = f"{YARNS[settings.yarn].name.capitalize()} (class {settings.yarn}){fibre}"
    metres, grams = tens(need.metres.mean), tens(need.grams.mean)
    words = f"{kind}: about {metres} m ({yards(metres)} yd) or {grams} g"
    safe = tens(at_most(need.metres))
    if need.balls is None:
        return f"{words}; to be safe, {safe} m ({yards(safe)} yd)"
    balls, band = math.ceil(at_most(need.balls)), _band(settings)
    return f"{words}; to be safe, {balls} ball{'s' * (balls > 1)}{band}"


def _band(settings: Settings) -> str:
    band = [f"{settings.ball_g:g} g"] if settings.ball_g else []
    band += [f"{settings.ball_m:g} m ({yards(settings.ball_m)} yd)"] if settings.ball_m else []
    return f" of {', '.join(band)}" if band else ""


def tens(amount: float) -> int:
    """An amount of yarn, up to the next 5, or 10 above 100."""
    step = 5 if amount <= 100 else 10
    return step * math.ceil(amount / step)


def yards(metres: float) -> int:
    """The same length in yards."""
    return round(metres * factor(Unit.METRE, Unit.YARD))


def hooks(state: State) -> str:
    """All hooks that are used, each with its rounds where there are several."""
    if not state.hooks_before:
        return hook(state.settings.hook)
    said, first = [], 1
    for last, hook_mm in state.hooks_before:
        rounds = f"rounds {first} to {last}" if last > first else f"round {first}"
        said.append(f"{hook(hook_mm)} for {rounds}")
        first = last + 1
    return ", ".join([*said, f"{hook(state.settings.hook)} from round {first} on"])


def hook(mm: float) -> str:
    """A hook by its size, such as "5 mm (US H-8)"."""
    name = hook_letter(mm)
    return f"{mm:g} mm (US {name})" if name else f"{mm:g} mm"


def gauge(state: State) -> str:
    """The gauge as patterns give it, to half a stitch."""
    known, settings = state.piece.gauge, state.settings
    many = (f"{round(200 / mm) / 2:g}" for mm in (known.width_mm, known.height_mm))
    over = "4 in (10 cm)" if settings.unit is Unit.INCH else "10 cm (4 in)"
    stitch = stitch_name(settings.stitch, settings.terms)
    return f"{next(many)} sts and {next(many)} rounds = {over} in {stitch}, worked in rounds"


def notions(settings: Settings) -> str:
    """Tools and material besides yarn and hook. Common practice, no source."""
    filling = ", filling" if settings.shape.form is Form.CLOSED else ""
    return f"Stitch marker, blunt needle, scissors, tape measure{filling}"
