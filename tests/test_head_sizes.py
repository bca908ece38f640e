"""Heads by age: the range as its sources have it, told with the word that a measured head wins."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rcpchgrowth import measurement_from_sds  # type: ignore[import-untyped]

from pattern.session import commands as c
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.trade.head_medians import Sex
from pattern.trade.head_sizes import HEAD_CENTILES_CM, head_range
from tests.hats import why_refused
from voice.sentences.heads import answer
from voice.words.phrases import read

CENTILE_SDS = 1.8807936
"""Standard deviations of a normal distribution to its 97th centile."""
TO_FIVE = [(sex, age) for sex in Sex for age, *_ in HEAD_CENTILES_CM[sex] if age < 5]
FROM_SIX = [(sex, age) for sex in Sex for age, *_ in HEAD_CENTILES_CM[sex] if 6 <= age < 18]


@pytest.mark.parametrize(
    ("sex", "age", "reference"),
    [
        *((sex, age, "who") for sex, age in TO_FIVE),
        *((sex, age, "uk-who") for sex, age in FROM_SIX),
    ],
)
@pytest.mark.filterwarnings("ignore")
def test_centiles_are_those_of_the_references(sex: Sex, age: float, reference: str) -> None:
    """Source: WHO 2006 and UK90, by rcpchgrowth."""
    found = head_range(age, sex)
    for sds, girth in ((-CENTILE_SDS, found.small), (CENTILE_SDS, found.large)):
        true = measurement_from_sds(
            reference=reference, requested_sds=sds, measurement_method="ofc", sex=sex.value, age=age
        )
        assert girth == pytest.approx(10 * true, abs=0.06)


def test_grown_heads_are_those_of_the_survey() -> None:
    """ANSUR II (Gordon et al., NATICK/TR-15/007, 2014): 3rd to 97th centile."""
    assert (head_range(30, Sex.MALE).small, head_range(30, Sex.MALE).large) == (545, 605)
    assert (head_range(30, Sex.FEMALE).small, head_range(30, Sex.FEMALE).large) == (528, 602)


@given(st.floats(0, 30), st.sampled_from(Sex))
def test_the_middle_lies_between_and_heads_do_not_shrink(age: float, sex: Sex) -> None:
    found = head_range(age, sex)
    assert found.small < found.middle < found.large
    later = head_range(age + 1, sex)
    assert found.small <= later.small


def test_it_is_told_short_and_a_measured_head_wins() -> None:
    said = answer(State(), c.HeadSize(6.0))
    assert said.startswith("Twenty and a half inches for a girl of six years")
    assert said.endswith("A measured head wins.")
    assert "for a woman" in answer(State(), c.HeadSize())
    assert why_refused(State(), c.HeadSize(200.0)) is Reason.OUT_OF_LIMITS


@pytest.mark.parametrize(
    ("said", "command"),
    [
        ("how big is a head of six years", c.HeadSize(6.0)),
        ("How big is a baby's head of three months?", c.HeadSize(0.25)),
        ("how big is a girl's head of ten", c.HeadSize(10.0, Sex.FEMALE)),
        ("how big is a head", c.HeadSize()),
    ],
)
def test_what_is_asked_of_heads(said: str, command: c.Command) -> None:
    assert read(said) == command


def test_the_table_by_the_command_line() -> None:
    run = subprocess.run(
        [sys.executable, "-m", "voice", "sizes", "--unit", "in"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "grown" in run.stdout
    assert "measure the" in run.stdout
