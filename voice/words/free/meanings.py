"""The table of what free wording can mean: a command made from the amounts and names in it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from pattern.session import commands as c
from pattern.session.state import State
from pattern.shape.settings import Answered
from pattern.trade import names
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import BALL_UNITS, WEIGHT_UNITS, Amount, Unit
from pattern.trade.stitches import STITCHES, Terms
from pattern.trade.techniques import Technique


@dataclass(frozen=True, slots=True)
class Said:
    """A wording, and the amounts in it."""

    text: str
    words: str
    """The same, plain."""
    amounts: tuple[Amount, ...]
    state: State

    @property
    def amount(self) -> Amount | None:
        """The last amount, which is the one that counts after a slip of the tongue."""
        return self.amounts[-1] if self.amounts else None

    @property
    def whole(self) -> int | None:
        """The last amount as a count; None where there is none."""
        return self.amount.whole() if self.amount is not None else None


Build = Callable[[Said], c.Command | None]


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing that can be meant."""

    build: Build
    """The command, or None where what it needs was not said."""
    noun: str = ""
    """How it is offered to who was not understood: "I can ..."."""


def _fixed(command: c.Command) -> Build:
    return lambda said: None if said.amounts else command


def _always(command: c.Command) -> Build:
    return lambda _: command


def _ask(what: c.Asked) -> Build:
    return _always(c.Ask(what))


def _measured(kind: c.Kind | None) -> Build:
    def build(said: Said) -> c.Command | None:
        amount = said.amount
        if amount is None or amount.unit in WEIGHT_UNITS | BALL_UNITS:
            return None
        return c.Measured(amount, kind)

    return build


def _answer(said: Said) -> c.Command | None:
    return c.Answer(said.amount) if said.amount is not None else None


def _along(said: Said) -> c.Command | None:
    match said.amounts:
        case (length, stitches) | (stitches, length) if stitches.unit is None and (
            length.unit is not None or length is said.amounts[1]
        ):
            count = stitches.whole()
            return c.Measured(length, c.Kind.ALONG, count) if count else None
    return None


def _adjust(key: str, less: bool) -> Build:
    def build(said: Said) -> c.Command | None:
        return c.Adjust(key, said.amount or Amount(1.0), less) if _one(said) else None

    return build


def _one(said: Said) -> bool:
    return said.amount is not None or bool(re.search(r"\bone\b", said.words))


def _change(key: str) -> Build:
    return lambda said: c.Change(key, said.amount) if said.amount is not None else None


def _choose(key: str, value: Answered) -> Build:
    return _always(c.Choose(key, value))


def _counted(off: int) -> Build:
    """A count that is told by how much it is off from what was called."""

    def build(said: Said) -> c.Command | None:
        by = said.whole if said.amounts else 1
        offered = said.state.offered
        called = offered.after if offered is not None else said.state.piece.stitches
        return c.Counted(called + off * by) if by is not None else None

    return build


def _whole(make: Callable[[int], c.Command], alone: int | None = None) -> Build:
    """A command of one count; `alone` is the count where none was said."""

    def build(said: Said) -> c.Command | None:
        count = said.whole if said.amounts else alone
        return make(count) if count is not None else None

    return build


def _sets(said: Said) -> c.Command | None:
    if not said.amounts:
        return c.Sets(1, more=True)
    return c.Sets(said.whole) if said.whole is not None else None


def _ripped_to(said: Said) -> c.Command | None:
    """Back to a round of that number, which is to be worked again."""
    number = said.whole
    out = said.state.piece.finished - number + 1 if number is not None else 0
    return c.RippedBack(out) if out > 0 else None


def _from_start(said: Said) -> c.Command | None:
    return c.RippedBack(said.state.piece.finished) if said.state.piece.finished else None


def _grams(key: str | None) -> Build:
    def build(said: Said) -> c.Command | None:
        amount = said.amount
        if amount is None or amount.unit not in {None, *WEIGHT_UNITS}:
            return None
        if key is None:
            return c.Weighed(amount)
        return c.Change(key, Amount(amount.value, amount.step, amount.unit or Unit.GRAM))

    return build


def _hook(said: Said) -> c.Command | None:
    named = names.hook_in(said.words)
    if named is not None:
        return c.Change("hook_mm", Amount(named, 0.25, Unit.MM))
    return c.Change("hook_mm", said.amount) if said.amount is not None else None


def _yarn(said: Said) -> c.Command | None:
    named = names.yarn_in(said.words)
    if named is None:
        named = said.whole
    return c.Answer(Amount(float(named))) if named is not None else None


def _stitch(said: Said) -> c.Command | None:
    terms = said.state.settings.terms
    stitch = names.stitch_in(said.words, terms)
    if stitch is None:
        return None
    name = stitch.value if terms is Terms.US else STITCHES[stitch].uk_name
    return c.Choose("stitch", name)


_GIRLS = r"\b(girl|lass|lassie|daughter|niece|grand ?daughter|sister|she|her)\b"
_BOYS = r"\b(boy|laddie|son|nephew|grand ?son|brother|he|him|lad)\b"
_WOMEN = r"\b(woman|women|lady|ladies|wife|mum|mom|mother|gran|granny|grandma|aunt|female|womens)\b"
_MEN = r"\b(man|men|bloke|guy|husband|dad|father|grandad|grandpa|uncle|male|gentleman|mens|fella)\b"


def _head_of(said: Said) -> c.Command | None:
    """A head told by the person: a grown one, or a child or baby by its age."""
    words = said.words
    if (age := said.whole) is not None:
        sex = _sex(words, _GIRLS, _BOYS)
        return c.HeadOf(age / 12 if "month" in words else float(age), sex)
    sex = _sex(words, _WOMEN, _MEN) or _sex(words, r"\b(she|her|hers)\b", r"\b(he|his)\b")
    return None if said.amounts else c.HeadOf(None, sex)


def _sex(words: str, female: str, male: str) -> Sex | None:
    she, he = bool(re.search(female, words)), bool(re.search(male, words))
    if she == he:
        return None
    return Sex.FEMALE if she else Sex.MALE


def _smaller(said: Said) -> c.Command | None:
    amount = said.amount or (Amount(1.0) if _one(said) else None)
    return c.Change("ease_mm", Amount(-amount.value, amount.step, amount.unit)) if amount else None


def one_round(said: Said) -> c.Command | None:
    """One round more of the part that is worked, or of the last one: wider by a round's height."""
    piece = said.state.piece
    height = Amount(piece.gauge.height_mm, 0.1, Unit.MM)
    return c.Adjust("brim_mm" if piece.brim_rounds else "depth_mm", height)


def _fibre(said: Said) -> c.Command | None:
    from pattern.trade.fibres import Fibre

    fibre = next((f for f in sorted(Fibre, key=len, reverse=True) if f.value in said.words), None)
    return c.Choose("fibre", fibre.value) if fibre is not None else None


MEANINGS: dict[str, Meaning] = {
    "next": Meaning(_fixed(c.Next()), "go on to the next round"),
    "again": Meaning(_ask(c.Asked.AGAIN), "say it again"),
    "back": Meaning(_fixed(c.Undo()), "undo"),
    "pause": Meaning(_always(c.Pause()), "pause"),
    "resume": Meaning(_always(c.Resume()), "go on"),
    "leave": Meaning(_always(c.Leave()), "put the piece away"),
    "brief": Meaning(_always(c.Wording(brief=True))),
    "full": Meaning(_always(c.Wording(brief=False))),
    "more": Meaning(_ask(c.Asked.MORE), "tell you more"),
    "plan": Meaning(_ask(c.Asked.PLAN), "tell you the plan"),
    "set": Meaning(_sets, "take sets that are done"),
    "slower": Meaning(_always(c.Speak(c.Manner.SLOWER)), "speak slower"),
    "faster": Meaning(_always(c.Speak(c.Manner.FASTER)), "speak faster"),
    "louder": Meaning(_always(c.Speak(c.Manner.LOUDER)), "speak louder"),
    "quieter": Meaning(_always(c.Speak(c.Manner.QUIETER)), "speak more quietly"),
    "voice": Meaning(_always(c.Speak(c.Manner.OTHER_VOICE)), "take another voice"),
    "where": Meaning(_ask(c.Asked.WHERE), "tell you where you are"),
    "howmany": Meaning(_ask(c.Asked.HOW_MANY), "tell you what is left"),
    "stitches": Meaning(_ask(c.Asked.STITCHES), "tell you the stitches"),
    "rounds": Meaning(_ask(c.Asked.ROUNDS), "tell you the rounds left"),
    "comes": Meaning(_ask(c.Asked.WHAT_NEXT), "tell you what comes next"),
    "whenm": Meaning(_ask(c.Asked.READING), "tell you when to measure"),
    "across": Meaning(_measured(c.Kind.ACROSS), "take how wide it is across"),
    "around": Meaning(_measured(c.Kind.AROUND), "take how far it is around"),
    "depth": Meaning(_measured(c.Kind.DEPTH), "take how deep it is"),
    "brimw": Meaning(_measured(c.Kind.BRIM), "take how wide the brim is"),
    "answer": Meaning(_answer, "take a number"),
    "gauge": Meaning(_along, "take so many stitches in a length"),
    "count": Meaning(_whole(c.Counted), "take a count"),
    "countin": Meaning(_whole(c.CountedIn), "take a count in this round"),
    "short": Meaning(_counted(-1), "take a count"),
    "over": Meaning(_counted(1), "take a count"),
    "ripped": Meaning(_whole(c.RippedBack, alone=1), "rip back rounds"),
    "ripples": Meaning(_always(c.Lies(c.Look.RIPPLES)), "hear how it lies"),
    "cups": Meaning(_always(c.Lies(c.Look.CUPS)), "hear how it lies"),
    "flat": Meaning(_always(c.Lies(c.Look.FLAT)), "hear how it lies"),
    "gaps": Meaning(_always(c.Fabric(c.Cloth.GAPS))),
    "stiff": Meaning(_always(c.Fabric(c.Cloth.STIFF))),
    "tookhook": Meaning(_hook, "take another hook"),
    "gramsleft": Meaning(_grams(None), "take what the scales say"),
    "havegrams": Meaning(_grams("stash_g"), "take how much yarn there is"),
    "haveballs": Meaning(lambda said: c.HaveBalls(said.amount) if said.amount else None),
    "last": Meaning(_ask(c.Asked.ENOUGH), "tell you if the yarn lasts"),
    "howmuch": Meaning(_ask(c.Asked.YARN), "tell you how much yarn it takes"),
    "long": Meaning(_ask(c.Asked.TIME_LEFT), "tell you how long it takes"),
    "crowndone": Meaning(_ask(c.Asked.CROWN_TIME)),
    "norest": Meaning(_always(c.Rests(0))),
    "rest": Meaning(_whole(c.Rests)),
    "lostsee": Meaning(_whole(lambda count: c.LostAt(count, between=True)), "find your place"),
    "lostcount": Meaning(_whole(c.LostAt), "find your place"),
    "lostplace": Meaning(_always(c.Help("a lost place")), "find your place"),
    "lostcountof": Meaning(_fixed(c.Help("counting")), "help you count"),
    "tension": Meaning(_fixed(c.Tension())),
    "otherhands": Meaning(_always(c.OtherHands())),
    "newball": Meaning(_always(c.NewBall()), "note a new ball"),
    "wash": Meaning(_ask(c.Asked.WASHING), "tell you how it is washed"),
    "fibre": Meaning(_fibre),
    "finish": Meaning(_ask(c.Asked.FINISHING), "tell you how it is finished"),
    "band": Meaning(_ask(c.Asked.BAND), "tell you how long a band is"),
    "deeper": Meaning(_adjust("depth_mm", less=False), "make it deeper"),
    "shallower": Meaning(_adjust("depth_mm", less=True), "make it less deep"),
    "wider": Meaning(_adjust("brim_mm", less=False), "make the brim wider"),
    "narrower": Meaning(_adjust("brim_mm", less=True), "make the brim narrower"),
    "startsides": Meaning(_fixed(c.StartSides()), "start the sides"),
    "startbrim": Meaning(_fixed(c.StartBrim()), "start the brim"),
    "finishnow": Meaning(_fixed(c.FinishNow()), "end the hat here"),
    "head": Meaning(_change("head_mm"), "take another head"),
    "shapes": Meaning(_always(c.Help("shapes")), "tell you what else there is to make"),
    "sizes": Meaning(_ask(c.Asked.HEADS), "tell you how big heads are"),
    "another": Meaning(_fixed(c.Another()), "begin another one"),
    "startover": Meaning(_from_start, "begin again"),
    "goto": Meaning(_ripped_to, "go back to a round"),
    "cancel": Meaning(lambda said: c.Skip() if said.state.want else c.Undo(), "undo"),
    "justsaid": Meaning(_ask(c.Asked.TOLD), "tell you what I took last"),
    "notnow": Meaning(_fixed(c.Skip()), "leave that out"),
    "yes": Meaning(_fixed(c.Yes())),
    "no": Meaning(_fixed(c.No())),
    "correct": Meaning(lambda said: c.No(said.amount) if said.amount else None),
    "help": Meaning(_fixed(c.Help()), "help"),
    "skip": Meaning(_fixed(c.Skip()), "take the usual"),
    "headof": Meaning(_head_of, "take whose head it is for"),
    "us": Meaning(_choose("terms", "us"), "take US names"),
    "uk": Meaning(_choose("terms", "uk"), "take UK names"),
    "yarn": Meaning(_yarn, "take the yarn"),
    "hook": Meaning(_hook, "take the hook"),
    "stitch": Meaning(_stitch, "take the stitch"),
    "nobrim": Meaning(_choose("brim_mm", 0), "leave the brim off"),
    "smaller": Meaning(_smaller, "make it smaller than the head"),
    "spiral": Meaning(_choose("joined", False), "work in a spiral"),
    "joined": Meaning(_choose("joined", True), "join the rounds"),
    "begin": Meaning(_fixed(c.Begin()), "begin"),
    "oneround": Meaning(one_round, "work one more round"),
    "note": Meaning(lambda said: c.Note(said.text), "take a note"),
    "normal": Meaning(_always(c.Explain(Technique.NORMAL))),
    "corners": Meaning(_always(c.Explain(Technique.CORNERS))),
    **{
        f"explain {technique.value}": Meaning(_fixed(c.Explain(technique)))
        for technique in Technique
    },
}
"""By the name under which wordings are learnt; a topic to be explained has a name of its own."""
