"""How things are done by hand, told so that fingers can follow without eyes.

Common practice of the trade, no source, unless said beside a sentence. A topic is one breath of at
most 45 words; what follows it comes on "tell me more".
"""

from __future__ import annotations

from collections.abc import Callable

from pattern.session.state import State
from pattern.shape.settings import Settings
from pattern.trade.stitches import STITCHES, Stitch, chain_counts, stitch_name
from pattern.trade.techniques import Technique
from voice.sentences import about_measuring, about_trims, normal
from voice.sentences.rounds import CHAIN_COUNTS
from voice.words.spoken_numbers import say_integer


def explained(technique: Technique, state: State) -> tuple[str, ...]:
    """The pages of a topic, for the maker's stitch, terms and rounds."""
    if technique in normal.ANSWERS:
        return (normal.ANSWERS[technique](state),)
    pages = _PAGES[technique]
    return pages(state.settings) if callable(pages) else pages


def _chain(settings: Settings) -> tuple[str, ...]:
    """Which chains stand for a stitch. Source: a trade council's booklet, read as a copy: heights
    in chains."""
    name = stitch_name(settings.stitch, settings.terms)
    if not settings.joined:
        return (
            "You work a spiral: no chain, no joining. Just go on into the first stitch of the "
            "round before, and move the marker up.",
        )
    chains = say_integer(STITCHES[settings.stitch].turning_chains)
    counts = chain_counts(settings.stitch, settings.terms)
    into = "top of the chain" if counts else "first stitch"
    return (
        f"Each round begins with {chains} chain, to come up to the height of the stitch. For "
        f"{name}, {CHAIN_COUNTS[counts]}. The round ends with a slip stitch into the {into}.",
    )


def _starting_chain(settings: Settings) -> tuple[str, ...]:
    """The other way to begin. Source: a trade council's booklet, read as a copy."""
    chains = say_integer(STITCHES[settings.stitch].turning_chains + 1)
    counts = settings.joined and chain_counts(settings.stitch, settings.terms)
    start = say_integer(settings.increases - counts)
    return (
        f"Without a ring: chain {chains}, and work {start} stitches into the first chain you "
        "made, the one furthest from the hook. Pull the tail to close the hole.",
    )


_THE_STITCH: dict[Stitch, str] = {
    Stitch.SINGLE: (
        "hook under both loops of the stitch, yarn over, and pull a loop through: two on the hook. "
        "Yarn over again, and pull through both."
    ),
    Stitch.HALF_DOUBLE: (
        "yarn over, then hook under both loops of the stitch, yarn over, and pull a loop through: "
        "three on the hook. Yarn over again, and pull through all three."
    ),
    Stitch.DOUBLE: (
        "yarn over, then hook under both loops of the stitch, yarn over, and pull a loop through: "
        "three on the hook. Yarn over and pull through two, and once more through two."
    ),
    Stitch.TREBLE: (
        "yarn over twice, then hook under both loops of the stitch, yarn over, and pull a loop "
        "through: four on the hook. Three times: yarn over, and pull through two."
    ),
}


def _stitch(settings: Settings) -> tuple[str, ...]:
    name = stitch_name(settings.stitch, settings.terms)
    return (f"Your stitch is {name}: {_THE_STITCH[settings.stitch]}",)


_PAGES: dict[Technique, tuple[str, ...] | Callable[[Settings], tuple[str, ...]]] = {
    Technique.STITCH: _stitch,
    Technique.INCREASE: (
        "An increase is two stitches worked into the same stitch. Work one, then put the hook "
        "into the same place again, and work one more. With a finger you feel two stitches "
        "growing out of one. Plain is one in each stitch.",
    ),
    Technique.RING: (
        "Lay the yarn once around two fingers, tail towards you. Hook under the loop, pull the "
        "working yarn through, chain one. Work the stitches around the loop and the tail, then "
        "pull the tail: the ring closes.",
        "Slipped open? Keep the tail long, and run it round the ring once more with a needle "
        "before you weave it in.",
    ),
    Technique.FIRST_STITCH: (
        "The first stitch of a round goes into the first stitch of the round before: the one "
        "that holds the marker. Take the marker out, work the stitch, and put the marker into "
        "the new one.",
    ),
    Technique.MARKER: (
        "The marker sits in the first stitch of the round. When you come to it, take it out, "
        "work that stitch, and put it into the new one. A safety pin or a bit of other yarn "
        "will do. Keep pins from children.",
    ),
    Technique.CHAIN: _chain,
    Technique.DECREASE: (
        "A decrease makes one stitch of two. To hide it: hook under the front loops only of the "
        "next two stitches, one after the other, pull the yarn through both, then finish as "
        "usual.",
    ),
    Technique.LOOPS: (
        "Each stitch has a little V on top: two loops. The one nearer to you is the front loop, "
        "the one behind it the back loop. Unless I say otherwise, hook under both.",
    ),
    Technique.JOIN_BALL: (
        "Work the last stitch until two loops are on the hook. Drop the old yarn, pull the new "
        "one through both loops, and go on. Leave a hand's length of both ends to weave in.",
    ),
    Technique.COLOUR: (
        "Change in the last stitch of the old colour: when two loops are left on the hook, pull "
        "the new colour through both, and go on with it. In a spiral a stripe has a small step; "
        "that is normal.",
    ),
    Technique.END_SPIRAL: (
        "End a spiral with a slip stitch into the next stitch, and one more: so the last round "
        "steps down. Then cut a hand's length, and pull the end through the loop.",
    ),
    Technique.DROPPED: (
        "A loop off the hook cannot run down as in knitting: put the hook back into the open "
        "loop, from front to back, and go on. If a stitch was missed further back, count the "
        "round and tell me the count.",
    ),
    Technique.MISTAKE: (
        "Stop, and count the stitches of the last whole round from the marker. Tell me: count, "
        "and the number. I say how to mend it, mostly in the next round, without ripping back.",
    ),
    Technique.RIGHT_SIDE: (
        "The right side faces you while you work a round without turning. The V on top of each "
        "stitch points the way you work, and small upright legs show below it. The wrong side "
        "feels bumpier.",
    ),
    Technique.LEFT_HANDED: (
        "With the left hand you work clockwise instead of counter-clockwise. All my numbers "
        "stay the same: only the round runs the other way.",
    ),
    Technique.COUNTING: (
        "Count from the marker, one V on top for each stitch. By touch, put a finger on each V "
        "in turn, and say tens aloud. The loop on the hook does not count, nor does a slip "
        "stitch.",
    ),
    Technique.STARTING_CHAIN: _starting_chain,
    Technique.PARTS: (
        "The crown is the flat round on top of the head; it grows by increases. The sides go down "
        "from it without them. The brim stands out below, and increases again. All of it is one "
        "spiral, from the middle outwards.",
    ),
    Technique.SAFE: (
        "For a small child: no cords or ties, no buttons or beads that can come off, and no pins "
        "left in. The hat comes off for sleep and in a warm room. Where the rules of your country "
        "say otherwise, they decide.",
    ),
    **about_measuring.PAGES,
    **about_trims.PAGES,
}
