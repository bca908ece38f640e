"""An engine for a maker's own Kaldi model: vosk, kept from everything that ends the process.

vosk takes words in any order, forces other speech into them, and aborts on an empty grammar, on a
grammar changed in mid-utterance and on some damaged models. So grammars are made here and never
empty, every word is looked up, each utterance gets a fresh recogniser, only whole phrases come
out, and a model is tried in a process of its own first.
"""

from __future__ import annotations

import json
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from voice.grammar import Grammar
from voice.models import locate
from voice.ports import RATE_HZ, Samples
from voice.ports_hearing import Hypothesis, Opinion
from voice.recognisers.engine import BadGrammar, EngineMissing, NoGrammar, UtteranceOpen
from voice.recognisers.word_graph import WordGraph, word_graph

MODEL = "vosk-model-small-en-us-0.15"
"""The listed model, for where no folder is named."""
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


class WrongThread(RuntimeError):  # noqa: N818 - it reads as what happened
    """A recogniser was used from another thread than the one that fed it first."""

    def __init__(self) -> None:
        """Say what to do instead."""
        super().__init__("One vosk recogniser cannot serve two threads; make one for each.")


def _library() -> Any:  # noqa: ANN401 - the package has no types
    try:
        import vosk
    except ImportError as error:
        raise EngineMissing("vosk", 'run pip install "rounds-aloud[vosk]".') from error
    vosk.SetLogLevel(-2)
    return vosk


def _load(folder: Path) -> Any:  # noqa: ANN401
    """The model, once another process has loaded and used it without harm."""
    library = _library()
    command = [sys.executable, "-P", "-c", _TRIAL, str(folder)]
    try:
        tried = subprocess.run(command, capture_output=True, timeout=_TRIAL_S, check=False)
    except subprocess.TimeoutExpired as error:
        raise EngineMissing("vosk", f"the model in {folder} does not load; unpack it again.") from (
            error
        )
    if tried.returncode:
        raise EngineMissing("vosk", f"the model in {folder} is damaged; unpack it again.")
    return library.Model(str(folder))


class Vosk:
    """vosk with a model folder; hears as the sound comes, one utterance at a time, one thread."""

    name = "vosk"

    def __init__(self, folder: Path | None = None) -> None:
        """Load the model of the folder, of VOSK_MODEL, or the fetched one.

        Raises: EngineMissing; NotAModel, ModelMissing when there is no such model.
        """
        self._model: Any = _load(locate(MODEL, folder))
        self._graph: WordGraph | None = None
        self._words = ""
        self._recogniser: Any = None
        self._thread: int | None = None
        self._partial: str | None = None
        self._results: list[dict[str, Any]] = []

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said from the next utterance on.

        Raises: BadGrammar for an empty grammar or words the model lacks; UtteranceOpen.
        """
        if self._recogniser is not None:
            raise UtteranceOpen(self.name)
        graph = word_graph(grammar)
        words = sorted({arc.word for arc in graph.arcs})
        if not words:
            raise BadGrammar(self.name, (), "there is not one phrase")
        if unknown := [word for word in words if not self._knows(word)]:
            raise BadGrammar(self.name, unknown, "the model does not have these words")
        listed = [*words, _UNKNOWN] if self._knows(_UNKNOWN) else words
        self._graph, self._words = graph, json.dumps(listed, ensure_ascii=False)

    def _knows(self, word: str) -> bool:
        return int(self._model.vosk_model_find_word(word)) >= 0

    def feed(self, block: Samples) -> str | None:
        """Take the next samples, int16 at 16 kHz; words so far, often wrong at their end.

        Raises: NoGrammar, WrongThread.
        """
        recogniser = self._open()
        sound = np.ascontiguousarray(block, dtype=np.int16).tobytes()
        # vosk ends an utterance by itself at a pause; ours goes on until finish.
        if sound and recogniser.AcceptWaveform(sound):
            self._results.append(json.loads(recogniser.Result()))
        partial = str(json.loads(recogniser.PartialResult()).get("partial", ""))
        changed = partial if partial != self._partial else None
        self._partial = partial
        return changed or None

    def _open(self) -> Any:  # noqa: ANN401
        if self._graph is None:
            raise NoGrammar(self.name)
        if self._recogniser is None:
            self._thread = threading.get_ident()
            self._recogniser = _library().KaldiRecognizer(self._model, RATE_HZ, self._words)
            self._recogniser.SetWords(True)
        if self._thread != threading.get_ident():
            raise WrongThread
        return self._recogniser

    def finish(self) -> Opinion:
        """End the utterance and say what it was. Raises: NoGrammar, WrongThread."""
        began = time.perf_counter()
        results = [*self._results, json.loads(self._open().FinalResult())]
        self._recogniser, self._partial, self._results = None, None, []
        said = [word for result in results for word in result.get("result", ())]
        return Opinion(tuple(self._phrases(said)), self.name, time.perf_counter() - began)

    def _phrases(self, said: Sequence[dict[str, Any]]) -> Iterator[Hypothesis]:
        words = " ".join(str(word["word"]) for word in said)
        if said and self._graph is not None and self._graph.accepts(words):
            sure = min(float(word["conf"]) for word in said)
            yield Hypothesis(words, _CONFIDENT if sure > 0.999 else _UNSURE * sure)

    def close(self) -> None:
        """Let go of the model."""
        self._recogniser = self._model = self._graph = None
