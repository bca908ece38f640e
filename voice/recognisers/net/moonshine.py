"""The text of the net, held to our phrases: a beam search over the grammar."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cached_property

from voice.models.model_list import find
from voice.models.models import verify
from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.engine import BadGrammar, keep_last, whole_phrases
from voice.recognisers.net.free_search import FreeSearch
from voice.recognisers.net.moonshine_net import EACH, MODEL, NAME, Hears, Writes
from voice.recognisers.net.token_graph import TokenGraph, token_graph
from voice.recognisers.net.token_search import search
from voice.recognisers.net.tokens import Vocabulary, read_vocabulary
from voice.recognisers.net.word_graph import WordGraph, side_by_side, word_graph
from voice.recognisers.recogniser import Hypothesis
from voice.sound.ports import RATE_HZ, Samples
from voice.words.free.word_order import WordOrder, learnt_order
from voice.words.grammar import Grammar, Node
from voice.words.typed_text import normalise

CALIBRATION = Calibration(
    among=1.159, bias=3.74, per_length=0.1812, per_gap=0.2114, per_density=1.061
)
"""Fitted as told in `voice.recognisers.chosen`."""
_BEAM, _BEAM_JUDGING = 10, 24
_BEAM_FREE = 10
"""For texts held to no phrases. Of 4 and 10 taken after a look at 255 wordings by tuning voices:
what is made of the texts may be right for 94.5 and 96.1 %, and half as much time again is spent."""
_ROWS_TIMES_S = 40.0
"""Most beginnings times seconds of sound at once. It bounds the memory, at half a megabyte for each
(12 arrays of 8 heads by 36 numbers for each of 40 frames a second, 4 bytes a number)."""
_WANTED = 10


class Moonshine:
    """The net with a search over the grammar; one utterance at a time."""

    name = NAME
    calibration = CALIBRATION

    def __init__(self, hears: Hears | None = None, order: WordOrder | None = None) -> None:
        """Load the listed weights; share the half that hears where another look has it. `order`
        favours what it writes freely: that of all wordings where none is given.

        Raises: EngineMissing, ModelMissing, ModelDamaged.
        """
        self._hears = hears or Hears()
        folder = verify(MODEL)
        self._writes = Writes(folder / find(MODEL).file)
        pieces = (folder / "tokenizer.bin").read_bytes()
        self._vocabulary: Vocabulary = read_vocabulary(pieces)
        self._order = order
        self._graphs: dict[tuple[Node, ...], TokenGraph] = {}
        self._free = self._seconds = 0.0

    @cached_property
    def _freely(self) -> FreeSearch:
        return FreeSearch(self._vocabulary, self._order or learnt_order())

    def _graph_of(self, grammar: Grammar) -> TokenGraph:
        if grammar.phrases not in self._graphs:
            if not grammar.phrases:
                raise BadGrammar(self.name, (), "there is not one phrase")
            self._graphs[grammar.phrases] = self._compile(word_graph(grammar))
            keep_last(self._graphs)
        return self._graphs[grammar.phrases]

    def _compile(self, graph: WordGraph) -> TokenGraph:
        try:
            return token_graph(graph, self._vocabulary)
        except KeyError as error:
            unknown = [arc.word for arc in graph.arcs if str(error.args[0]) in arc.word]
            raise BadGrammar(self.name, unknown, "they cannot be spelled") from error

    def decode(self, samples: Samples, grammar: Grammar) -> Evidence:
        """Listen to an utterance; its length is in tokens of what the net writes unhindered.

        Raises: BadGrammar for words that the net cannot write.
        """
        graph, whole = self._graph_of(grammar), whole_phrases(grammar)
        self._writes.take(self._hears.hear(samples))
        self._seconds = len(samples) / RATE_HZ
        found = search(self._writes, graph, self._beam(_BEAM))
        phrases = {w: score for w, score in found.phrases.items() if whole(w)}
        # The net's own text, a token at a time, need not be its likeliest.
        self._free = max(found.free, *phrases.values()) if phrases else found.free
        best = sorted(phrases, key=lambda words: -phrases[words])[:_WANTED]
        gaps = {words: phrases[words] - self._free for words in best}
        return Evidence(gaps, float(found.tokens))

    def write(self, samples: Samples) -> tuple[Hypothesis, ...]:
        """The likeliest texts of an utterance, held to no phrases; plain words, likeliest first."""
        self._writes.take(self._hears.hear(samples))
        self._seconds = len(samples) / RATE_HZ
        found = self._freely.texts(self._writes, self._beam(_BEAM_FREE), EACH)
        scores: dict[str, float] = {}
        most = max(found.values(), default=0.0)
        for tokens, score in found.items():
            words = normalise(self._vocabulary.text(tokens))
            scores[words] = scores.get(words, 0.0) + math.exp(score - most)
        total = sum(scores.values())
        likely = sorted(scores, key=lambda words: -scores[words])
        return tuple(Hypothesis(words, scores[words] / total) for words in likely)

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that lie too far off."""
        if not phrases:
            return {}
        found = search(
            self._writes, self._compile(side_by_side(phrases)), self._beam(_BEAM_JUDGING)
        ).phrases
        return {words: score - self._free for words, score in found.items()}

    def _beam(self, wanted: int) -> int:
        """Number of beginnings to keep, for a sound as long as the last one."""
        return max(1, min(wanted, int(_ROWS_TIMES_S / max(self._seconds, 1.0))))
