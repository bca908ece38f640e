"""A second look at what the net heard: letter by letter, not as the text that it would write.

Writing and spelling go wrong in unlike ways (Watanabe et al. 2017): the half that writes makes up
words that nobody said, and spelling does not know which letters make words; together they do
better. The letters are searched over the grammar as in connectionist temporal classification
(Graves et al. 2006).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.engine import BadGrammar, keep_last, whole_phrases
from voice.recognisers.net.ctc_search import scores, search
from voice.recognisers.net.moonshine_net import LETTERS, Hears
from voice.recognisers.net.sound_graph import Floats, SoundGraph, sound_graph
from voice.recognisers.net.word_graph import WordGraph, side_by_side, word_graph
from voice.sound.ports import Samples
from voice.words.grammar import Grammar, Node

CALIBRATION = Calibration(
    among=0.307, bias=1.878, per_length=0.2233, per_gap=0.192, per_density=0.1292
)
"""Fitted as told in `voice.recognisers.chosen`."""
_WANTED = 10


@dataclass(frozen=True, slots=True)
class Likelihoods:
    """Natural logarithms of the likelihoods at each moment."""

    units: Floats
    """(frames, LETTERS): likelihood of each letter."""
    blank: Floats
    """(frames,): likelihood of no letter; a space between words counts as none."""
    best: Floats
    """(frames,): the largest likelihood of all."""


class Letters:
    """The letters told by the half of the net that hears; one utterance at a time."""

    name = "letters"
    calibration = CALIBRATION

    def __init__(self, hears: Hears | None = None) -> None:
        """Share the half that another look has, or load the listed one. Raises: as Hears."""
        self._hears = hears or Hears()
        self._graphs: dict[tuple[Node, ...], tuple[SoundGraph, SoundGraph]] = {}
        self._heard: Likelihoods | None = None
        self._free = 0.0

    def decode(self, samples: Samples, grammar: Grammar) -> Evidence:
        """Listen to an utterance; its length is in frames that are not blank.

        Raises: BadGrammar for words with other letters.
        """
        graphs, whole = self._graphs_of(grammar), whole_phrases(grammar)
        self._heard = heard = self.likelihoods(samples)
        if not len(heard.blank):
            return Evidence({}, 0.0)
        self._free = float(heard.best.sum())
        paths = search(*graphs, heard.units, heard.blank, _WANTED)
        gaps = {path.words: path.score - self._free for path in paths if whole(path.words)}
        return Evidence(gaps, float((heard.best > heard.blank).sum()))

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that cannot fit in it."""
        if not phrases or self._heard is None or not len(self._heard.blank):
            return {}
        graph = _compiled(side_by_side(phrases))
        found = scores(graph, self._heard.units, self._heard.blank)
        return {
            phrase: score - self._free
            for phrase, score in zip(phrases, found, strict=True)
            if score is not None
        }

    def likelihoods(self, samples: Samples) -> Likelihoods:
        """The likelihood of each letter at each moment of an utterance."""
        found = self._hears.hear(samples).letters
        units = np.ascontiguousarray(found[:, 1:])
        blank = np.logaddexp(found[:, 0], units[:, LETTERS.index(" ")])
        return Likelihoods(units, blank, np.maximum(units[:, 1:].max(axis=1), blank))

    def _graphs_of(self, grammar: Grammar) -> tuple[SoundGraph, SoundGraph]:
        if grammar.phrases not in self._graphs:
            if not grammar.phrases:
                raise BadGrammar(self.name, (), "there is not one phrase")
            graph = _compiled(word_graph(grammar))
            self._graphs[grammar.phrases] = graph, graph.reversed()
            keep_last(self._graphs)
        return self._graphs[grammar.phrases]


def _compiled(graph: WordGraph) -> SoundGraph:
    """Every word as it is spelled. Raises: BadGrammar."""
    words = {arc.word for arc in graph.arcs}
    if unknown := sorted(word for word in words if not set(word) <= set(LETTERS)):
        raise BadGrammar(Letters.name, unknown, "they cannot be spelled")
    return sound_graph(graph, {word: [[*map(LETTERS.index, word)]] for word in words})
