"""Texts to learn from: what is written is read the same, and what is missing is said."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voice.recognisers.net.learning.speaking import speak_all
from voice.recognisers.net.learning.texts import NoTexts, Texts, read, write

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
