"""An engine unlike the first: a small neural net that names sounds, and our own search.

The net is that of the package hama, whose call for likelihoods is internal: 1.7.0 and no other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from importlib.metadata import version

import numpy as np
from hama import ASRModel

from voice.grammar import Grammar, Node
from voice.ports import FULL_SCALE, Samples
from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.ctc_search import scores, search
from voice.recognisers.dictionary import Dictionary
from voice.recognisers.engine import BadGrammar, EngineMissing, keep_last, whole_phrases
from voice.recognisers.pronunciations import ways
from voice.recognisers.sound_graph import Floats, SoundGraph, sound_graph
from voice.recognisers.word_graph import WordGraph, side_by_side, word_graph

_PINNED = "1.7.0"
CALIBRATION = Calibration(
    among=0.752, bias=3.066, per_length=0.2627, per_gap=0.1517, per_density=0.8824
)
"""Fitted with those of the other engines: see `voice.recognisers.chosen`."""
_WANTED = 10
_SOUNDS: dict[str, str] = {
    "AA": "ɑ", "AE": "æ", "AH": "ʌ ə", "AO": "ɔ ɑ", "AW": "aʊ", "AY": "aɪ", "B": "b", "CH": "t͡ʃ",
    "D": "d ɾ", "DH": "ð", "EH": "ɛ", "ER": "ɝ ɚ", "EY": "eɪ", "F": "f", "G": "ɡ g", "HH": "h",
    "IH": "ɪ", "IY": "i", "JH": "d͡ʒ", "K": "k", "L": "l", "M": "m", "N": "n", "NG": "ŋ", "OW": "oʊ",
    "OY": "ɔɪ", "P": "p", "R": "ɹ", "S": "s", "SH": "ʃ", "T": "t ɾ", "TH": "θ", "UH": "ʊ",
    "UW": "u", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "ʒ",
}  # fmt: skip
"""ARPABET to the net's tokens; several count as one. Source: the IPA of each ARPABET symbol."""


class Ctc:
    """hama's net with a search over the grammar; one utterance at a time."""

    name = "ctc"
    sound_names = tuple(_SOUNDS)
    calibration = CALIBRATION

    def __init__(self) -> None:
        """Load the net. Raises: EngineMissing for another version of the package."""
        if (found := version("hama")) != _PINNED:
            raise EngineMissing(self.name, f"install hama=={_PINNED} instead of {found}.")
        self._model = ASRModel()
        token = {text: number for number, text in enumerate(self._model.decoder_tokens)}
        self._columns = [[token[name] for name in names.split()] for names in _SOUNDS.values()]
        self._blanks = [token["<blank>"], token["<wb>"]]
        self._dictionary = Dictionary()
        self._graphs: dict[tuple[Node, ...], tuple[SoundGraph, SoundGraph]] = {}
        self._graph: tuple[SoundGraph, SoundGraph] | None = None
        self._whole: Callable[[str], bool] = bool
        self._sounds: Floats = np.zeros((0, len(_SOUNDS)), np.float32)
        self._blank: Floats = np.zeros(0, np.float32)
        self._free = 0.0
        self._length = 0.0

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar for words without a pronunciation."""
        if grammar.phrases not in self._graphs:
            if not grammar.phrases:
                raise BadGrammar(self.name, (), "there is not one phrase")
            graph = self._compile(word_graph(grammar))
            self._graphs[grammar.phrases] = graph, graph.reversed()
            keep_last(self._graphs)
        self._graph = self._graphs[grammar.phrases]
        self._whole = whole_phrases(grammar)

    def _compile(self, graph: WordGraph) -> SoundGraph:
        words = {arc.word for arc in graph.arcs}
        lookup = self._dictionary.lookup(words)
        known = {word: ways(word, lookup) for word in words}
        if unknown := sorted(word for word, said in known.items() if not said):
            raise BadGrammar(self.name, unknown, "nobody told it how these words sound")
        order = {name: number for number, name in enumerate(_SOUNDS)}
        columns = {
            word: [[order[sound] for sound in way.split()] for way in said]
            for word, said in known.items()
        }
        return sound_graph(graph, columns)

    def decode(self, samples: Samples) -> Evidence:
        """Listen to an utterance."""
        self._listen(samples)
        if self._graph is None or not len(self._sounds):
            return Evidence({}, 0.0)
        paths = search(*self._graph, self._sounds, self._blank, _WANTED)
        meant = (path for path in paths if self._whole(path.words))
        gaps = {path.words: path.score - self._free for path in meant}
        return Evidence(gaps, self._length)

    def likelihoods(self, samples: Samples) -> tuple[Floats, Floats]:
        """Natural logarithms by frame: (frames, `sound_names`) of sounds, (frames,) of none."""
        self._listen(samples)
        return self._sounds, self._blank

    def _listen(self, samples: Samples) -> None:
        wave = (samples.astype(np.float32) / FULL_SCALE).reshape(1, -1)
        fed = {"waveform": wave, "waveform_lengths": np.array([wave.shape[1]])}
        likelihoods, frames = self._model.session.run(["log_probs", "out_lengths"], fed)
        tokens = likelihoods[0][: int(frames[0])]
        merged = [np.logaddexp.reduce(tokens[:, columns], axis=1) for columns in self._columns]
        self._sounds = np.stack(merged, axis=1).astype(np.float32)
        self._blank = np.logaddexp.reduce(tokens[:, self._blanks], axis=1).astype(np.float32)
        best = np.maximum(tokens.max(axis=1, initial=-np.inf), self._blank)
        self._free = float(best.sum())
        self._length = float((best > self._blank).sum())

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that cannot fit in it."""
        if not phrases or not len(self._sounds):
            return {}
        graph = self._compile(side_by_side(phrases))
        found = scores(graph, self._sounds, self._blank)
        return {
            phrase: score - self._free
            for phrase, score in zip(phrases, found, strict=True)
            if score is not None
        }
