"""Which hearing is acted on; the likelihoods a session gives follow from its own prediction."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.plan.readings import expected, reading_of
from pattern.session import commands as c
from pattern.session.commands import Counted, Kind, Next, No, Sets, Yes
from pattern.session.decide_yarn import on_hand
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.trade.lengths import Amount, Unit
from tests.openings import opening
from tests.properties import examples
from voice.hearing.evidence import Action, Context, Evidence, flat
from voice.hearing.expectation import (
    ASKED_FROM,
    CLEAR,
    CONFIRMS,
    LIKELIER_THAN_NOT,
    WORD_CLEAR,
    YES_OR_NO_FROM,
    Act,
    AskWhich,
    Silent,
    chances,
    choose,
    clear_amid_talk,
)
from voice.hearing.listening import Hearing
from voice.hearing.narrowing import groups_now
from voice.hearing.number_expectation import NEVER, REFUSED
from voice.hearing.session_expectation import expectation_of, reader_in
from voice.hearing.verdict import verdict
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.speech.speaker import Renderer
from voice.words.phrases import read
from voice.words.spoken_numbers import say_integer


def working(rounds: int) -> State:
    state = fold(State(), opening(State(), {"head_mm": 560.0, "yarn": 4, "hook_mm": 5.0}))
    for _ in range(rounds):
        state = fold(state, decide(state, Next()))
    return state


def weight(state: State, words: str) -> float:
    command = read(words)
    assert command is not None
    return expectation_of(state)(command)


def opinion(doubtful: bool = False, **scores: float) -> Opinion:
    found = [Hypothesis(words.replace("_", " "), score) for words, score in scores.items()]
    return Opinion(tuple(sorted(found, key=lambda h: -h.score)), "ear", doubtful)


def test_sure_acts_unsure_asks_nothing_is_silent() -> None:
    assert choose(opinion(next=0.97)) == Act(Next(), 0.97)
    assert isinstance(choose(opinion(count_sixteen=0.52, count_sixty=0.46)), AskWhich)
    assert choose(opinion(next=0.3)) == Silent()
    assert choose(opinion()) == Silent()


@given(share=st.floats(0.01, 0.99), other=st.floats(0.0, 0.99), weight=st.floats(1.0, 50.0))
def test_what_was_less_likely_than_not_is_not_made_a_command_by_expecting_it(
    share: float, other: float, weight: float
) -> None:
    found = opinion(next=share, back=min(other, 1 - share))
    decision = choose(found, lambda command: weight if command == Next() else 1.0)
    assert share >= 0.5 or decision != Act(Next(), getattr(decision, "probability", 0.0))


def test_among_numbers_what_is_expected_decides() -> None:
    found = opinion(count_sixteen=0.45, count_sixty=0.5)
    decision = choose(found, lambda command: 50.0 if command == Counted(16) else 1.0)
    assert isinstance(decision, Act)
    assert decision.command == Counted(16)


def test_a_number_that_is_expected_does_not_replace_clear_words() -> None:
    found = opinion(again=0.9, count_sixteen=0.05)
    decision = choose(found, lambda command: 50.0 if command == Counted(16) else 1.0)
    assert getattr(decision, "command", None) != Counted(16)


def test_what_engines_do_not_confirm_is_never_done() -> None:
    result = verdict(Evidence(opinion(doubtful=True, next=0.99)), Context())
    assert result.action is Action.ASK
    assert result.text == "next"


def test_amid_talk_only_what_is_clear_is_done() -> None:
    """Not even what the session expects: talk must not find it by chance, a single word least."""
    assert CLEAR < WORD_CLEAR
    bounds = {"next": WORD_CLEAR, "where_am_i": CLEAR}
    for doubtful, words, more in product((True, False), bounds, (-0.01, 0.01)):
        found = opinion(doubtful, **{words: bounds[words] + more})
        result = verdict(Evidence(found, amid_talk=True), Context(lambda _: 10.0))
        assert result.action is (Action.ACT if more > 0 and not doubtful else Action.ASK)


@given(st.floats(0.01, 0.98), st.floats(0.05, 0.95))
def test_amid_talk_the_wordings_of_a_command_are_clear_together(total: float, share: float) -> None:
    scores = sorted((total * share, total * (1 - share)), reverse=True)
    found = opinion(False, **dict(zip(("five_sets", "five_set"), scores, strict=True)))
    result = verdict(Evidence(found, amid_talk=True), Context(lambda _: 10.0))
    assert (result.action is Action.ACT) is (sum(scores) >= CLEAR)


@pytest.mark.parametrize(("numbers", "done"), [(1, False), (2, False), (3, False), (4, True)])
def test_an_expected_number_is_heard_only_where_most_likely_a_number_was_said(
    numbers: int, done: bool
) -> None:
    heard_of = ("count_sixteen", "count_sixty", "count_fifty", "count_fifteen")[:numbers]
    found = opinion(False, **dict.fromkeys(heard_of, LIKELIER_THAN_NOT * 0.4))
    result = verdict(
        Evidence(found), Context(lambda command: 50.0 if command == Counted(16) else 1.0)
    )
    assert (result.command == Counted(16) and result.action is Action.ACT) == done


@given(st.sampled_from(["yes", "no"]), st.floats(0.01, 0.99), st.floats(1.0, 100.0), st.booleans())
def test_yes_and_no_are_taken_only_where_they_were_heard_themselves(
    words: str, share: float, weight: float, wary: bool
) -> None:
    found = opinion(False, **{words: share})
    decision = choose(found, lambda _: weight, clear=clear_amid_talk(found) if wary else None)
    if share < YES_OR_NO_FROM:
        assert decision == Silent()
    elif not wary and weight >= 10:
        assert isinstance(decision, Act)


@given(st.floats(0.001, 0.6), st.floats(0.001, 0.39), st.floats(1.0, 100.0))
def test_nothing_is_asked_about_only_because_it_is_expected(
    yes: float, no: float, weight: float
) -> None:
    found = opinion(False, yes=yes, no=no)
    decision = choose(found, lambda _: weight)
    if isinstance(decision, AskWhich):
        shares = {Yes(): yes, No(): no}
        assert sum(shares[each] for each in decision.candidates) >= ASKED_FROM


def test_words_that_mean_nothing_here_count_as_nothing_said() -> None:
    found = opinion(next=0.45, listen_basket=0.55)
    assert chances(found, flat) == pytest.approx({Next(): 0.45})


def test_ways_to_say_one_command_add_up() -> None:
    result = verdict(Evidence(opinion(two_sets=0.5, two_repeats=0.45)), Context())
    assert (result.action, result.command) == (Action.ACT, Sets(2))


def test_a_question_offers_the_two_likeliest() -> None:
    result = verdict(Evidence(opinion(count_sixteen=0.5, count_sixty=0.48)), Context())
    assert result.action is Action.ASK
    assert [a.words for a in result.alternatives] == ["count sixteen", "count sixty"]


@pytest.mark.parametrize("rounds", [4, 8])
def test_the_session_settles_sixteen_or_sixty(rounds: int) -> None:
    state = working(rounds)
    right = state.piece.stitches
    state_weight = expectation_of(state)
    likely = read(f"count {right}")
    unlikely = read(f"count {right + 44}")
    assert likely is not None
    assert unlikely is not None
    assert state_weight(likely) > 20 * state_weight(unlikely)


def test_the_yarn_left_is_likeliest_where_the_use_predicts_it() -> None:
    state = working(1)
    for words in ("i have one hundred grams", *["next"] * 12):
        command = read(words)
        assert command is not None
        state = fold(state, decide(state, command))
    have = on_hand(state)
    assert have is not None
    near = round(have.mean)
    far = weight(state, f"weighed {near - 30} grams")
    assert weight(state, f"weighed {near} grams") > 2 * far


def test_a_reading_is_likeliest_where_the_session_predicts_it() -> None:
    state = working(8)
    blank = reading_of(state.piece, Kind.ACROSS, 0.0, 6.35, 0.0)
    inches = round(expected(state.piece, blank).mean / 25.4)
    assert weight(state, f"across {inches} inches") > 10 * weight(state, f"across {inches + 60}")


def test_what_cannot_be_is_nearly_ruled_out() -> None:
    state = working(3)
    assert weight(state, "ripped back four rounds") == REFUSED
    assert weight(state, "ripped back two rounds") > NEVER
    assert state.offered is not None
    assert weight(state, f"{state.offered.sets} sets") > weight(
        state, f"{state.offered.sets + 1} sets"
    )
    assert weight(state, "yes") < weight(state, "next")


def test_no_mends_what_was_just_believed_as_soon_as_anything_was() -> None:
    state = working(3)
    assert weight(state, "no") == REFUSED
    heard_wrong = fold(state, decide(state, Counted(state.piece.stitches)))
    assert weight(heard_wrong, "no") > NEVER


@given(inches=st.integers(1, 40))
def test_the_more_a_hat_is_adjusted_the_less_likely(inches: int) -> None:
    state = working(3)
    words = [f"deeper by {say_integer(n)} inches" for n in (inches, inches + 1)]
    assert weight(state, words[0]) >= weight(state, words[1]) > 0


@pytest.mark.parametrize(
    ("said", "likelier"),
    [
        ("across six point oh", "across six"),
        ("across six point two oh", "across six point two"),
        ("head fifty point zero centimetres", "head fifty centimetres"),
    ],
)
def test_a_zero_at_the_end_of_a_decimal_is_hardly_ever_said(said: str, likelier: str) -> None:
    state = working(3)
    assert 0 < weight(state, said) < weight(state, likelier)


@pytest.mark.parametrize("words", ["one smaller", "one bigger", "half smaller", "two bigger"])
def test_bigger_and_smaller_answer_how_much(words: str) -> None:
    """The session expects them at that question enough for one engine to be believed."""
    state = fold(State(), decide(State(), c.Choose("unit", "centimeter")))
    state = fold(state, decide(state, c.EveryQuestion()))
    while state.question != "ease_mm":
        state = fold(state, decide(state, c.Skip()))
    command = reader_in(state)(words)
    assert command is not None
    assert expectation_of(state)(command) >= CONFIRMS
    fold(state, decide(state, command))  # and it is taken


def test_a_bare_head_is_expected_in_either_unit_while_none_is_known() -> None:
    state = State()
    assert state.question == "head_mm"
    for words in ("fifty six", "twenty two", "fifty eight", "twenty two and a half"):
        command = reader_in(state)(words)
        assert command is not None
        assert expectation_of(state)(command) > CONFIRMS, words


@pytest.mark.parametrize("words", ["yes", "begin", "ask me everything", "skip"])
def test_an_answer_to_the_last_question_is_expected(words: str) -> None:
    state = State()
    for _ in range(4):
        state = fold(state, decide(state, c.Skip()))
    assert state.question == BEGIN
    command = reader_in(state)(words)
    assert command is not None
    assert expectation_of(state)(command) >= CONFIRMS


def test_puffs_and_knocks_do_not_answer_what_is_in_doubt(hearing: Hearing) -> None:
    """The real engines; without a bound of its own "no" was heard in a fifth of them."""
    state = working(5)
    state = fold(state, decide(state, c.Measured(Amount(13.0, unit=Unit.CM), Kind.ACROSS)))
    assert state.doubt is not None
    rng, answers = np.random.default_rng(5), 0
    bursts = examples(60)
    for _ in range(bursts):
        size = int(rng.integers(3000, 12_000))
        burst = rng.normal(0, 3000, size) * np.hanning(size)
        sound = np.concatenate([np.zeros(4000), burst, np.zeros(4800)])
        sound += rng.normal(0, 30, len(sound))
        what = hearing.decide(
            sound.astype(np.int16), expectation_of(state), groups_now(state), reader_in(state)
        )
        answers += what.action is not Action.SILENT
    assert answers <= bursts // 60


@pytest.mark.parametrize("words", ["yes", "no"])
def test_yes_and_no_themselves_do(hearing: Hearing, words: str) -> None:
    state = working(5)
    state = fold(state, decide(state, c.Measured(Amount(13.0, unit=Unit.CM), Kind.ACROSS)))
    with Renderer() as renderer:
        what = hearing.decide(
            renderer.render(words), expectation_of(state), groups_now(state), reader_in(state)
        )
    assert (what.action, what.command) == (Action.ACT, read(words))
