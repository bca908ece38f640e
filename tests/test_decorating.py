"""Decorating: called step by step beside the rounds, which wait where they are."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.trims import BAND_OVERLAP_MM, band
from pattern.session import commands as c
from pattern.session.commands import Decoration
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.refusals import Reason, Refused
from pattern.session.state import CALLED_BESIDE, State
from pattern.shape.rounds import Stage
from pattern.trade.decorations import STEPS
from pattern.trade.lengths import Amount, Unit
from pattern.trade.techniques import Technique
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.golden.reading import caller_in
from tests.hats import begun, said, until, why_refused
from tests.pieces import Story, stories
from tests.properties import examples
from tests.wordings.places import said as heard_at
from voice.sentences import decorating
from voice.sentences.amounts import with_unit
from voice.sentences.due import now
from voice.sentences.pages import EAR_WORDS
from voice.sentences.reply import reply
from voice.words.free.clear import clear
from voice.words.free.in_steps import in_steps
from voice.words.free.matched import Match
from voice.words.free.spellings import said_plainly
from voice.words.phrases import read

ONWARDS = st.sampled_from([c.Next(), c.GoOn()])
STEPPING = st.lists(st.sampled_from([c.Next(), c.Back(), c.Undo(), c.Skip()]), max_size=9)
BESIDE = set(CALLED_BESIDE)


def place(state: State) -> dict[str, object]:
    """All that a session knows but what is decorated."""
    return {name: getattr(state, name) for name in State.__slots__ if name not in BESIDE}


def called(state: State, what: Decoration) -> State | None:
    """The state with a decoration called; None where it cannot be."""
    try:
        return fold(state, decide(state, c.Decorate(what)))
    except Refused:
        return None


@given(stories(), st.sampled_from(Decoration), STEPPING, st.sampled_from([c.Next(), c.Enough()]))
@settings(max_examples=examples(60), deadline=None)
def test_the_place_in_the_hat_is_what_it_was(
    story: Story, what: Decoration, steps: list[c.Command], last: c.Command
) -> None:
    """Whatever is stepped through, and left by its last step or by "that will do"."""
    before, state = story.state, called(story.state, what)
    if state is None:
        return
    for command in steps:
        if state.decorating is None:
            break
        state = said(state, command)
    while state.decorating is not None:
        state = said(state, last)
    assert place(state) == place(before)
    assert now(state) == now(before)


@given(st.sampled_from(Decoration), ONWARDS)
def test_each_step_comes_once_and_back_is_one_back(what: Decoration, onwards: c.Command) -> None:
    state = said(begun(), c.Decorate(what))
    told: list[str] = []
    while state.decorating is not None:
        told.append(now(state))
        assert now(said(state, c.Back())) == told[max(len(told) - 2, 0)]
        state = said(state, onwards)
    assert len(set(told)) == len(told) == len(STEPS[what])


AGES = st.sampled_from([None, 0.5, 2.0, 5.0, 8.0, 40.0])
SHAPES = st.sampled_from(["brimmed hat", "close cap", "beret", "bucket hat", "bowl", "mat", "ball"])


@given(st.sampled_from(Decoration), SHAPES, AGES, st.sampled_from([430.0, 480.0, 585.0]))
@settings(max_examples=examples(60), deadline=None)
def test_every_step_is_held_in_the_ear(
    what: Decoration, shape: str, age: float | None, size_mm: float
) -> None:
    key = "across_mm" if shape in {"mat", "bowl", "ball"} else "head_mm"
    sized = {key: size_mm / 3 if key == "across_mm" else size_mm}
    plain = {"head_mm": 420.0, "brim_mm": None, "age_years": age, "unit": "centimeter"}
    state = called(begun(**{**plain, **sized, "shape": shape}), what)
    while state is not None and state.decorating is not None:
        assert len(now(state).split()) <= EAR_WORDS, now(state)
        state = said(state, c.Next())


def test_the_length_comes_first_with_its_overlap() -> None:
    state = said(begun(unit="centimeter"), c.Decorate(Decoration.RIBBON))
    whole = with_unit(band(state).mean + BAND_OVERLAP_MM, state.settings, 8)
    assert now(state).lower().startswith(whole)
    assert "two to overlap" in now(state)
    assert now(state).endswith(decorating.NEXT_OR_LEAVE)


@pytest.mark.parametrize(("age", "small", "loose"), [(2.0, True, True), (5.0, False, True)])
def test_cautions_for_children(age: float, small: bool, loose: bool) -> None:
    """US 16 CFR 1501: small parts under 3 years. EN 14682: no cords under 7; hats are outside its
    scope, the rule is followed all the same.
    """
    state = begun(age_years=age)
    assert ("under three" in now(said(state, c.Decorate(Decoration.FLOWER)))) is small
    assert ("no ties" in now(said(state, c.Decorate(Decoration.RIBBON), c.Next()))) is loose
    grown = begun(age_years=30.0)
    assert "under three" not in now(said(grown, c.Decorate(Decoration.FLOWER)))
    assert "no ties" not in now(said(grown, c.Decorate(Decoration.RIBBON), c.Next()))


def test_ties_are_ruled_out_for_a_child_and_sewn_in_for_others() -> None:
    """EN 14682 and US 16 CFR 1501, as above."""

    def told(age: float | None) -> str:
        state = begun(age_years=age)
        return reply(state, c.Explain(Technique.TIES), (), state)

    assert told(4.0).startswith("For a child under seven, no cords")
    assert "tell me more" not in told(4.0)
    assert "Under three no buttons, beads or pins" in told(4.0)
    assert "where you live" in told(4.0)
    assert "tell me more" in told(None)


@pytest.mark.parametrize("topic", [Technique.GLUE, Technique.TRIM_WASH, Technique.TIES], ids=str)
def test_each_answer_is_one_breath(topic: Technique) -> None:
    state = begun()
    assert len(reply(state, c.Explain(topic), (), state).split()) <= EAR_WORDS + 5


def test_work_on_the_piece_ends_it_and_next_is_the_round_again() -> None:
    state = said(until(lambda now: now.piece.finished == 4, begun()), c.Decorate(Decoration.LACE))
    counted = said(state, c.Next(), c.Counted(state.piece.stitches))
    assert counted.decorating is None
    assert said(counted, c.Next()).piece.finished == state.piece.finished + 1
    noted = said(state, c.Note("cream lace"))
    assert noted.decorating == state.decorating
    assert said(said(state, c.Pause()), c.GoOn()).decorating == state.decorating


@pytest.mark.parametrize(
    ("shape", "what", "possible"),
    [
        ("ball", Decoration.RIBBON, False),
        ("ball", Decoration.LACE, False),
        ("ball", Decoration.FLOWER, True),
        ("mat", Decoration.RIBBON, False),
        ("mat", Decoration.EDGING, True),
    ],
)
def test_what_has_no_place_for_it_says_so(shape: str, what: Decoration, possible: bool) -> None:
    state = begun(shape=shape, across_mm=100.0)
    if possible:
        assert called(state, what) is not None
    else:
        assert why_refused(state, c.Decorate(what)) is Reason.NO_PLACE_FOR


def test_that_will_do_begins_in_the_interview_and_elsewhere_leaves_nothing() -> None:
    assert read("that will do") == c.Enough()
    asked = said(State(), c.Change("head_mm", Amount(56.0, unit=Unit.CM)))
    assert said(asked, c.Enough()).stage is Stage.RING
    assert why_refused(begun(), c.Enough()) is Reason.NOTHING_CALLED


LINES = (
    *("head forty two centimetres", "super bulky", "fifteen", "a child of four", "begin"),
    *("next", "next", "how do i sew on a ribbon", "next", "again"),
)


def test_a_small_hat_with_a_ribbon_survives_an_interruption(tmp_path: Path) -> None:
    """Typed lines in process, the journal on the disk; no words of this are free ones."""
    with caller_in(tmp_path) as caller:
        caller.open()
        replies = [caller.hear(line).say for line in LINES]
        number = caller.state.offered
        assert replies[-1] == replies[-2]
    with caller_in(tmp_path) as caller:
        assert caller.open().say.endswith(replies[-1])
        assert caller.state.offered == number
        steps = [caller.hear("next").say for _ in STEPS[Decoration.RIBBON][2:]]
        assert len(set(steps)) == len(steps)
        back = caller.hear("next").say
        assert back.startswith("The ribbon is on. Back to the ")
        assert caller.state.offered == number
        heard = [back]
        for _ in range(40):
            if caller.state.stage is Stage.DONE:
                break
            open_ = caller.state.doubt or caller.state.want
            heard.append(caller.hear("skip" if open_ else "next").say)
        rounds = [one.round.number for one in caller.state.rounds_made()]
        assert all(after + 1 == before for before, after in pairwise(rounds))
        assert caller.hear("put a flower on").say
        assert caller.hear("that will do").say.startswith("Back to the ")
        text = as_text(as_made(caller.state, "Ribboned"), 200)
    section = text[text.index("Decorating\n") :]
    assert "Ribbon: cut" in section
    assert "Flower or bow" in section
    assert "Lace" not in section


def test_a_pattern_without_decorations_has_no_such_section() -> None:
    assert "Decorating" not in as_text(as_made(begun(), "Plain"), 200)


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("how do i put a ribbon on", Decoration.RIBBON),
        ("How do I sew on a band?", Decoration.RIBBON),
        ("put some lace on", Decoration.LACE),
        ("how do i sew an edging on", Decoration.EDGING),
        ("how do i put a bow on", Decoration.FLOWER),
        ("how do i make the brim stiff", Decoration.STIFFENING),
    ],
)
def test_phrases(words: str, what: Decoration) -> None:
    assert read(words) == c.Decorate(what)


@pytest.mark.parametrize(
    ("words", "command"),
    [
        ("what's the next step", c.Next()),
        ("okay, what then?", c.Next()),
        ("I've pinned it at the quarters", c.Next()),
        ("go back a step", c.Back()),
        ("the one before, please", c.Back()),
        ("I know the rest, thanks", c.Enough()),
        ("enough of that", c.Enough()),
    ],
)
def test_steps_are_followed_in_own_words(words: str, command: c.Command) -> None:
    state = said(begun(), c.Decorate(Decoration.RIBBON), c.Next())
    assert in_steps(said_plainly(words), begun()) is None
    found = clear(words, state)
    assert isinstance(found, Match)
    assert (found.command, found.asks) == (command, False)


def test_what_comes_next_is_the_next_step_and_then_the_hat() -> None:
    state = said(begun(), c.Decorate(Decoration.LACE))
    for _ in STEPS[Decoration.LACE][1:]:
        ahead = reply(state, c.Ask(c.Asked.WHAT_NEXT), (), state)
        state = said(state, c.Next())
        assert now(state)[1:] in ahead or now(state)[0].lower() + now(state)[1:] in ahead
    assert "back to the hat" in reply(state, c.Ask(c.Asked.WHAT_NEXT), (), state)


@pytest.mark.parametrize(
    ("words", "command"),
    [
        ("what about a bit of lace round the brim", c.Decorate(Decoration.LACE)),
        ("I reckon a bit of velvet ribbon would finish it off", c.Decorate(Decoration.RIBBON)),
        ("how should I attach these little buttons", c.Decorate(Decoration.FLOWER)),
        ("how do milliners make brims stiff", c.Decorate(Decoration.STIFFENING)),
        ("can I glue a flower on", c.Explain(Technique.GLUE)),
        ("would the ribbon fade in the wash", c.Explain(Technique.TRIM_WASH)),
        ("is it safe to pin a brooch on it", c.Explain(Technique.TIES)),
        ("how long a ribbon do I need", c.Ask(c.Asked.BAND)),
    ],
)
def test_it_is_asked_in_own_words(words: str, command: c.Command) -> None:
    """By the weights that are learnt from the wordings."""
    before, (reply_,) = heard_at("S", words)
    assert reply_.command == command
    assert place(reply_.state) == place(before)


@pytest.mark.parametrize("words", ["she bought flowers at the market", "her ribbon was blue"])
def test_talk_of_ribbons_calls_none(words: str) -> None:
    _, (reply_,) = heard_at("S", words)
    assert reply_.state.decorating is None


def test_undo_of_work_leaves_what_was_called() -> None:
    state = said(begun(), c.Next(), c.Decorate(Decoration.LACE), c.Enough(), c.Undo())
    assert state.piece.finished == 0
    assert state.decorated == (Decoration.LACE,)
