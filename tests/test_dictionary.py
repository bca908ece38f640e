"""The dictionary read from its file says what the decoder that comes with it says."""

from __future__ import annotations

from pocketsphinx import Decoder

from voice.phrases import Group, grammar_of
from voice.recognisers.dictionary import Dictionary
from voice.recognisers.pronunciations import ways


def test_all_words_of_the_table_sound_as_the_decoder_has_them() -> None:
    decoder = Decoder(lm=None, loglevel="FATAL")
    words = sorted(grammar_of(frozenset(Group)).words())
    dictionary = Dictionary()
    for half in (words[::2], words):
        lookup = dictionary.lookup(half)
        for word in half:
            assert ways(word, lookup) == ways(word, decoder.lookup_word)
    assert dictionary.lookup(["zzyqx"])("zzyqx") is None
