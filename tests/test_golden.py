"""Journals of every version and shape, and a long conversation, mean what they always meant."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.golden.reading import (
    CONVERSATION,
    MEANT,
    conversation,
    journals,
    lines_of,
    meaning,
    shapes,
)


@pytest.mark.parametrize("path", journals(), ids=lambda path: path.stem)
def test_a_golden_journal_reads_as_before(path: Path) -> None:
    assert json.loads(json.dumps(meaning(path))) == json.loads(MEANT.read_text("utf-8"))[path.stem]


def test_there_is_one_for_each_version_and_shape() -> None:
    assert {path.stem for path in journals()} >= {
        "version 1",
        "version 2",
        "version 3",
        "version 5",
        "version 6",
        *shapes(),
    }


def test_a_conversation_over_all_stages_gets_the_same_replies() -> None:
    kept = CONVERSATION.read_text("utf-8")
    assert len(lines_of(kept)) >= 100
    assert conversation(lines_of(kept)).splitlines() == kept.splitlines()
