"""vosk with a maker's own Kaldi model, kept from everything that ends the process.

vosk takes words in any order, forces other speech into them, and aborts on an empty grammar, on a
grammar changed in mid-utterance and on some damaged models. So grammars are made here and never
empty, every word is looked up, each utterance gets a recogniser of its own, only whole phrases come
out, and a model is tried in a process of its own first.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from voice.recognisers.engine import BadGrammar, EngineMissing, may_be_a_phrase
from voice.recognisers.net.word_graph import WordGraph, word_graph
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sound.ports import RATE_HZ, Samples
from voice.words.grammar import Grammar

NAME = "vosk"
_TRIAL_S = 60.0
_UNKNOWN = "[unk]"
_CONFIDENT, _UNSURE = 0.9, 0.4
"""Scores for a phrase whose words vosk is sure of or not: by judgement, not fitted. It is also
quite sure of wrong words, so never more than 0.9."""
_TRIAL = """
import sys, vosk
vosk.SetLogLevel(-2)
model = vosk.Model(sys.argv[1])
recogniser = vosk.KaldiRecognizer(model, 16000)
recogniser.AcceptWaveform(bytes(16000))
recogniser.FinalResult()
"""


def _library() -> Any:  # noqa: ANN401 - the package has no types
    try:
        import vosk
    except (ImportError, OSError) as error:  # the second for a shared library that does not load
        raise EngineMissing(NAME, "run pip install vosk.") from error
    vosk.SetLogLevel(-2)
    return vosk


def _load(folder: Path) -> Any:  # noqa: ANN401
    """The model, once another process has loaded and used it without harm."""
    library = _library()
    command = [sys.executable, "-P", "-c", _TRIAL, str(folder)]
    try:
        tried = subprocess.run(command, capture_output=True, timeout=_TRIAL_S, check=False)
    except subprocess.TimeoutExpired as error:
        why = f"the model in {folder} does not load; fetch or unpack it again."
        raise EngineMissing(NAME, why) from error
    if tried.returncode:
        raise EngineMissing(NAME, f"the model in {folder} is damaged; fetch or unpack it again.")
    return library.Model(str(folder))


class Vosk:
    """vosk with a model folder; alone it confirms nothing, as its scores are not fitted."""

    name = NAME

    def __init__(self, folder: Path) -> None:
        """Load the model. Raises: EngineMissing."""
        self._model: Any = _load(folder)

    def hear(self, samples: Samples, grammar: Grammar) -> Opinion:
        """The phrase in an utterance; one with a word that the model lacks is never heard.

        Raises: BadGrammar when that is so of all of them, or of the words that lead them.
        """
        graph = word_graph(grammar)
        words = {arc.word for arc in graph.arcs}
        unknown = self.lacking(words)
        if led_by := self.lacking(grammar.lead.split()):
            raise BadGrammar(NAME, led_by, "the model does not have these words")
        if not words:
            raise BadGrammar(NAME, (), "there is not one phrase")
        if not _can_be_said(graph, words - set(unknown)):
            raise BadGrammar(NAME, unknown, "the model does not have these words")
        return Opinion(self._heard(samples, graph), NAME, confirmed=())

    def write(self, samples: Samples) -> tuple[Hypothesis, ...]:  # noqa: ARG002 - a recogniser
        """Nothing: without a grammar its texts are not sure enough."""
        return ()

    def confirmed(
        self, samples: Samples, grammar: Grammar, phrases: Sequence[str]
    ) -> tuple[str, ...]:
        """The phrase heard, and those of `phrases` with words that the model lacks."""
        beyond = tuple(phrase for phrase in phrases if self.lacking(phrase.split()))
        if len(beyond) == len(phrases):
            return beyond
        found = self._heard(samples, word_graph(grammar))
        return (*(heard.words for heard in found), *beyond)

    def lacking(self, words: Collection[str]) -> tuple[str, ...]:
        """The words among these that the model does not have, in order."""
        return tuple(word for word in sorted(words) if self._model.vosk_model_find_word(word) < 0)

    def _heard(self, samples: Samples, graph: WordGraph) -> tuple[Hypothesis, ...]:
        """The whole phrase that was said, if one was; the model must know a word of the graph."""
        words = {arc.word for arc in graph.arcs}
        said = []
        if may_be_a_phrase(samples):
            said = self._decoded(samples, sorted(words - set(self.lacking(words))))
        text = " ".join(str(word["word"]) for word in said)
        if not said or not graph.accepts(text):
            return ()
        sure = min(float(word["conf"]) for word in said)
        return (Hypothesis(text, _CONFIDENT if sure > 0.999 else _UNSURE * sure),)

    def _decoded(self, samples: Samples, words: Sequence[str]) -> list[dict[str, Any]]:
        """The words in the order in which they were said, with their confidences."""
        listed = [*words, _UNKNOWN] if not self.lacking([_UNKNOWN]) else words
        recogniser = _library().KaldiRecognizer(
            self._model, RATE_HZ, json.dumps(listed, ensure_ascii=False)
        )
        recogniser.SetWords(enable_words=True)
        recogniser.AcceptWaveform(np.ascontiguousarray(samples, dtype=np.int16).tobytes())
        found: list[dict[str, Any]] = json.loads(recogniser.FinalResult()).get("result", [])
        return found


def _can_be_said(graph: WordGraph, words: Collection[str]) -> bool:
    """True when these words alone make one whole phrase."""
    reached = set(graph.starts)
    for arc in sorted(graph.arcs, key=lambda arc: arc.source):
        if arc.source in reached and arc.word in words:
            reached.add(arc.target)
    return bool(reached & graph.finals)
