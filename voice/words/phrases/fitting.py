"""Phrases on how a piece that is tried on sits, and on what there is to measure with."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from pattern.session.commands import Fit
from pattern.trade.lengths import Amount
from voice.words.phrases.row import Group, Phrase, Slots, fixed


def _by(fit: Fit) -> Callable[[Slots], c.Command]:
    return lambda slots: c.TriedOn(fit, slots["length"])


def _fingers(slots: Slots) -> c.Command:
    return c.TriedOn(Fit.FINGERS, Amount(float(slots["few"])))


SAID: dict[Fit, tuple[str, tuple[str, ...]]] = {
    Fit.NOT_ON: (
        "far too tight",
        ("it (will not | won't | does not | doesn't) go on", "i can't get it on"),
    ),
    Fit.TIGHT: (
        "too tight, as when it leaves a mark",
        ("it is too tight", "it's too tight", "too tight", "it leaves a mark", "it is too small"),
    ),
    Fit.SNUG: (
        "a little tight",
        ("[it is] snug", "it's snug", "it is a (little | bit) tight", "a (little | bit) tight"),
    ),
    Fit.RIGHT: (
        "it fits around the head",
        ("it fits", "it fits just right", "[it is] just right", "it's just right", "it sits right"),
    ),
    Fit.LOOSE: (
        "a little wide",
        (
            "it is a (little | bit) loose",
            "a (little | bit) loose",
            "it is [too] loose",
            "it's [too] loose",
            "too loose",
            "it is too big",
        ),
    ),
    Fit.SLIDES: (
        "far too wide",
        ("it (slides | slips) down", "it falls off", "it is (far | much) too (big | loose)"),
    ),
    Fit.TIGHT_BY: (
        "how much too tight",
        ("<length> too (tight | small)", "it is <length> too (tight | small)"),
    ),
    Fit.LOOSE_BY: (
        "how much too wide",
        ("<length> too (loose | big)", "it is <length> too (loose | big)"),
    ),
    Fit.PINCH: (
        "how much loose cloth stands between your fingers",
        ("i can pinch <length>", "pinch <length>", "i pinch <length>"),
    ),
    Fit.FINGERS: (
        "fingers that go under the edge",
        ("<few> (finger | fingers) (fit | fits | go | goes) under it", "<few> fingers fit"),
    ),
    Fit.HIGH: (
        "it ends much too high",
        ("it ends at (the | my) hairline", "it only covers the top", "at the hairline"),
    ),
    Fit.SHORT: (
        "it ends too high",
        (
            "it ends (well | far) above the (eyebrow | eyebrows)",
            "(well | far) above the (eyebrow | eyebrows)",
        ),
    ),
    Fit.ABOVE: (
        "it ends just above the eyebrows",
        (
            "it (ends | sits) [just] above (the | my) (eyebrow | eyebrows)",
            "[just] above the (eyebrow | eyebrows)",
        ),
    ),
    Fit.AT_BROW: (
        "it ends at them",
        (
            "it (ends | sits) (at | on) (the | my) (eyebrow | eyebrows)",
            "at the (eyebrow | eyebrows)",
        ),
    ),
    Fit.BELOW: (
        "it ends below them",
        (
            "it (ends | sits) below (the | my) (eyebrow | eyebrows)",
            "below the (eyebrow | eyebrows)",
        ),
    ),
    Fit.OFF_EARS: (
        "it ends by the ears, and a finger above them",
        ("it ends [a finger] above (the | my) ears", "a finger above the ears"),
    ),
    Fit.ON_EARS: (
        "it covers their tops",
        ("it covers the tops of (the | my) ears", "it touches (the | my) ears"),
    ),
    Fit.OVER_EARS: (
        "it covers them",
        ("it covers (the | my) ears", "over (the | my) ears"),
    ),
    Fit.DEEP: (
        "the sides are deep enough on the head",
        ("[it is] deep enough", "it's deep enough", "the sides are deep enough"),
    ),
    Fit.SHORT_BY: (
        "how much it still has to come down",
        ("<length> too (short | shallow)", "it is <length> too (short | shallow)"),
    ),
    Fit.DEEP_BY: (
        "how much too far down it comes",
        ("<length> too (deep | long)", "it is <length> too (deep | long)"),
    ),
    Fit.FLOPPY: ("the brim is limp", ("[the brim is] floppy", "it is floppy", "the brim is limp")),
    Fit.STANDS: ("it turns up", ("the brim (stands | turns) up", "it (stands | turns) up")),
    Fit.WIDE: ("it ends here", ("[the brim is] wide enough", "it is wide enough")),
    Fit.HIDES: (
        "it ends here, as it is too low",
        ("(it | the brim) hides (my | the) eyes", "(it | the brim) falls over (my | the) eyes"),
    ),
    Fit.FALLS: ("the brim is as it should be", ("the brim falls well", "the brim sits right")),
}
"""The sense of each word to the maker, and how it is said."""


def _build(fit: Fit, form: str) -> Callable[[Slots], c.Command]:
    if fit is Fit.FINGERS:
        return _fingers
    return _by(fit) if "<length>" in form else fixed(c.TriedOn(fit))


ROWS: tuple[Phrase, ...] = (
    *(
        Phrase(Group.READING, "trying on", help_, forms, _build(fit, forms[0]))
        for fit, (help_, forms) in SAID.items()
    ),
    Phrase(
        Group.READING,
        "trying on",
        "the brim falls too steeply",
        ("it droops", "the brim droops", "[it is] drooping"),
        fixed(c.Lies(c.Look.CUPS)),
    ),
    Phrase(
        Group.ALWAYS,
        "trying on",
        "the head is here, so I ask you to try it on",
        ("i can try it on", "it is for me", "it's for me", "the head is here"),
        fixed(c.HeadThere(there=True)),
    ),
    Phrase(
        Group.ALWAYS,
        "trying on",
        "I never ask for it on this piece",
        (
            "i can't try it on",
            "i cannot try it on",
            "it is (a gift | for somebody else | for someone else)",
            "it's (a gift | for somebody else | for someone else)",
            "it goes by post",
        ),
        fixed(c.HeadThere(there=False)),
    ),
    Phrase(
        Group.ALWAYS,
        "trying on",
        "I ask for no tape on this piece",
        ("i have no tape", "no tape", "i haven't got a tape", "there is no tape"),
        fixed(c.TapeThere(there=False)),
    ),
    Phrase(
        Group.ALWAYS,
        "trying on",
        "I ask for the tape again",
        ("i have a tape", "i have the tape", "i've got a tape"),
        fixed(c.TapeThere(there=True)),
    ),
)
"""Phrases of trying on."""
