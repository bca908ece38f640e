"""Texts to learn from: what is written is read the same, and what is missing is said."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.bench.texts import free
from tests.wordings.places import FOLDER, cases
from voice.recognisers.net.learning.speaking import speak_all
from voice.recognisers.net.learning.spelling import letters
from voice.recognisers.net.learning.texts import NoTexts, Texts, read, write
from voice.words.typed_text import normalise

SAID = st.lists(st.text(st.characters(codec="utf-8"), max_size=20), max_size=4)


@given(st.builds(Texts, SAID, SAID, SAID, SAID))
def test_texts_are_read_as_they_were_written(
    tmp_path_factory: pytest.TempPathFactory, texts: Texts
) -> None:
    file = tmp_path_factory.mktemp("texts") / "texts.json"
    write(file, texts)
    assert read(file) == texts


def test_without_texts_one_sentence_says_how_to_get_them(tmp_path: Path) -> None:
    with pytest.raises(NoTexts, match=r"python -m tests\.bench\.texts --out"):
        speak_all(tmp_path)


def test_free_wordings_are_learnt_as_they_are_said() -> None:
    """None that measures hearing is among them, and every word is one that the net can spell."""
    looked_at = {normalise(case.said) for case in cases(FOLDER / "looked_at.txt")}
    texts = free()
    assert len(texts) > 5000
    assert looked_at.isdisjoint(map(normalise, texts))
    assert all(letters(text) for text in texts)
    assert not any(set("0123456789") & set(text) for text in texts)
