"""Sections of a write-up that do not list rounds: materials, gauge, head, terms and notes."""

from __future__ import annotations

import math

from pattern.forecast.yarn_left import at_most
from pattern.gauge.estimate import Estimate
from pattern.gauge.prior import prior
from pattern.gauge.yarn_use import Need
from pattern.session.decide_yarn import times_learned
from pattern.session.state import State
from pattern.shape.settings import Settings
from pattern.trade.head_medians import Sex, hat_size_us, head_median_mm
from pattern.trade.lengths import Unit, factor
from pattern.trade.stitches import STITCHES, Terms, chain_counts, stitch_name
from pattern.trade.yarns_and_hooks import YARNS
from pattern.writeup import measure_text as text
from pattern.writeup.document import Items, Paragraph, Section, Table
from pattern.writeup.written_rounds import short_name


def materials(state: State, need: Need) -> Section:
    """Yarn and hook, and the yarn needed for the whole piece."""
    settings, yards = state.settings, factor(Unit.METRE, Unit.YARD)
    in_yards = Estimate(need.metres.mean * yards, need.metres.sd * yards)
    fibre = f", {settings.fibre.value}" if settings.fibre else ""
    rows = [
        ("Yarn", f"class {settings.yarn}, {YARNS[settings.yarn].name}{fibre}"),
        ("Yarn needed, metres", _at_most(need.metres)),
        ("Yarn needed, yards", _at_most(in_yards)),
        ("Yarn needed, grams", _at_most(need.grams)),
    ]
    if need.balls is not None:
        rows.append(("Yarn needed, balls", f"{math.ceil(at_most(need.balls))}"))
    band = [f"{settings.ball_g:g} g"] if settings.ball_g else []
    band += [f"{settings.ball_m:g} m ({settings.ball_m * yards:.0f} yd)"] if settings.ball_m else []
    if band:
        rows.append(("A ball, by its band", ", ".join(band)))
    rows.append(("Hook", _hooks(state)))
    table = Table("Yarn and hook", ("Item", "Amount"), tuple(rows))
    also = Paragraph("Also a stitch marker, a blunt needle, scissors and a tape measure.")
    return Section("Materials", (table, Paragraph(_yarn_source(state)), also))


def _at_most(need: Estimate) -> str:
    return f"{need.mean:.0f}, at most {at_most(need):.0f}"


def _hooks(state: State) -> str:
    """All hooks that were used, each with its rounds."""
    said, first = [], 1
    for last, hook_mm in state.hooks_before:
        rounds = f"rounds {first} to {last}" if last > first else f"round {first}"
        said.append(f"{hook_mm:g} mm for {rounds}")
        first = last + 1
    now = f"{state.settings.hook:g} mm"
    return ", ".join([*said, f"{now} from round {first} on" if said else now])


def _yarn_source(state: State) -> str:
    times = times_learned(state)
    if state.weighed and state.weighed[-1].stitches and not times:
        return "The yarn was weighed once; how much is needed is usual for the gauge."
    if not times:
        return "The yarn needed is what is usual for the gauge; none was weighed along the way."
    return f"The yarn needed was learned by weighing it {times} time{'s' * (times > 1)} on the way."


def gauge(state: State) -> Section:
    """The gauge and its origin."""
    known, unit = state.piece.gauge, state.settings.unit
    width, height = known.of((1.0, 0.0, 0.0)), known.of((0.0, 1.0, 0.0))
    rows = (
        ("Stitches", text.stitches_in(width.mean, unit), text.fine_length(width, unit)),
        ("Rounds", text.stitches_in(height.mean, unit), text.fine_length(height, unit)),
    )
    table = Table("Gauge in rounds", ("What", "How many", "One measures"), rows)
    return Section("Gauge", (table, Paragraph(_source(state)), *_swatches(state)))


def _swatches(state: State) -> tuple[Items | Paragraph, ...]:
    """Measurements of the swatches and the effect of washing; empty without either."""
    unit = state.settings.unit
    lines = tuple(
        f"Swatch{', washed' * one.washed}: {one.count} {'rounds' if one.rounds else 'sts'} in "
        f"{text.length(one.length_mm, unit)}."
        for one in state.swatches
    )
    items = (Items(lines),) if lines else ()
    if state.washing is None:
        return items
    around, deep = (f"{100 * ratio:.1f} %" for ratio in (state.washing.width, state.washing.height))
    return (
        *items,
        Paragraph(
            f"After washing it is {around} as wide and {deep} as high as before; "
            "the measures to work to allow for that."
        ),
    )


def _source(state: State) -> str:
    readings = sum(1 for _ in state.readings_taken())
    if state.swatches and not readings:
        return "Learned from a swatch; no tape was laid on this piece yet."
    if readings:
        return (
            f"Learned from {readings} reading{'s' * (readings > 1)} of the tape on the piece "
            "itself, and from how it lay where that was said."
        )
    if state.known is not None:
        return (
            f"Carried over from {state.known.piece}, scaled to this yarn and hook; no tape was "
            "laid on this piece yet."
        )
    if prior(state.settings).mean != state.piece.gauge.mean:
        return "From the published gauge of the yarn and hook, and from how the piece lay."
    return "From the published gauge of the yarn, scaled to the hook; not measured on a piece yet."


def head(settings: Settings) -> tuple[Paragraph, ...]:
    """The head that the piece is for, and whether it was measured."""
    unit, ease = settings.unit, settings.ease_mm
    around = text.length(settings.girth_mm - ease, unit)
    less = "smaller" if ease < 0 else "larger"
    size = text.mixed(hat_size_us(settings.girth_mm - ease))
    words = f"For a head of {around} around, measured level above the ears (US hat size {size})."
    if ease:
        words += f" The hat is made {text.plain_length(abs(ease), unit)} {less} than that."
    if head_from_table(settings):
        words += " This size came from a table. Measure the head if you can: a measured head wins."
    return (Paragraph(words),)


def head_from_table(settings: Settings) -> bool:
    """Whether the head size is from a table or the default, not measured."""
    if settings.head_mm is None:
        return True
    if settings.age_years is None:
        return False
    medians = [head_median_mm(settings.age_years, sex) for sex in Sex]
    known = (*medians, sum(medians) / len(medians))
    return any(abs(settings.head_mm - girth) < 1e-6 for girth in known)


def abbreviations(settings: Settings, *, decreasing: bool) -> Section:
    """Abbreviations of this document, and the stitch's name in the other dialect."""
    stitch, terms = settings.stitch, settings.terms
    other = Terms.UK if terms is Terms.US else Terms.US
    short, name = short_name(stitch, terms), stitch_name(stitch, terms)
    rows = [("st, sts", "stitch, stitches"), (short, name)]
    if decreasing:
        rows.append((f"{short}2tog", f"work the next two stitches together as one {name}"))
    rows.append((slip_name(terms), "slip stitch"))
    if settings.joined:
        rows.append(("ch", "chain"))
    table = Table("Abbreviations", ("Short", "Meaning"), tuple(rows))
    words = (
        f"This pattern uses {terms.value.upper()} terms. In {other.value.upper()} terms "
        f"{name} is called {stitch_name(stitch, other)}, {short_name(stitch, other)}."
    )
    return Section("Terms and abbreviations", (Paragraph(words), table))


def how_to_work(settings: Settings) -> tuple[Paragraph, ...]:
    """How rounds begin and end, and how to read the brackets. Common practice, no source."""
    ring = (
        "The ring is a loop of yarn that is pulled tight after round 1; or chain 2 and work "
        "round 1 into the first chain."
    )
    chains, slip = STITCHES[settings.stitch].turning_chains, slip_name(settings.terms)
    if chain_counts(settings.stitch, settings.terms):
        closing = (
            f"Begin each round, also round 1, with ch {chains}, which counts as its first st; "
            f"close it with {slip} in the top of that ch."
        )
    else:
        closing = (
            f"Begin each round, also round 1, with ch {chains}, which does not count as a st; "
            f"close it with {slip} in its first st, and work the next first st there."
        )
    spiral = "Work in a spiral without joining; keep a marker in the first st of each round."
    reading = "Work what stands in brackets as often as is said behind them, in all."
    return (Paragraph(" ".join((ring, closing if settings.joined else spiral, reading))),)


def notes(state: State) -> tuple[Section, ...]:
    """The maker's notes; empty without notes."""
    items = tuple(
        f"{f'Round {one.round}' if one.round else 'Before round 1'}: {one.text}"
        for one in state.notes
    )
    return (Section("Notes", (Items(items),)),) if items else ()


def slip_name(terms: Terms) -> str:
    """The abbreviation of a slip stitch."""
    return "sl st" if terms is Terms.US else "ss"
