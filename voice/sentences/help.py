"""Help by ear: what can be said now, and more about one topic; the words are the phrase table's."""

from __future__ import annotations

from pattern.session.state import State
from pattern.shape.catalogue import BRIMMED_HAT, SHAPES
from pattern.shape.interview import FIXED_BY_RING
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Unit
from voice.sentences.amounts import joined
from voice.sentences.examples import example
from voice.sentences.questions import NAMES
from voice.words.phrases import PHRASES, TOPICS

_OTHERS = ", ".join(f"a {shape.name}" for shape in SHAPES if shape is not BRIMMED_HAT)
_FIXED = [name for key, name in NAMES.items() if key in FIXED_BY_RING]
_LEAD: dict[str, str] = {
    "measuring": (
        "Lay the piece flat, unstretched, and read the tape to the sixteenth or the millimetre."
    ),
    "counting": "Count the stitches of the round you finished, from the marker.",
    "ripping back": "Pull out whole rounds, back to the marker, then tell me how many.",
    "looking": "Lay it on a table: a flat edge is right, a wavy one has too many stitches.",
    "speaking": "I speak as you like it, and remember it with the piece.",
    "changing": (
        f"Once the ring is worked, {', '.join(_FIXED[:-1])} and {_FIXED[-1]} stay. All else may "
        "change, for the rounds not yet worked."
    ),
    "yarn": "Weigh the yarn before you begin and now and then: so I learn what you use.",
    "a lost place": (
        "Count the stitches of the last whole round, or those between two increases in it."
    ),
    "notes": "A note goes into the pattern, with the round it was said at.",
    "a swatch": (
        "Before you begin, measure a swatch worked in the round; then wash it, dry it, and measure "
        "the same stitches again: so the hat fits after washing."
    ),
    "finishing": "After the last round I say each step; say next when it is done.",
    "trying on": (
        "Pull the loop long, put a marker through it, and try it on: after two straight rounds, "
        "near the end of the sides, and on the brim."
    ),
    "touch": (
        "A string cut to the head, with a knot at its half and its quarter, needs no eyes: lay it "
        "along the edge, and tell what is over in fingers."
    ),
    "trims": "I know the piece only by its readings: measure before you cut.",
    "decorating": (
        "I call a decoration step by step: say next, again or back. Your round waits where it is."
    ),
    "sizes": "Tables give the middle and the range of heads; the head itself decides.",
    "tension": "A smaller hook closes gaps, a larger one makes cloth softer.",
    "resting": "I hint at a rest of the hands after every half hour of work.",
    "shapes": f"A {BRIMMED_HAT.name}, unless you name another before the first round: {_OTHERS}.",
    "setting up": "Answer, or say skip for the usual, or begin to skip the rest.",
}
"""Instruction before the words to say."""


def overview(state: State) -> str:
    """The few words that matter now."""
    if state.paused:
        return "Paused. Say resume to go on, where am I, or leave."
    if state.stage is Stage.SETUP:
        return joined(_LEAD["setting up"], "Say again to hear the question.")
    if state.doubt is not None:
        return "Say yes, or no, or the right number."
    topics = ", ".join(sorted(set(TOPICS.values()) - {"setting up"}))
    across = example("across <length>", state.settings.unit)
    return joined(
        "say next when the round is done, or again, back, where am I, how many more, undo, pause.",
        f"Readings: {across}, count forty eight, it ripples.",
        f"Say help with: {topics}.",
    )


_LATER = ("another one", "start the next part", "my hands hurt", "change something")
"""Beginnings of phrases that belong to a topic, and are not its own matter."""


def topic(name: str, unit: Unit = Unit.CM) -> str:
    """How a thing is done, and the words for it; lengths in them are in the unit."""
    rows = [phrase for phrase in PHRASES if phrase.topic == name and phrase.help]
    rows.sort(key=lambda phrase: phrase.forms[0].startswith(_LATER))
    ways = [f"{_written(phrase.forms[0], unit)}: {phrase.help}." for phrase in rows]
    return joined(_LEAD[name], "Say " + ways[0], *ways[1:])


def _written(form: str, unit: Unit) -> str:
    """An example as a person writes it: phrases are kept in small letters."""
    return " ".join("I" if word == "i" else word for word in example(form, unit).split())
