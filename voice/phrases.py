"""The one table of what can be said: grammar, parser and help come from it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any

from pattern import commands as c
from pattern.lengths import BALL_UNITS, WEIGHT_UNITS, Amount, Unit
from pattern.settings import Answered
from pattern.tables import STITCHES, YARNS, Sex, Stitch
from voice import grammar, spoken_numbers


class Group(StrEnum):
    """When a phrase makes sense; a recogniser's grammar is narrowed by groups."""

    ALWAYS = "always"
    WORK = "work"
    ANSWER = "answer"
    READING = "reading"
    CHANGE = "change"
    SETUP = "setup"
    CONFIRM = "confirm"


Slots = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Phrase:
    """Ways to say one command; the first is the one that help names."""

    group: Group
    topic: str
    """The word of "help with ...", or nothing."""
    help: str
    """What it does, in a few words."""
    forms: tuple[str, ...]
    """JSGF expansions; rules in them are slots."""
    build: Callable[[Slots], c.Command]


def _fixed(command: c.Command) -> Callable[[Slots], c.Command]:
    return lambda _: command


def _measured(kind: c.Kind | None) -> Callable[[Slots], c.Command]:
    return lambda slots: c.Measured(slots["length"], kind)


def _asked(group: Group, what: c.Asked, help_: str, *forms: str) -> Phrase:
    return Phrase(group, "", help_, forms, _fixed(c.Ask(what)))


def _reading(kind: c.Kind | None, help_: str, *forms: str) -> Phrase:
    return Phrase(Group.READING, "measuring", help_, forms, _measured(kind))


def _choice(key: str, value: Answered, *forms: str) -> Phrase:
    return Phrase(Group.SETUP, "setting up", "", forms, _fixed(c.Choose(key, value)))


def _weighed(help_: str, *forms: str) -> Phrase:
    return Phrase(Group.CHANGE, "yarn", help_, forms,
                  lambda slots: c.Weighed(_amount(_first(slots))))  # fmt: skip


def _change(key: str, help_: str, *forms: str) -> Phrase:
    return Phrase(
        Group.CHANGE, "changing", help_, forms, lambda slots: c.Change(key, _amount(_first(slots)))
    )


def _adjust(key: str, less: bool, help_: str, *forms: str) -> Phrase:
    return Phrase(Group.CHANGE, "changing", help_, forms,
                  lambda slots: c.Adjust(key, slots["length"], less))  # fmt: skip


def _first(slots: Slots) -> Amount | int:
    first: Amount | int = next(iter(slots.values()))
    return first


def _age(sex: Sex | None, months: bool = False) -> Callable[[Slots], c.Command]:
    return lambda slots: c.HeadOf(slots["integer"] / (12 if months else 1), sex)


def _stitch_words() -> list[str]:
    names = {s.value for s in Stitch} | {facts.uk_name for facts in STITCHES.values()}
    return sorted(names)


PHRASES: tuple[Phrase, ...] = (
    Phrase(Group.WORK, "", "the round is done, tell me the next",
           ("next", "done", "[that] round [is] done", "next round", "next one", "finished that",
            "ready"), _fixed(c.Next())),
    _asked(Group.ALWAYS, c.Asked.AGAIN, "say it again",
           "again", "repeat [that]", "say [that] again", "what", "pardon"),
    Phrase(Group.WORK, "", "one step back",
           ("back", "go back", "back one", "one back", "previous"), _fixed(c.Back())),
    Phrase(Group.WORK, "", "one more repeat of this round is done",
           ("set", "one [more] set", "set done", "repeat done"), _fixed(c.Sets(1, more=True))),
    Phrase(Group.WORK, "", "so many repeats of this round are done in all",
           ("<integer> sets [done]", "<integer> repeats [done]", "<integer> set"),
           lambda slots: c.Sets(slots["integer"])),
    Phrase(Group.WORK, "", "so many more repeats are done",
           ("<integer> more sets [done]", "<integer> more repeats [done]"),
           lambda slots: c.Sets(slots["integer"], more=True)),
    _asked(Group.ALWAYS, c.Asked.WHERE, "tell the place",
           "where am i", "where was i", "what round [is this]", "which round [is this]"),
    _asked(Group.ALWAYS, c.Asked.HOW_MANY, "tell what is left",
           "how many more", "how much more", "what's left", "how many left"),
    _asked(Group.ALWAYS, c.Asked.STITCHES, "tell the stitches",
           "how many stitches", "stitch count"),
    _asked(Group.ALWAYS, c.Asked.ROUNDS, "tell the rounds left",
           "how many [more] rounds", "rounds left"),
    _asked(Group.ALWAYS, c.Asked.READING, "tell the way to the next reading",
           "when [do] i measure", "next reading", "when do i measure next"),
    _asked(Group.ALWAYS, c.Asked.WHAT_NEXT, "tell the round after this one",
           "what comes next", "what's next", "and then"),
    _reading(None, "a reading of the tape; I take it as the one that fits",
             "measured <length>", "it measures <length>", "[the] tape says <length>"),
    _reading(c.Kind.ACROSS, "across the crown at its widest",
             "across <length>", "measured <length> across", "[it is] <length> across",
             "[it is] <length> wide", "across flats <length>"),
    _reading(c.Kind.CORNERS, "across the corners of a crown that has them",
             "across corners <length>", "<length> across corners", "corner to corner <length>"),
    _reading(c.Kind.AROUND, "around the edge",
             "around <length>", "measured <length> around", "<length> around",
             "<length> all round"),
    _reading(c.Kind.DEPTH, "from the centre down along the cloth",
             "depth <length>", "<length> deep", "[the] depth is <length>",
             "measured <length> deep"),
    _reading(c.Kind.BRIM, "the width of the brim",
             "brim <length> [wide]", "brim (is | of) <length> [wide]",
             "the brim is <length> [wide]",
             "measured <length> of brim"),
    Phrase(Group.READING, "measuring", "stitches in a length along the edge",
           ("<integer> stitches in <length>", "<integer> stitches are <length>",
            "<integer> stitches measure <length>"),
           lambda slots: c.Measured(slots["length"], c.Kind.ALONG, slots["integer"])),
    Phrase(Group.READING, "counting", "the stitches found in the last round",
           ("count <integer>", "i have <integer> [stitches]", "[the] count is <integer>",
            "i count <integer>", "<integer> stitches", "counted <integer>"),
           lambda slots: c.Counted(slots["integer"])),
    _weighed("what the scales say is left of the yarn",
             "weighed <weight> [left]", "<grams> left", "<grams> are left", "i have <grams> left",
             "there are <grams> left", "[the] scales say <weight>"),
    Phrase(Group.CHANGE, "yarn", "the yarn there is, by weight",
           ("i have <grams> [of yarn]", "there are <grams> [of yarn]", "my yarn weighs <weight>",
            "change [the] yarn to <grams>"),
           lambda slots: c.Change("stash_g", _amount(_first(slots)))),
    Phrase(Group.CHANGE, "yarn", "the yarn there is, in balls",
           ("i have <number> (balls | ball) [of yarn]", "there are <number> balls [of yarn]",
            "<number> (balls | ball) [of yarn]"),
           lambda slots: c.HaveBalls(slots["number"])),
    Phrase(Group.CHANGE, "yarn", "what the band of a ball says",
           ("[a | the | one] ball weighs <weight>", "[a | the] ball is <grams>",
            "<grams> (a | in a | per) ball"),
           lambda slots: c.Change("ball_g", _amount(_first(slots)))),
    Phrase(Group.CHANGE, "yarn", "how long the yarn of a ball is",
           ("[a | the | one] ball has <ball_length>", "[a | the] ball is <ball_length> [long]",
            "<ball_length> (a | in a | per) ball"),
           lambda slots: c.Change("ball_m", _amount(_first(slots)))),
    _asked(Group.ALWAYS, c.Asked.YARN, "tell the yarn that is needed",
           "how much yarn [do i need]", "how much yarn will i need", "how many balls [do i need]"),
    _asked(Group.ALWAYS, c.Asked.ENOUGH, "tell whether the yarn lasts",
           "have i enough [yarn]", "do i have enough [yarn]", "have i got enough [yarn]",
           "is there enough yarn", "will it last", "will the yarn last", "will i run out"),
    _asked(Group.ALWAYS, c.Asked.TIME_LEFT, "tell how long the rest takes",
           "how long will it take", "how long [is] left", "how much longer", "when am i done",
           "when will it be done", "when will i be done"),
    _asked(Group.ALWAYS, c.Asked.CROWN_TIME, "tell how long the crown takes",
           "when will the crown be done", "when is the crown done",
           "how long will the crown take"),
    Phrase(Group.ALWAYS, "resting", "a hint to rest your hands in that rhythm",
           ("rest every <integer> minutes", "rest me every <integer> minutes",
            "remind me to rest every <integer> minutes", "a rest every <integer> minutes"),
           lambda slots: c.Rests(slots["integer"])),
    Phrase(Group.ALWAYS, "resting", "no such hints",
           ("no rest hints", "no hints to rest", "no more rest hints",
            "don't remind me to rest"), _fixed(c.Rests(0))),
    Phrase(Group.CHANGE, "notes", "your own words for the pattern; typed, they may be any",
           ("note <note_words>", "(make | take) a note <note_words>"),
           lambda slots: c.Note(slots["note_words"])),
    Phrase(Group.CHANGE, "", "how a note is said", ("note", "(make | take) a note"),
           _fixed(c.Note(""))),
    Phrase(Group.READING, "a lost place", "plain stitches between two increases that you see",
           ("i see <integer> between [the] increases",
            "<integer> between [the] increases", "<integer> plain between [the] increases",
            "i see <integer> [plain] stitches between [the] increases"),
           lambda slots: c.LostAt(slots["integer"], between=True)),
    Phrase(Group.READING, "a lost place", "the stitches around, when you do not know the round",
           ("i count <integer> round", "i count <integer> [stitches] all round",
            "i count <integer> stitches round", "which round has <integer> [stitches]",
            "what round has <integer> [stitches]"),
           lambda slots: c.LostAt(slots["integer"])),
    Phrase(Group.WORK, "changing", "your stitches come out another size now",
           ("my tension [has] changed", "the tension [has] changed",
            "i work (tighter | looser) [now]", "my stitches are (tighter | looser) [now]"),
           _fixed(c.Tension())),
    Phrase(Group.WORK, "ripping back", "so many rounds are taken out",
           ("ripped back <integer> [rounds]", "ripped back <integer> round",
            "ripped out <integer> [rounds]", "pulled out <integer> [rounds]",
            "i took out <integer> rounds"), lambda slots: c.RippedBack(slots["integer"])),
    Phrase(Group.WORK, "ripping back", "one round is taken out",
           ("ripped back a round", "ripped back", "ripped out a round"), _fixed(c.RippedBack(1))),
    Phrase(Group.ALWAYS, "", "take back the last thing said",
           ("undo", "undo that", "take that back", "scratch that"), _fixed(c.Undo())),
    Phrase(Group.READING, "looking", "the edge is wavy",
           ("it ripples", "[it is] rippling", "it ruffles", "[it is] wavy", "ripples"),
           _fixed(c.Lies(c.Look.RIPPLES))),
    Phrase(Group.READING, "looking", "it bowls up",
           ("it cups", "it is cupping", "it curls up", "[it is] bowl shaped", "cups"),
           _fixed(c.Lies(c.Look.CUPS))),
    Phrase(Group.READING, "looking", "it is flat",
           ("it lies flat", "lies flat", "[it is] flat", "lying flat"),
           _fixed(c.Lies(c.Look.FLAT))),
    _adjust("depth_mm", False, "make the sides deeper",
            "deeper by <length>", "<length> deeper"),
    _adjust("depth_mm", True, "make the sides shallower",
            "shallower by <length>", "<length> shallower"),
    _adjust("brim_mm", False, "make the brim wider",
            "wider [brim] by <length>", "<length> wider", "brim wider by <length>"),
    _adjust("brim_mm", True, "make the brim narrower",
            "narrower [brim] by <length>", "<length> narrower", "brim narrower by <length>"),
    Phrase(Group.WORK, "", "stop increasing now",
           ("start the sides", "start sides", "stop increasing", "sides now"),
           _fixed(c.StartSides())),
    Phrase(Group.WORK, "", "the sides are deep enough",
           ("start the brim", "start brim", "brim now"), _fixed(c.StartBrim())),
    Phrase(Group.WORK, "", "end the hat here", ("finish now", "finish here", "end here"),
           _fixed(c.FinishNow())),
    Phrase(Group.CONFIRM, "", "it is so",
           ("yes", "yes please", "that's right", "correct", "keep it"),
           _fixed(c.Yes())),
    Phrase(Group.CONFIRM, "", "it is not so", ("no", "nope", "that's wrong", "wrong"),
           _fixed(c.No())),
    Phrase(Group.CONFIRM, "", "no, but this much", ("no <length>", "no i said <length>"),
           lambda slots: c.No(slots["length"])),
    Phrase(Group.CONFIRM, "", "leave the question", ("skip", "skip that", "pass", "don't know"),
           _fixed(c.Skip())),
    Phrase(Group.SETUP, "setting up", "take the usual for the rest",
           ("begin", "that will do", "skip the rest"), _fixed(c.Begin())),
    Phrase(Group.ALWAYS, "", "few words from me",
           ("brief", "brief please", "fewer words"), _fixed(c.Wording(brief=True))),
    Phrase(Group.ALWAYS, "", "all the words from me",
           ("full", "full please", "more words"), _fixed(c.Wording(brief=False))),
    *(Phrase(Group.ALWAYS, "speaking", help_, forms, _fixed(c.Speak(manner)))
      for manner, help_, forms in (
          (c.Manner.SLOWER, "I speak slower", ("slower", "speak slower")),
          (c.Manner.FASTER, "I speak faster", ("faster", "speak faster")),
          (c.Manner.LOUDER, "I speak louder", ("louder", "speak louder", "speak up")),
          (c.Manner.QUIETER, "I speak more quietly", ("quieter", "speak quieter")),
          (c.Manner.OTHER_VOICE, "I take another voice", ("another voice", "other voice")))),
    Phrase(Group.ALWAYS, "", "I stop listening to anything but resume",
           ("pause", "wait", "stop listening", "stop"), _fixed(c.Pause())),
    Phrase(Group.ALWAYS, "", "go on after a pause",
           ("resume", "go on", "i'm back", "carry on"), _fixed(c.Resume())),
    Phrase(Group.ALWAYS, "", "put the piece away; everything is kept",
           ("save and leave", "leave", "that's all for now", "goodbye"), _fixed(c.Leave())),
    Phrase(Group.ALWAYS, "", "what you can say",
           ("help", "what can i say", "help me"), _fixed(c.Help())),
    Phrase(Group.ALWAYS, "", "more about one thing",
           ("help with (<topic>)",), lambda slots: c.Help(slots["topic"])),
    _choice("unit", Unit.INCH.value, "inches", "in inches", "inch"),
    _choice("unit", Unit.CM.value, "centimetres", "centimeters", "in centimetres", "metric"),
    _choice("terms", "us", "us", "us terms", "u s", "u s terms", "american", "american terms"),
    _choice("terms", "uk", "uk", "uk terms", "u k", "u k terms", "british", "british terms"),
    Phrase(Group.SETUP, "setting up", "a stitch by its name",
           (*(f"{name} crochet" for name in _stitch_words()), *_stitch_words()),
           lambda slots: c.Choose("stitch", slots["said"])),
    *(_choice("yarn", number, yarn.name, f"{yarn.name} weight")
      for number, yarn in enumerate(YARNS)),
    _choice("joined", False, "spiral", "in a spiral"),
    _choice("joined", True, "joined", "joined rounds"),
    _choice("stacked", False, "spread", "spread increases"),
    _choice("stacked", True, "stacked", "stacked increases"),
    _choice("brim_mm", 0, "no brim"),
    Phrase(Group.SETUP, "setting up", "a grown woman's head by the table",
           ("[a] woman", "[a] lady"), _fixed(c.HeadOf(None, Sex.FEMALE))),
    Phrase(Group.SETUP, "setting up", "a grown man's head by the table",
           ("[a] man",), _fixed(c.HeadOf(None, Sex.MALE))),
    Phrase(Group.SETUP, "setting up", "a grown head by the table",
           ("[an] adult", "grown up"), _fixed(c.HeadOf())),
    Phrase(Group.SETUP, "setting up", "a girl's head by the table",
           ("[a] girl [of | aged] <integer>",), _age(Sex.FEMALE)),
    Phrase(Group.SETUP, "setting up", "a boy's head by the table",
           ("[a] boy [of | aged] <integer>",), _age(Sex.MALE)),
    Phrase(Group.SETUP, "setting up", "a child's head by the table",
           ("age <integer>", "aged <integer>", "<integer> years [old]",
            "[a] child [of | aged] <integer>"), _age(None)),
    Phrase(Group.SETUP, "setting up", "a baby's head by the table",
           ("<integer> months [old]", "[a] baby [of] <integer> months"), _age(None, months=True)),
    _change("head_mm", "another head", "head <length>", "change [the] head to <length>"),
    _change("yarn", "another yarn", "change [the] yarn to [class] <integer>",
            "class <integer>"),
    _change("hook_mm", "another hook", "change [the] hook to <length>", "hook <length>"),
    _change("ease_mm", "looser or tighter", "change [the] ease to <length>", "ease <length>"),
    _change("depth_mm", "another depth", "change [the] depth to <length>",
            "make it <length> deep"),
    _change("brim_mm", "another brim", "change [the] brim to <length>",
            "make the brim <length> [wide]"),
    _change("slope_deg", "another slope", "change [the] slope to <integer> [degrees]",
            "slope <integer> [degrees]"),
    _change("start", "another start", "change [the] start to <integer>", "start with <integer>"),
    Phrase(Group.CHANGE, "changing", "smaller than the head",
           ("<length> (smaller | tighter)",),
           lambda slots: c.Change("ease_mm", _negative(slots["length"]))),
    Phrase(Group.CHANGE, "changing", "bigger than the head",
           ("<length> (bigger | looser)",), lambda slots: c.Change("ease_mm", slots["length"])),
    Phrase(Group.ANSWER, "", "an answer to what I asked",
           ("<length>", "<integer> degrees"), lambda slots: c.Answer(_amount(_first(slots)))),
)  # fmt: skip
"""Order matters where two forms fit the same words: the first that does is taken."""

TOPICS: dict[str, str] = {
    "measuring": "measuring", "counting": "counting", "ripping back": "ripping back",
    "looking": "looking", "speaking": "speaking", "changing": "changing",
    "setting up": "setting up", "yarn": "yarn",
    "resting": "resting", "notes": "notes",
    "a lost place": "a lost place",
    "the tape": "measuring", "ripples": "looking",
}  # fmt: skip
"""What "help with ..." may be followed by, and the topic it means."""


def _negative(amount: Amount) -> Amount:
    return Amount(-amount.value, amount.step, amount.unit)


def _amount(slot: Amount | int) -> Amount:
    return slot if isinstance(slot, Amount) else Amount(float(slot))


def _in(units: frozenset[Unit | None]) -> Callable[[str], Amount | None]:
    def read_in(words: str) -> Amount | None:
        amount = spoken_numbers.read_amount(words)
        return amount if amount is not None and amount.unit in units else None

    return read_in


SLOTS: dict[str, Callable[[str], Any]] = {
    "length": spoken_numbers.read_amount,
    "integer": spoken_numbers.read_integer,
    "number": spoken_numbers.read_number,
    "weight": _in(frozenset({None, *WEIGHT_UNITS})),
    "grams": _in(frozenset(WEIGHT_UNITS)),
    "ball_length": _in(frozenset(BALL_UNITS)),
    "topic": TOPICS.get,
    "note_words": str,
}
"""How what fills a slot is read; nothing when it does not fit."""

RULES: dict[str, grammar.Node] = spoken_numbers.RULES | {
    "topic": grammar.parse(" | ".join(TOPICS)),
    "note_words": grammar.parse(
        "[joined] [a | the] (second | third | new | last) ball [here] | new color here"
        " | new stripe here | marker moved here | [a] mistake here | it looks good here"
    ),
}
"""Rules that forms refer to, for recognisers."""


_NOTE = re.compile(r"\s*(?:(?:make|take)\s+a\s+)?note(?![^\W_])[\s.:,]*(?P<words>.*)",
                   re.IGNORECASE | re.DOTALL)  # fmt: skip
"""A note keeps its words as they are: any that are typed, or recognised as free text."""


@cache
def _compiled() -> tuple[tuple[re.Pattern[str], Phrase], ...]:
    return tuple(
        (re.compile(grammar.regex(grammar.parse(form))), phrase)
        for phrase in PHRASES
        for form in phrase.forms
    )


_FILLERS = re.compile(r"^(?:(?:okay|ok|um|uh|er|well) )+(?=.)|(?<=.) please$")
"""Words around a phrase that mean nothing; "yes please" is a form of its own, and the same."""


def read(text: str) -> c.Command | None:
    """The command that words mean as a whole; None when no phrase fits."""
    if (noted := _NOTE.fullmatch(text)) is not None:
        return c.Note(noted["words"].strip())
    words = _FILLERS.sub("", spoken_numbers.normalise(text))
    for pattern, phrase in _compiled():
        if (match := pattern.fullmatch(words + " ")) is None:
            continue
        slots = {name: SLOTS[name](said.strip()) for name, said in match.groupdict().items()}
        if None not in slots.values():
            return phrase.build(slots or {"said": words})
    return None


def grammar_of(groups: frozenset[Group]) -> grammar.Grammar:
    """The grammar of what may be said now; what is always allowed is always in it."""
    return grammar.Grammar(
        tuple(
            grammar.parse(form)
            for phrase in PHRASES
            if phrase.group in groups | {Group.ALWAYS}
            for form in phrase.forms
        ),
        RULES,
    )

