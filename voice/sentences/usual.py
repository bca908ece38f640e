"""The usual answers, offered in one sentence, and how to change them."""

from __future__ import annotations

from pattern.shape.catalogue import BRIMMED_HAT, Form
from pattern.shape.interview import FIXED_BY_RING
from pattern.shape.settings import Settings
from pattern.shape.usual import usual_ease_mm
from voice.sentences.amounts import as_adjective, with_article, with_unit

BEGIN_OR_CHANGE = "Begin, or change something?"
"""The last question of the interview, in short."""


def offer(settings: Settings) -> str:
    """The last question of the interview: the piece as it is taken, and whether to begin."""
    return f"For the rest I take the usual: {piece(settings)}. {BEGIN_OR_CHANGE}"


def piece(settings: Settings) -> str:
    """The piece in a few words, with the size that nobody was asked for."""
    shape = settings.shape
    name = with_article(shape.name)
    if shape.form is not Form.WORN:
        high = f", {with_unit(settings.height, settings, 8)} high"
        return name + high * ("height_mm" in shape.asked)
    if "brim_mm" in shape.asked and settings.brim:
        wide = with_article(f"{as_adjective(settings.brim, settings)} brim")
        return f"{'a sun hat' if shape is BRIMMED_HAT else name} with {wide}"
    if shape is BRIMMED_HAT:
        name = "a hat with no brim"
    return name + _snug(settings)


def _snug(settings: Settings) -> str:
    """The difference to the head, said or usual."""
    ease_mm = settings.ease_mm or usual_ease_mm(settings)
    if abs(ease_mm) < 0.5:
        return ""
    way = "smaller" if ease_mm < 0 else "bigger"
    return f", {with_unit(abs(ease_mm), settings, 8)} {way} than the head"


_CHANGES: dict[str, tuple[str, str]] = {
    "shape": ("make a beanie", ""),
    "stitch": ("half double crochet", ""),
    "brim_mm": ("a wide brim", "make the brim eight centimetres"),
    "depth_mm": ("not too deep", "deeper by one centimetre"),
    "across_mm": ("make it thirty centimetres wide", "make it thirty centimetres wide"),
    "height_mm": ("make it ten centimetres high", "make it ten centimetres high"),
    "ease_mm": ("one centimetre smaller", "one centimetre smaller"),
}
"""Ways to change an answer, in words that a maker may copy: in the interview, and at work."""


def changes(settings: Settings, *, in_setup: bool) -> str:
    """How an answer is changed, by examples that make sense here."""
    said = [
        f"'{asked if in_setup else later}'"
        for key, (asked, later) in _CHANGES.items()
        if (in_setup and key in FIXED_BY_RING) or key in settings.shape.asked
    ]
    more = "Or say 'ask me everything'." if in_setup else "Or say 'help with changing'."
    return f"Say what you want otherwise, such as {', '.join(said)}. {more}"
