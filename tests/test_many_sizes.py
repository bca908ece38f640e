"""One pattern for several sizes means for each size what its own pattern says."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import planned_end
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.writeup.document import Steps
from pattern.writeup.merged_lines import merged
from pattern.writeup.pattern_in_sizes import as_sizes
from pattern.writeup.written_rounds import short_name, stitches, written
from tests.pieces import begun
from tests.properties import examples

ROOT = Path(__file__).parent.parent


def of_size(line: str, size: int, sizes: int) -> str | None:
    """What a line says to one size (from 0), by the rules at the pattern's head."""
    for named, text in re.findall(r" ?(?:\(size ([\d, ]+)\) )?(.+?)(?= \(size |$)", line):
        whom = [int(one) - 1 for one in named.split(", ")] if named else list(range(sizes))
        if size in whom:
            at = whom.index(size)
            return re.sub(
                r"(\d+) \((\d+(?:, \d+)*)\)",
                lambda found, at=at: [found[1], *found[2].split(", ")][at],  # type: ignore[misc]
                text,
            )
    return None


def rounds_of(states: list[State], size: int) -> list[str]:
    """The rounds of one size as its reader works them."""
    document = as_sizes(states)
    (section,) = [one for one in document.sections if one.heading == "Rounds"]
    worked = []
    for part in section.sections:
        (block,) = part.blocks
        assert isinstance(block, Steps)
        for step in block.steps:
            name, mine = step.rounds, of_size(step.work, size, len(states))
            times = (
                1
                if name.startswith("Round ")
                else int((of_size(name, size, len(states)) or "0").split()[0])
            )
            worked += [mine] * times if mine is not None else []
    return worked


@settings(max_examples=examples(15))
@given(
    st.lists(st.integers(440, 620), min_size=2, max_size=4, unique=True),
    st.sampled_from([4, 5, 6]),
    st.sampled_from([0.0, 60.0]),
)
def test_each_size_works_its_own_rounds(heads: list[int], yarn: int, brim: float) -> None:
    states = [begun(head_mm=float(head), yarn=yarn, brim_mm=brim) for head in sorted(heads)]
    for size, state in enumerate(states):
        short = short_name(state.settings.stitch, state.settings.terms)
        own = [made.round for made in planned_end(state).rounds_made()][::-1]
        assert rounds_of(states, size) == [
            f"{written(one, short)} - {stitches(one.after)}" for one in own
        ]


@settings(deadline=None, max_examples=15)
@given(
    st.lists(st.integers(440, 620), min_size=2, max_size=4, unique=True),
    st.sampled_from([3, 4, 5]),
    st.integers(40, 100),
)
def test_brims_of_all_sizes_have_one_rhythm(heads: list[int], yarn: int, brim_mm: int) -> None:
    """Increases in every other round, from the first on: the maker of any size hears the same."""
    rhythms = set()
    for head in heads:
        state = begun(head_mm=float(head), yarn=yarn, brim_mm=float(brim_mm))
        made = [made.round for made in planned_end(state).rounds_made()][::-1]
        rhythms.add(tuple(bool(one.places) for one in made if one.stage is Stage.BRIM))
    assert len(rhythms) == 1
    (rhythm,) = rhythms
    assert rhythm == tuple(at % 2 == 0 for at in range(len(rhythm)))


def test_numbers_that_differ_stand_in_brackets() -> None:
    assert merged(["12 sts", "14 sts", "16 sts"]) == "12 (14, 16) sts"
    assert merged(["12 sts", "12 sts"]) == "12 sts"
    assert merged([None, "84 sts", "84 sts"]) == "(size 2, 3) 84 sts"
    assert merged(["a 1", "b 2", "a 3"]) == "(size 1, 3) a 1 (3) (size 2) b 2"
    with pytest.raises(ValueError, match="no sizes"):
        as_sizes([])


def plan(*args: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "voice", *args]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)


def test_by_the_command_line() -> None:
    options = ("--head", "60cm", "--head", "54cm", "--head", "57cm", "--unit", "cm")
    run = plan("plan", *options)
    assert run.returncode == 0
    assert "Hat in 3 sizes" in run.stdout
    head = next(line for line in run.stdout.splitlines() if line.startswith("Head "))
    assert head.split() == ["Head", "54", "cm", "57", "cm", "60", "cm"], "in order"
    data = json.loads(plan("plan", *options, "--json").stdout)
    assert data["title"] == "Hat in 3 sizes"
    assert data["about"] == "Sizes: head 54 (57, 60) cm."
    assert plan("plan", "--head", "54cm").stdout.startswith("Hat\n===\n")
    refused = plan("call", "--typed", *options)
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1)
