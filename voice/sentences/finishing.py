"""Tells the steps after the last round, and the cautions that apply."""

from __future__ import annotations

from pattern.session.state import FINISHING_STEPS, State
from pattern.shape.catalogue import Form
from pattern.shape.settings import Settings
from pattern.trade.cautions import CAUTIONS, Caution
from pattern.trade.fibres import CARE, LABEL
from pattern.trade.stitches import lower_than, stitch_name
from pattern.writeup.measures import measures, wide_top_mm
from voice.sentences.amounts import joined, with_unit
from voice.sentences.parts import depth_so_far

_STEPS: dict[str, str] = {
    "end": "To end the spiral, slip stitch into the next two stitches, so that no step shows.",
    "fasten": "Cut the yarn a hand's length away, and pull it through the last loop.",
    "weave": "Weave in every end on the inside, a few stitches one way and a few back.",
    "shape": "Shape it over a bowl of the head's size, and let it dry.",
}
"""Common practice, no source."""
_OTHERWISE: dict[tuple[Form, str], str] = {
    (Form.FLAT, "shape"): "Pin it out flat and round, and let it dry.",
    (Form.HOLLOW, "shape"): "Dry it over a form of its size.",
    (Form.CLOSED, "end"): "Fill it now through the opening, if it is to be filled.",
    (Form.CLOSED, "fasten"): (
        "Cut the yarn two hands' lengths away, and pull it through the last loop."
    ),
    (Form.CLOSED, "weave"): (
        "Thread the end through the front of each last stitch, pull it closed, and hide the end "
        "inside."
    ),
    (Form.CLOSED, "shape"): "Roll it between your hands until it is round.",
}
"""Steps that differ for a piece that is not a hat. Common practice, no source."""
_UNKNOWN_FIBRE = (
    "Wash it as the ball band says; for more, tell me the fibre, such as: the yarn is cotton."
)
_JOINED_END = "Join the round with a slip stitch in its first stitch."

CAUTION_SENTENCES: dict[str, str] = {
    "cords": (
        "For a child under seven, no cords or ties at the head or neck; "
        "follow the rules where you live."
    ),
    "small parts": "For a child under three, sew on no buttons, beads or other small parts.",
    "sleep": "Take the hat off a baby before sleep, and indoors; ask your doctor or midwife.",
    "shade": "The brim gives shade, but no tested sun protection: use other protection too.",
    "hands": (
        "Rest your hands now and then. If they hurt, stop, and see a doctor if it doesn't go away."
    ),
}
"""A sentence for each caution of the tables."""


def step(state: State) -> str:
    """The step of the finishing that is called now."""
    name = FINISHING_STEPS[state.step]
    if name == "cautions":
        return joined(
            cautions(state.settings),
            "Say next to end.",
            "Or say another one, and its size.",
        )
    said = _said(name, state.settings)
    return f"{said} Say next when that is done." if not state.brief else said


def _said(name: str, settings: Settings) -> str:
    """A step, as it is done with this shape and this fibre."""
    joins = name == "end" and settings.joined
    form = settings.shape.form
    said = _OTHERWISE.get((form, name), _JOINED_END if joins else _STEPS[name])
    if name == "end" and form is not Form.CLOSED and not joins:
        said = _spiral_end(settings)
    if name != "shape" or form is Form.CLOSED:
        return said
    if (top_mm := wide_top_mm(settings)) is not None:
        plate = with_unit(top_mm, settings, 8)
        said = f"Shape it over a plate as wide as its top, {plate}, and let it dry."
    care = CARE.get(settings.fibre) if settings.fibre else None
    if care is None:
        return joined(f"{_UNKNOWN_FIBRE} {LABEL}", said)
    return joined(care.wash, said, care.brim if settings.brim else "", LABEL)


def _spiral_end(settings: Settings) -> str:
    """A spiral of taller stitches steps down by the lower ones first."""
    lower = [stitch_name(one, settings.terms) for one in lower_than(settings.stitch)]
    if not lower:
        return _STEPS["end"]
    down = ", then one ".join(lower)
    return (
        f"To end the spiral, work one {down}, then slip stitch into the next two stitches: "
        "so it steps down."
    )


def steps(state: State) -> str:
    """All the steps in short, before they are called one by one."""
    settings = state.settings
    return joined(
        *(_said(name, settings) for name in FINISHING_STEPS[:3]),
        "Then wash and shape it: say how do I wash it.",
    )


def washing(state: State) -> str:
    """How it is washed and shaped."""
    return _said("shape", state.settings)


def cautions(settings: Settings) -> str:
    """The cautions that concern this hat, those for children first, and in one breath where they
    are three: they are all told at the end, and not in pages.
    """
    found = [caution for caution in CAUTIONS if _concerns(caution, settings)]
    young = [caution for caution in found if caution.under_years is not None]
    if len(young) < len(_IN_SHORT):
        return joined(*(CAUTION_SENTENCES[caution.key] for caution in found))
    others = (CAUTION_SENTENCES[caution.key] for caution in found if caution not in young)
    return joined(UNKNOWN_AGE if settings.age_years is None else ALL_YOUNG, *others)


def child(settings: Settings) -> str:
    """The cautions for a child's hat; nothing for a grown head."""
    if settings.age_years is None and settings.shape.for_head:
        return UNKNOWN_AGE if settings.head < CHILD_GIRTH_MM else ""
    return joined(
        *(
            CAUTION_SENTENCES[c.key]
            for c in CAUTIONS
            if c.under_years is not None and _concerns(c, settings)
        )
    )


def child_first(settings: Settings) -> str:
    """The same in one breath, for the first words of a piece; nothing for a grown head."""
    said = [
        _IN_SHORT[c.key] for c in CAUTIONS if c.under_years is not None and _concerns(c, settings)
    ]
    if not said:
        return ""
    unknown = settings.age_years is None
    return f"{'If it is for a child' if unknown else 'For a child'}: {', '.join(said)}."


_IN_SHORT = {"cords": "no cords or ties", "small parts": "no small parts", "sleep": "off for sleep"}


def _concerns(caution: Caution, settings: Settings) -> bool:
    if caution.only_brimmed and not settings.brim:
        return False
    if caution.only_worn and settings.shape.form is not Form.WORN:
        return False
    if caution.under_years is None:
        return True
    age = settings.age_years
    if age is None and not settings.shape.for_head:
        return settings.shape.form is Form.CLOSED  # a ball may be a toy
    return age < caution.under_years if age is not None else settings.head < CHILD_GIRTH_MM


ALL_YOUNG = (
    "For a child: no cords or ties under seven, no small parts under three, off a baby for sleep; "
    "follow the rules where you live."
)
UNKNOWN_AGE = f"If it is for{ALL_YOUNG.removeprefix('For')}"
CHILD_GIRTH_MM = 530.0
"""A head smaller than this, of unknown age, may be a child's: below nearly all adults (ANSUR II:
women 56.1 cm, standard deviation 1.94)."""


_AND_NOW = "Say another one, or leave."


def done(state: State) -> str:
    """The last words."""
    shape, found = state.settings.shape, measures(state.piece)
    size = f"{with_unit(found.girth.mean, state.settings, 8)} around"
    if not shape.for_head:
        size = f"{with_unit(found.across.mean, state.settings, 8)} across"
    deep = f", {depth_so_far(state.piece)}" if "depth_mm" in shape.asked else ""
    return joined(f"the {shape.noun} is done: {size}{deep}.", "Its pattern is kept.", _AND_NOW)
