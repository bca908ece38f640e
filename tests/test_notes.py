"""Notes: the maker's own words are kept as they are, with their round, and written up."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decide_asides import LONGEST_NOTE
from pattern.session.decisions import decide
from pattern.session.events import NoteTaken
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.writeup.edition import Edition
from pattern.writeup.plain_text import as_text
from pattern.writeup.writeup import as_made
from tests.hats import why_refused
from tests.pieces import NEXT, begun, told
from tests.properties import examples
from voice.sentences.places import noted
from voice.words import grammar
from voice.words.phrases import read
from voice.words.phrases.slots import USUAL_NOTES


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ("note joined second ball here", "joined second ball here"),
        (
            "Note: Joined the 2nd ball, dye lot 7B (a bit darker)!",
            "Joined the 2nd ball, dye lot 7B (a bit darker)!",
        ),
        ("make a note marker moved here", "marker moved here"),
        ("NOTE next", "next"),
        ("note", ""),
        ("note.", ""),
        ("  take a note  ", ""),
        ("note \u00e4\u00f6 \u2014 5\u00bd mm", "\u00e4\u00f6 \u2014 5\u00bd mm"),
    ],
)
def test_a_note_keeps_its_words(said: str, text: str) -> None:
    assert read(said) == c.Note(text)


@pytest.mark.parametrize("said", ["notes", "noted", "footnote here", "a note"])
def test_what_is_no_note(said: str) -> None:
    assert read(said) is None


@settings(max_examples=examples(60))
@given(st.data())
def test_every_usual_note_is_a_note_that_can_be_kept_and_said_back(data: st.DataObject) -> None:
    sentences = [
        " ".join(words)
        for usual in USUAL_NOTES
        for words in grammar.sentences(grammar.parse(usual), {})
    ]
    assert len(sentences) == len(set(sentences)) >= 40
    words = data.draw(st.sampled_from(sentences))
    assert read(f"note {words}") == c.Note(words)
    state = told(begun(), c.Note(words))
    assert [one.text for one in state.notes] == [words]
    assert noted(words, 3).endswith(f": {words}.")


def test_a_note_has_its_round() -> None:
    state = told(begun(), *[NEXT] * 8)
    assert decide(state, c.Note("new  ball")) == (NoteTaken("new ball", 9),)
    assert decide(State(), c.Note("for a friend")) == (NoteTaken("for a friend", 0),)
    two = told(state, c.Note("one"), NEXT, c.Note("two"))
    assert [(one.text, one.round) for one in two.notes] == [("one", 9), ("two", 10)]
    assert [one.text for one in told(two, c.Undo()).notes] == ["one"]


@given(st.text(max_size=300))
def test_any_words_are_a_note_that_can_be_printed_or_a_reason(text: str) -> None:
    state = begun()
    after = told(state, c.Note(text))
    if after.notes:
        (note,) = after.notes
        assert note.text.isprintable()
        assert 0 < len(note.text) <= LONGEST_NOTE
        assert (
            note.text.split()
            == "".join(sign if sign.isprintable() else " " for sign in text).split()
        )
    else:
        assert why_refused(state, c.Note(text)) in {Reason.EMPTY_NOTE, Reason.LONG_NOTE}


def test_notes_are_written_up_where_there_are_some() -> None:
    state = told(begun(), c.Note("for Ada's garden"), *[NEXT] * 8, c.Note("joined second ball"))
    text = as_text(as_made(state, "Test", Edition(as_worked=True)), 200)
    assert "Round 9: joined second ball" in text
    assert "Round 1: for Ada's garden" in text
    assert "Notes" not in as_text(as_made(begun(), "Test", Edition(as_worked=True)), 200)
    assert "joined second ball" not in as_text(as_made(state, "Test"), 200)
