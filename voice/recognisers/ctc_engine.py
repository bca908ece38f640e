"""What engines share whose net tells the likeliest sound or letter of each moment.

Connectionist temporal classification (Graves et al. 2006), searched over our grammar.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from voice.grammar import Grammar, Node
from voice.ports import Samples
from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.ctc_search import scores, search
from voice.recognisers.engine import BadGrammar, keep_last, whole_phrases
from voice.recognisers.sound_graph import Floats, SoundGraph, sound_graph
from voice.recognisers.word_graph import WordGraph, side_by_side, word_graph

_WANTED = 10
Ways = Mapping[str, Sequence[Sequence[int]]]
"""By word, every way to say or spell it, as columns of likelihoods."""


@dataclass(frozen=True, slots=True)
class Likelihoods:
    """Natural logarithms of what is heard at each moment."""

    units: Floats
    """(frames, columns), of each sound or letter."""
    blank: Floats
    """(frames,), of none."""
    best: Floats
    """(frames,), of the likeliest of all, with or without a column."""


class CtcEngine(ABC):
    """A net with a search over the grammar; one utterance at a time."""

    name: str
    calibration: Calibration

    def __init__(self) -> None:
        """Start with no grammar."""
        self._graphs: dict[tuple[Node, ...], tuple[SoundGraph, SoundGraph]] = {}
        self._graph: tuple[SoundGraph, SoundGraph] | None = None
        self._whole: Callable[[str], bool] = bool
        self._heard: Likelihoods | None = None
        self._free = 0.0

    @abstractmethod
    def likelihoods(self, samples: Samples) -> Likelihoods:
        """What the net makes of an utterance."""

    @abstractmethod
    def ways(self, words: set[str]) -> Ways:
        """How words are said or spelled; an empty sequence where that is not known."""

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar for words without a way to say them."""
        if grammar.phrases not in self._graphs:
            if not grammar.phrases:
                raise BadGrammar(self.name, (), "there is not one phrase")
            graph = self._compile(word_graph(grammar))
            self._graphs[grammar.phrases] = graph, graph.reversed()
            keep_last(self._graphs)
        self._graph = self._graphs[grammar.phrases]
        self._whole = whole_phrases(grammar)

    def _compile(self, graph: WordGraph) -> SoundGraph:
        known = self.ways({arc.word for arc in graph.arcs})
        if unknown := sorted(word for word, said in known.items() if not said):
            raise BadGrammar(self.name, unknown, "nobody told it how these words sound")
        return sound_graph(graph, known)

    def decode(self, samples: Samples) -> Evidence:
        """Listen to an utterance; its length is in frames that are not blank."""
        self._heard = heard = self.likelihoods(samples)
        if self._graph is None or not len(heard.blank):
            return Evidence({}, 0.0)
        self._free = float(heard.best.sum())
        paths = search(*self._graph, heard.units, heard.blank, _WANTED)
        gaps = {path.words: path.score - self._free for path in paths if self._whole(path.words)}
        return Evidence(gaps, float((heard.best > heard.blank).sum()))

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that cannot fit in it."""
        if not phrases or self._heard is None or not len(self._heard.blank):
            return {}
        graph = self._compile(side_by_side(phrases))
        found = scores(graph, self._heard.units, self._heard.blank)
        return {
            phrase: score - self._free
            for phrase, score in zip(phrases, found, strict=True)
            if score is not None
        }
