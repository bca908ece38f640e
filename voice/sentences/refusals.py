"""Why a command makes no sense now: one short sentence each, saying what to do."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session.commands import Manner, Speak
from pattern.session.refusals import Reason, Refused
from pattern.shape.interview import BEGIN
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from voice.sentences import amounts, amounts_refused
from voice.sentences.amounts import capital, counted
from voice.sentences.amounts_refused import Detail
from voice.sentences.part_words import PART_WORDS
from voice.sentences.questions import NAMES
from voice.words.spoken_numbers import say_integer

_HERE = {
    Stage.SETUP: "We are still setting up; answer the question, or say begin.",
    Stage.FINISHING: "The rounds are done; say next when the step is done.",
    Stage.DONE: "It is done; say leave.",
    **{stage: words.here for stage, words in PART_WORDS.items()},
}


_OF_SHAPES = {
    "head_mm": "head",
    "ease_mm": "difference to a head",
    "across_mm": "width",
    "depth_mm": "depth",
    "height_mm": "height",
    "brim_mm": "brim",
    "slope_deg": "slope",
}
_PLACELESS = {"ribbon": "a ribbon", "lace": "lace", "edging": "an edging"}
_SENTENCES: dict[Reason, Callable[[Detail, Settings], str]] = {
    Reason.PAUSED: lambda _d, _s: "Paused. Say resume to go on.",
    Reason.DOUBT_OPEN: lambda _d, _s: "First yes or no to what I asked; say again to hear it.",
    Reason.NOTHING_ASKED: lambda _d, _s: (
        "I asked for nothing just now; say what it is, such as across six, or count forty."
    ),
    Reason.NOTHING_TO_UNDO: lambda _d, _s: (
        "There is nothing to take back; say again to hear what is due."
    ),
    Reason.NOTHING_DOUBTED: lambda _d, _s: "I didn't ask anything; say again to hear what is due.",
    Reason.STILL_SETUP: lambda _d, _s: "We are still setting up; answer, or say skip or begin.",
    Reason.SETUP_OVER: lambda _d, _s: "We have begun already; say where am I.",
    Reason.ALL_DONE: lambda _d, s: f"The {s.shape.noun} is done; say leave.",
    Reason.NO_ROUND_BACK: lambda _d, _s: "There is nothing before this; say again to hear it.",
    Reason.NO_SETS: lambda _d, _s: "This round has no sets; say next when it is done.",
    Reason.TOO_MANY_SETS: lambda d, _s: (
        f"This round has only {counted(int(d['most']), 'set')}; say how many are done."
    ),
    Reason.WRONG_UNIT: lambda d, _s: amounts_refused.wrong_unit(d),
    Reason.NOT_A_LENGTH: lambda _d, _s: "A length must be more than zero; measure again.",
    Reason.ABSURD: amounts_refused.odd_length,
    Reason.COUNT_IMPOSSIBLE: lambda d, _s: (
        f"It can only be {say_integer(int(d.get('least', 1)))} to {say_integer(int(d['most']))} "
        "stitches here; count again."
    ),
    Reason.MORE_THAN_WORKED: lambda d, _s: (
        "No round is worked yet."
        if not d["worked"]
        else (
            f"Only {counted(int(d['worked']), 'round is', 'rounds are')} worked; "
            "say how many you took out."
        )
    ),
    Reason.OUT_OF_LIMITS: amounts_refused.limits,
    Reason.TOO_LONG: lambda d, _s: (
        f"That is more than {counted(int(d['most']), 'metre')} of cloth from the middle "
        "to the edge; take a smaller size or shape."
    ),
    Reason.OTHER_UNIT: lambda d, _s: amounts_refused.other_unit(d),
    Reason.NO_SUCH_STITCH: lambda _d, s: (
        f"I do not know that stitch in {s.terms.value.upper()} terms; say another, or skip."
    ),
    Reason.FIXED: lambda d, _s: (
        f"{NAMES[str(d['key'])]} cannot change once the ring is worked; "
        "rip back to the start first."
    ),
    Reason.NO_BRIM: lambda _d, _s: (
        "This hat has no brim; say the width you want, such as make the brim two inches."
    ),
    Reason.NOT_OF_SHAPE: lambda d, s: (
        f"A {s.shape.name} has no {_OF_SHAPES.get(str(d['key']), 'such size')}; its sizes are "
        + " and ".join(word for key, word in _OF_SHAPES.items() if key in s.shape.asked)
        + "."
    ),
    Reason.WHICH_WAY: lambda _d, _s: "Bigger or smaller than the head? Say, one inch smaller.",
    Reason.NO_FURTHER: lambda _d, _s: "That's as far as it goes.",
    Reason.NOT_A_WEIGHT: lambda _d, _s: "That is no weight; say it in grams, or in ounces.",
    Reason.MORE_YARN: lambda d, _s: (
        f"That is more than the {say_integer(round(float(d['grams'])))} grams there were; "
        "weigh again, or, with more yarn at hand, say I have and the grams."
    ),
    Reason.ABSURD_WEIGHT: lambda d, _s: (
        f"That cannot be: I expect about {say_integer(round(float(d['grams'])))} grams left. "
        "Weigh again, or, if it is other yarn, say I have and the grams."
    ),
    Reason.WHICH_BALL: lambda _d, _s: (
        "First tell me what a ball weighs, such as a ball weighs fifty grams; then how many."
    ),
    Reason.ODD_RHYTHM: lambda d, _s: (
        f"I can hint at a rest every {say_integer(int(d['least']))} to "
        f"{say_integer(int(d['most']))} minutes; say how many, or no rest hints."
    ),
    Reason.ODD_WAIT: lambda d, _s: (
        f"I can ask again after {say_integer(int(d['least']))} seconds to "
        f"{say_integer(int(d['most']))} minutes; say after how many, or do not ask again."
    ),
    Reason.EMPTY_NOTE: lambda _d, _s: (
        "Say what to note after the word note, such as note joined second ball here."
    ),
    Reason.LONG_NOTE: lambda d, _s: (
        f"A note can have up to {say_integer(int(d['most']))} letters; say it in two."
    ),
    Reason.NOT_DONE: lambda _d, _s: (
        "First finish this one: say finish now to end it here, then ask for another."
    ),
    Reason.SIZE_KNOWN: lambda _d, _s: "That size is there already; say tell me the sizes.",
    Reason.SIZES_FULL: lambda d, _s: (
        f"{say_integer(int(d['most']))} sizes are the most; say only one size to begin again."
    ),
    Reason.NO_SIZES: lambda _d, _s: (
        "There is only one size; say, also write it for a head, and how big it is."
    ),
    Reason.ODD_SWATCH: lambda d, _s: (
        f"A swatch needs {say_integer(int(d['least']))} to {say_integer(int(d['most']))} stitches "
        "or rounds, and a length that they can have; measure again."
    ),
    Reason.OWN_WIDTH: lambda d, s: (
        f"A {d['what']} is {' to '.join(amounts.limits(float(d['least']), float(d['most']), s))} "
        f"wide; lay it on a tape once, and say, my {d['what']} is, and how wide."
    ),
    Reason.NO_PLACE_FOR: lambda d, s: (
        f"A {s.shape.noun} has no place for {_PLACELESS.get(str(d.get('what')), 'that')}; "
        "for a flower, say put a flower on."
    ),
    Reason.NOTHING_CALLED: lambda _d, _s: (
        "I call nothing beside the rounds just now; say again to hear what is due."
    ),
    Reason.ODD_WASHING: lambda _d, _s: (
        "That is too much for washing; measure the same stitches again, dry and flat."
    ),
    Reason.WRONG_ANSWER: lambda d, _s: (
        "Say what that is, such as 'a brim of seven'. Or say begin."
        if d["key"] == BEGIN
        else "That doesn't answer this question; say again to hear it."
    ),
}


_NO_FURTHER: dict[Manner, str] = {
    Manner.LOUDER: "That's as loud as I go: turn up your loudspeaker.",
    Manner.QUIETER: "That's as quiet as I go: turn down your loudspeaker.",
    Manner.FASTER: "That's as fast as I go.",
    Manner.SLOWER: "That's as slow as I go; say brief for fewer words.",
}


def refusal(refused: Refused, settings: Settings) -> str:
    """The sentence for a refused command."""
    if isinstance(refused.command, Speak) and refused.reason is Reason.NO_FURTHER:
        return _NO_FURTHER.get(refused.command.manner, "That's as far as it goes.")
    if refused.reason is Reason.TOO_EARLY:
        return f"It is too early for that. {_HERE[refused.stage]}"
    if refused.reason is Reason.NOT_HERE:
        return f"Not at this point. {_HERE[refused.stage]}"
    if refused.reason is Reason.NOTHING_ASKED and refused.stage is Stage.FINISHING:
        return _HERE[refused.stage]
    return capital(_SENTENCES[refused.reason](dict(refused.detail), settings))
