"""The words of a round mean exactly the stitches placed: they are read back and compared."""

from __future__ import annotations

import re
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.shape.rounds import Round, Stage, spaced_round
from pattern.shape.settings import Settings
from pattern.trade.stitches import Stitch, Terms
from tests.test_rounds import older
from voice.sentences.rounds import called
from voice.words.spoken_numbers import read_integer, say_integer

_CHANGE = {False: "two in the next", True: "the next two together"}


def _number(words: str) -> int:
    number = read_integer(words)
    assert number is not None, words
    return number


def _times(words: str) -> int:
    return 2 if words == "twice" else _number(words.removesuffix(" times"))


def _plain(words: str) -> int | None:
    """Plain stitches of the next ones, or of the last ones; None for all to the end."""
    if words in {"one in the next", "one in the last"}:
        return 1
    if words in {"one in each stitch to the end", "plain to the end"}:
        return None
    for pattern in (r"one in each of the (?:next|last) (.+)", r"(?:the last )?(.+) plain"):
        if match := re.fullmatch(pattern, words):
            return _number(match[1])
    raise AssertionError(words)


class Listener:
    """A maker who works what is said, stitch by stitch, and knows no more than that."""

    def __init__(self, decreasing: bool, before: int, change: str) -> None:
        self.at, self.places, self.decreasing = 0, [], decreasing
        self.before, self.change = before, change

    at: int
    places: list[int]

    def work(self, steps: list[str], times: int) -> None:
        for _ in range(times):
            for step in steps:
                if step == self.change:
                    self.places.append(self.at)
                    self.at += 2 if self.decreasing else 1
                else:
                    plain = _plain(step)
                    self.at = self.before if plain is None else self.at + plain

    def hear(self, part: str) -> None:
        if match := re.fullmatch(r"two in each of the next (.+)", part):
            self.work([self.change], _number(match[1]))
            return
        *steps, last = part.split(", ")
        if last.endswith((" times", "twice")):
            self.work(steps, _times(last))
        else:
            self.work([*steps, last], 1)


def heard(said: str, decreasing: bool, before: int, brief: bool = False) -> tuple[int, ...]:
    """Places that the spoken round means."""
    body = re.sub(
        r"^Round [a-z ]+: (chain [a-z]+, (then |as the first of these: ))?", "", said
    ).partition(".")[0]
    if body in {"every stitch plain", "plain"}:
        return ()
    if body in {"two in each stitch", "two in each"}:
        return tuple(range(before))
    change = {False: "two in one", True: "two together"} if brief else _CHANGE
    listener = Listener(decreasing, before, change[decreasing])
    body, *again = body.split("; all that ")
    if again:  # only in rounds of older journals
        times, _, rest = again[0].partition("; ")
        for _ in range(_times(times)):
            for part in body.split(", then "):
                listener.hear(part)
        body = rest.removeprefix("then ")
    for part in re.split(r"; then |; ", body) if body else []:
        listener.hear(part)
    assert listener.at == before, (said, listener.at)
    return tuple(listener.places)


@st.composite
def offered(draw: st.DrawFn) -> Round:
    """A round as a session offers it."""
    before = draw(st.integers(4, 300))
    change = draw(st.integers(-(before // 2), before))
    shift = draw(st.sampled_from((0.0, 0.25, 0.5, 0.75)))
    return spaced_round(draw(st.integers(2, 200)), Stage.SIDES, before, change, shift)


@st.composite
def rounds(draw: st.DrawFn) -> Round:
    """Such a round, perhaps stopped after a repeat."""
    whole = draw(offered())
    cut = draw(st.integers(0, whole.sets))
    return whole.cut_after(cut) if draw(st.booleans()) and cut else whole


SETTINGS = st.builds(
    Settings, joined=st.booleans(), stitch=st.sampled_from(Stitch), terms=st.sampled_from(Terms)
)


@given(rounds() | older(), SETTINGS, st.booleans())
def test_a_round_that_is_heard_is_the_round_that_was_called(
    round_: Round, settings: Settings, brief: bool
) -> None:
    said = called(round_, settings, brief=brief)
    assert heard(said, round_.decreasing, round_.before, brief) == round_.places


@given(rounds())
def test_the_number_comes_first_and_the_stitches_last(round_: Round) -> None:
    for settings, brief in product((Settings(), Settings(joined=True)), (False, True)):
        said = called(round_, settings, brief=brief)
        assert re.match(r"Round [a-z ]+: ", said)
        total = said.rstrip(".").rpartition(". ")[2].lower()
        assert _number(total.removesuffix(" stitches").removesuffix(" stitch")) == round_.after


@given(offered())
def test_no_round_goes_back_to_what_was_said_before(round_: Round) -> None:
    """No repeat in a repeat, no "the same with", no "once", and few enough words to hold."""
    said = called(round_, Settings(), brief=False)
    assert not re.search(r"all that|the same|\bonce\b", said)
    assert len(said.partition(": ")[2].partition(".")[0].split()) <= 24


@pytest.mark.parametrize(
    ("before", "change", "words"),
    [
        (36, 6, "two in the next, one in each of the next five, six times"),
        (47, 7, "two in the next, five plain, seven times; the last five plain"),
        (74, 1, "two in the next, one in each stitch to the end"),
        (74, 0, "every stitch plain"),
        (12, 12, "two in each stitch"),
        (
            17,
            10,
            "two in the next, one plain, seven times; then two in each of the next three",
        ),
    ],
)
def test_rounds_as_they_are_called(before: int, change: int, words: str) -> None:
    round_ = spaced_round(9, Stage.CROWN, before, change)
    total = say_integer(before + change).capitalize()
    assert called(round_, Settings(), brief=False) == f"Round nine: {words}. {total} stitches."


def test_single_crochet_is_double_crochet_in_uk_terms() -> None:
    # Source: a trade council's booklet of US and UK terms, read as a copy.
    ring = Round(1, Stage.RING, 0, 6)
    assert "six single crochet" in called(ring, Settings(), brief=False)
    assert "six double crochet" in called(ring, Settings(terms=Terms.UK), brief=False)
