"""The engine that comes with `pip install`: pocketsphinx, searching the graph of the grammar.

Decoded whole, with British pronunciations beside the American, and weighed against a free loop of
sounds, because the decoder forces any sound into the grammar.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import islice

from pocketsphinx import Decoder

from voice.grammar import Grammar, Node, Word
from voice.grammar import Sequence as Series
from voice.ports import Samples
from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.engine import BadGrammar, whole_phrases
from voice.recognisers.pronunciations import ways
from voice.recognisers.word_graph import WordGraph, word_graph

CALIBRATION = Calibration(
    among=0.03313, bias=2.066, per_length=0.01169, per_gap=0.003336, per_density=0.2787
)
"""Fitted with those of the other engines: see `voice.recognisers.chosen`."""
_WANTED = 8
_LOOKED_AT = 60
"""Alternatives to take from the decoder; many are the same words with other silences."""
_LOOP, _SHORT = "loop", "short"
_UNITS = 1024.0
"""Scores come as powers whose logarithm is the decoder's own divided by this."""


class Sphinx:
    """pocketsphinx with its American English model; one utterance at a time."""

    name = "sphinx"
    calibration = CALIBRATION

    def __init__(self) -> None:
        """Load the model that is in the package."""
        # bestpath, pip and lw: fewer errors on tuning voices. compallsen: scores of different
        # searches are comparable only when every senone is scored in each frame.
        self._decoder = Decoder(
            lm=None, loglevel="FATAL", bestpath=False, pip=0.5, lw=2.0, compallsen=True
        )
        self._decoder.add_allphone_file(_LOOP, None)
        self._known: set[str] = set()
        self._searches: dict[tuple[Node, ...], str] = {}
        self._search = ""
        self._whole = whole_phrases(Grammar((), {}))
        self._sound = b""
        self._free = 0.0

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar for words without a pronunciation."""
        if grammar.phrases not in self._searches:
            self._learn(sorted(grammar.words()))
            search = f"grammar{len(self._searches)}"
            self._add(search, word_graph(grammar))
            self._searches[grammar.phrases] = search
        self._search = self._searches[grammar.phrases]
        self._whole = whole_phrases(grammar)

    def _learn(self, words: Sequence[str]) -> None:
        """Add every way to say the words that the dictionary lacks."""
        lookup = self._decoder.lookup_word
        said = {word: ways(word, lookup) for word in words if word not in self._known}
        if unknown := [word for word, known in said.items() if not known]:
            raise BadGrammar(self.name, unknown, "nobody told it how these words sound")
        for word, known in said.items():
            for number, way in enumerate(known, 1):
                entry = word if number == 1 else f"{word}({number})"
                if lookup(entry) is None:
                    self._decoder.add_word(entry, way, False)
        self._known |= said.keys()

    def _add(self, search: str, graph: WordGraph) -> None:
        """Every arc weighs the same, so that scores from different graphs can be compared."""
        if not graph.arcs:
            raise BadGrammar(self.name, (), "there is not one phrase")
        arcs: list[tuple[int, int, float, str] | tuple[int, int, float]] = [
            (arc.source, arc.target, 1.0, arc.word) for arc in graph.arcs
        ]
        end = graph.states
        arcs += [(final, end, 1.0) for final in sorted(graph.finals)]
        self._decoder.add_fsg(search, self._decoder.create_fsg(search, 0, end, arcs))

    def decode(self, samples: Samples) -> Evidence:
        """Listen to an utterance."""
        self._sound = samples.tobytes()
        self._free = self._run(_LOOP)
        length = sum(
            sound.end_frame - sound.start_frame + 1
            for sound in self._decoder.seg() or ()
            if sound.word != "SIL"
        )
        if not length:
            return Evidence({}, 0.0)
        self._run(self._search)
        return Evidence(self._gaps(), float(length))

    def _run(self, search: str) -> float:
        """Decode the utterance with a search; the logarithm of the best score."""
        decoder = self._decoder
        # Each search is to see the same features, whatever was heard before.
        decoder.reinit_feat()
        decoder.activate_search(search)
        decoder.start_utt()
        decoder.process_raw(self._sound, False, True)
        decoder.end_utt()
        best = decoder.hyp()
        return _UNITS * math.log(best.score) if best and best.score > 0 else -math.inf

    def _gaps(self) -> dict[str, float]:
        """Phrases of the last search and how far they lie from the free loop, best first."""
        best = self._decoder.hyp()
        if best is None or not math.isfinite(self._free):
            return {}
        gaps: dict[str, float] = {}
        for path in (best, *islice(self._decoder.nbest() or (), _LOOKED_AT)):
            # The decoder also returns paths that end within a phrase.
            if path is None or path.score <= 0 or not self._whole(path.hypstr):
                continue
            gap = _UNITS * math.log(path.score) - self._free
            gaps[path.hypstr] = max(gap, gaps.get(path.hypstr, -math.inf))
        return dict(sorted(gaps.items(), key=lambda item: -item[1])[:_WANTED])

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that lie too far off."""
        if not phrases or not self._sound:
            return {}
        self._run(self._short(phrases))
        return self._gaps()

    def _short(self, phrases: Sequence[str]) -> str:
        """The search for these phrases alone."""
        self._learn(sorted({word for phrase in phrases for word in phrase.split()}))
        spelled = (Series(tuple(map(Word, phrase.split()))) for phrase in phrases)
        self._add(_SHORT, word_graph(Grammar(tuple(spelled), {})))
        return _SHORT
