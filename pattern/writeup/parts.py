"""The sections of a write-up that do not list rounds: yarn, gauge, terms, finishing, cautions."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pattern.gauge.estimate import Estimate, prior
from pattern.gauge.yarn_use import Need
from pattern.session.decide_yarn import times_learned
from pattern.session.state import State
from pattern.shape.catalogue import Form
from pattern.shape.settings import Settings
from pattern.trade.cautions import CAUTIONS, Caution, brim_for_shade_mm
from pattern.trade.head_medians import Sex, hat_size_us, head_median_mm
from pattern.trade.lengths import Unit, factor
from pattern.trade.stitches import STITCHES, Terms, stitch_name
from pattern.trade.yarns_and_hooks import YARNS
from pattern.writeup import measure_text as text
from pattern.writeup.document import Items, Paragraph, Section, Table
from pattern.writeup.written_rounds import short_name

CAUTION_TEXTS: Mapping[str, str] = MappingProxyType(
    {
        "cords": "No cords, drawstrings or ties at the head and neck: they can catch. If the hat "
        "must be held, use a fastener that breaks away.",
        "small parts": "No buttons, beads or sewn-on eyes: they can come off and be swallowed.",
        "sleep": "No hat while asleep: it can cover the face, and a baby can overheat.",
        "hands": "Rest your hands: half a minute every ten minutes, and two minutes every half "
        "hour. With pain, numbness or tingling, stop and ask a health professional.",
    }
)
"""By key of `CAUTIONS`, where the sources are; shade is worded by its width."""
_LOCAL = (
    "These are the usual cautions and no legal advice. Rules differ between countries, and between "
    "gifts and goods for sale: where they differ, your local rules decide."
)


def materials(state: State, need: Need) -> Section:
    """Yarn and hook, and how much yarn the whole hat needs."""
    settings, yards = state.settings, factor(Unit.METRE, Unit.YARD)
    in_yards = Estimate(need.metres.mean * yards, need.metres.sd * yards)
    fibre = f", {settings.fibre.value}" if settings.fibre else ""
    rows = [
        ("Yarn", f"class {settings.yarn}, {YARNS[settings.yarn].name}{fibre}"),
        ("Yarn needed, metres", text.rounded(need.metres)),
        ("Yarn needed, yards", text.rounded(in_yards)),
        ("Yarn needed, grams", text.rounded(need.grams)),
    ]
    if need.balls is not None:
        rows.append(("Yarn needed, balls", text.rounded(need.balls, 1)))
    band = [f"{settings.ball_g:g} g"] if settings.ball_g else []
    band += [f"{settings.ball_m:g} m ({settings.ball_m * yards:.0f} yd)"] if settings.ball_m else []
    if band:
        rows.append(("A ball, by its band", ", ".join(band)))
    rows.append(("Hook", f"{settings.hook:g} mm"))
    table = Table("Yarn and hook", ("Item", "Amount"), tuple(rows))
    also = Paragraph("Also a stitch marker, a blunt needle, scissors and a tape measure.")
    return Section("Materials", (table, Paragraph(_yarn_source(state)), also))


def _yarn_source(state: State) -> str:
    times = times_learned(state)
    if not times:
        return "The yarn needed is what is usual for the gauge; none was weighed along the way."
    return f"The yarn needed was learned by weighing it {times} time{'s' * (times > 1)} on the way."


def gauge(state: State) -> Section:
    """The gauge, and where it is known from."""
    known, unit = state.piece.gauge, state.settings.unit
    width, height = known.of((1.0, 0.0, 0.0)), known.of((0.0, 1.0, 0.0))
    rows = (
        ("Stitches", text.stitches_in(width.mean, unit), text.fine_length(width, unit)),
        ("Rounds", text.stitches_in(height.mean, unit), text.fine_length(height, unit)),
    )
    table = Table("Gauge in rounds", ("What", "How many", "One measures"), rows)
    return Section("Gauge", (table, Paragraph(_source(state)), *_swatches(state)))


def _swatches(state: State) -> tuple[Items | Paragraph, ...]:
    """What was measured on swatches, and what washing does; nothing without any."""
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
    """For which head, and whether that head was measured."""
    unit, ease = settings.unit, settings.ease_mm
    girth = text.length(settings.girth_mm - ease, unit)
    less = "smaller" if ease < 0 else "larger"
    size = text.mixed(hat_size_us(settings.girth_mm - ease))
    words = f"For a head of {girth} around, measured level above the ears (US hat size {size})."
    if ease:
        words += f" The hat is made {text.plain_length(abs(ease), unit)} {less} than that."
    if head_from_table(settings):
        words += " This girth came from a table: a measured head wins."
    return (Paragraph(words),)


def head_from_table(settings: Settings) -> bool:
    """Whether the head's girth is a table's, or the default, rather than a measured one."""
    if settings.head_mm is None:
        return True
    if settings.age_years is None:
        return False
    medians = [head_median_mm(settings.age_years, sex) for sex in Sex]
    known = (*medians, sum(medians) / len(medians))
    return any(abs(settings.head_mm - girth) < 1e-6 for girth in known)


def abbreviations(settings: Settings, decreasing: bool) -> Section:
    """The terms of this document, and the same stitch in the other dialect."""
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
    """How the rounds begin and end, and how the brackets are read: common practice, no source."""
    ring = (
        "The ring is a loop of yarn that is pulled tight after round 1; or chain 2 and work "
        "round 1 into the first chain."
    )
    chains, slip = STITCHES[settings.stitch].turning_chains, slip_name(settings.terms)
    closing = (
        f"Close each round with {slip} in its first st; begin the next with ch {chains}, which "
        f"does not count as a stitch, and work its first st where the {slip} is."
    )
    spiral = "Work in a spiral without joining; keep a marker in the first st of each round."
    reading = "Work what stands in brackets as often as is said behind them, in all."
    return (Paragraph(" ".join((ring, closing if settings.joined else spiral, reading))),)


def cautions(settings: Settings) -> Section:
    """The cautions that apply to the wearer; of unknown age, each says for whom it is meant."""
    items = [_caution(caution, settings) for caution in CAUTIONS if _applies(caution, settings)]
    return Section("Cautions", (Items(tuple(items)), Paragraph(_LOCAL)))


def notes(state: State) -> tuple[Section, ...]:
    """What the maker noted on the way; nothing without notes."""
    items = tuple(
        f"{f'Round {one.round}' if one.round else 'Before round 1'}: {one.text}"
        for one in state.notes
    )
    return (Section("Notes", (Items(items),)),) if items else ()


def _applies(caution: Caution, settings: Settings) -> bool:
    age, under = settings.age_years, caution.under_years
    young = under is None or age is None or age < under
    worn = settings.shape.form is Form.WORN
    return (
        young
        and (settings.brim > 0 or not caution.only_brimmed)
        and (worn or not caution.only_worn)
    )


def _caution(caution: Caution, settings: Settings) -> str:
    words = _shade(settings) if caution.key == "shade" else CAUTION_TEXTS[caution.key]
    if caution.under_years is None or settings.age_years is not None:
        return words
    under = caution.under_years
    limit = f"{under:g} years" if under == int(under) else f"{12 * under:g} months"
    return f"For a child under {limit}: {words[0].lower()}{words[1:]}"


def _shade(settings: Settings) -> str:
    advised = text.length(brim_for_shade_mm(settings.age_years), settings.unit)
    children = f", {text.length(brim_for_shade_mm(8), settings.unit)} for a child to 8 years"
    return (
        "A crocheted hat gives shade and no more: light comes through its openings. A brim of "
        f"{advised} is advised for shade{children * (settings.age_years is None)}; this one is "
        f"{text.length(settings.brim, settings.unit)}."
    )


def slip_name(terms: Terms) -> str:
    """The abbreviation of a slip stitch."""
    return "sl st" if terms is Terms.US else "ss"
