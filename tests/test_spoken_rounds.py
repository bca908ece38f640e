"""The words of a round mean exactly the stitches placed: they are read back and compared."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from pattern.shape.rounds import Round, Stage, spaced_round
from pattern.shape.settings import Settings
from pattern.trade.stitches import Stitch, Terms
from voice.sentences.rounds import called
from voice.words.spoken_numbers import read_integer

_TIMES = {"once": 1, "twice": 2}


def _number(words: str) -> int:
    number = read_integer(words)
    assert number is not None, words
    return number


def _times(words: str) -> int:
    return _TIMES.get(words) or _number(words.removesuffix(" times"))


def _plain(words: str) -> int:
    if words in {"", "one in the next"}:
        return int(bool(words))
    return _number(words.removeprefix("one in each of the next "))


class Listener:
    """A maker who works what is said, stitch by stitch, and knows no more than that."""

    def __init__(self, decreasing: bool) -> None:
        self.at, self.places, self.decreasing = 0, [], decreasing
        self.lead = 0

    at: int
    places: list[int]

    def work(self, lead: int, after: int, times: int) -> None:
        for _ in range(times):
            self.places.append(self.at + lead)
            self.at += lead + (2 if self.decreasing else 1) + after

    def hear(self, part: str) -> None:
        if match := re.fullmatch(r"two in each of the next (.+)", part):
            self.work(0, 0, _number(match[1]))
        elif match := re.fullmatch(r"(?:the same with )?(.+), (.+)", part):
            self._repeat(match[1], _times(match[2]), same="the same with" in part)
        else:
            raise AssertionError(part)

    def _repeat(self, body: str, times: int, same: bool) -> None:
        if same:
            self.work(self.lead, 0 if body == "none" else _number(body), times)
            return
        change = "the next two together" if self.decreasing else "two in the next"
        before, found, after = f", {body}, ".partition(f", {change}, ")
        assert found, body
        self.lead = _plain(before.strip(", "))
        self.work(self.lead, _plain(after.strip(", ")), times)


def heard(said: str, decreasing: bool, before: int) -> tuple[int, ...]:
    """Places that the spoken round means."""
    body = re.sub(r"^Round [a-z ]+: (chain [a-z]+, then )?", "", said).partition(".")[0]
    listener = Listener(decreasing)
    if body == "plain, one in each stitch":
        return ()
    if body == "two in each stitch":
        return tuple(range(before))
    if not body.endswith((" times", "once", "twice", "at the end")) and "of the next" in body:
        body += ", once"  # a single increase
    body, *again = body.split("; all that ")
    if again:
        times, _, rest = again[0].partition("; then ")
        for _ in range(_times(times)):
            for part in re.split(r", then (?!the same)", body):
                listener.hear(part)
        body = rest
    for part in re.split(r"; then |, then ", body) if body else []:
        if part.endswith(" at the end"):
            listener.at += _plain(part.removesuffix(" at the end"))
        else:
            listener.hear(part)
    assert listener.at == before, (said, listener.at)
    return tuple(listener.places)


@st.composite
def rounds(draw: st.DrawFn) -> Round:
    before = draw(st.integers(4, 300))
    change = draw(st.integers(-(before // 2), before))
    shifted = change > 0 and before % change == 0 and draw(st.booleans())
    whole = spaced_round(draw(st.integers(2, 200)), Stage.SIDES, before, change, shifted)
    cut = draw(st.integers(0, whole.sets))
    return whole.cut_after(cut) if draw(st.booleans()) and cut else whole


@given(
    rounds(),
    st.builds(
        Settings, joined=st.booleans(), stitch=st.sampled_from(Stitch), terms=st.sampled_from(Terms)
    ),
)
def test_a_round_that_is_heard_is_the_round_that_was_called(
    round_: Round, settings: Settings
) -> None:
    said = called(round_, settings, brief=False)
    assert heard(said, round_.decreasing, round_.before) == round_.places


@given(rounds())
def test_the_number_comes_first_and_the_stitches_last(round_: Round) -> None:
    for brief in (False, True):
        said = called(round_, Settings(), brief)
        assert re.match(r"Round [a-z ]+: ", said)
        total = said.rstrip(".").rpartition(". ")[2].lower()
        assert _number(total.removesuffix(" stitches").removesuffix(" stitch")) == round_.after


def test_single_crochet_is_double_crochet_in_uk_terms() -> None:
    # Source: a trade council's booklet of US and UK terms, read as a copy.
    ring = Round(1, Stage.RING, 0, 6)
    assert "six single crochet" in called(ring, Settings(), brief=False)
    assert "six double crochet" in called(ring, Settings(terms=Terms.UK), brief=False)
