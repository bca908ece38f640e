"""An engine unlike the others: the net Moonshine tiny, which writes English, held to our phrases.

It works as long as the sound lasts, without padding. The weights of the half that writes come with
the package moonshine-voice; those of the half that hears were adapted from that package's to rooms
and to what is said here (`python -m tests.adapting`). ONNX Runtime runs them, since the package's
own program returns one text and no likelihoods.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from voice.grammar import Grammar, Node
from voice.model_list import find
from voice.models import verify
from voice.ports import FULL_SCALE, RATE_HZ, Samples
from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.engine import BadGrammar, EngineMissing, keep_last, whole_phrases
from voice.recognisers.token_graph import TokenGraph, token_graph
from voice.recognisers.token_search import Floats, search
from voice.recognisers.tokens import Vocabulary, read_vocabulary
from voice.recognisers.word_graph import WordGraph, side_by_side, word_graph

MODEL, ADAPTED = "moonshine-tiny-en", "moonshine-tiny-en-rooms"
"""The names of both halves in the list of models."""
CALIBRATION = Calibration(
    among=1.289, bias=3.25, per_length=0.2373, per_gap=0.202, per_density=1.33
)
"""Fitted as is told in `voice.recognisers.chosen`."""
_BEAM, _BEAM_JUDGING = 10, 24
_ROWS_TIMES_S = 40.0
"""At most so many beginnings times seconds of sound at once: bounds the memory, at half a megabyte
for each (12 arrays of 8 heads by 36 numbers for each of 40 frames a second, 4 bytes a number)."""
_WANTED = 10
_BEFORE = RATE_HZ // 4
"""Samples of silence put before an utterance: the net heard a quarter to one second of it around
what it learnt from, and takes what begins at once for something else. After a look at 19 words of
the program's own voice without silence around them: 10 were heard without this, and 19 with it."""
_FIRST, _END = 1, 2
"""Tokens that begin and end a text. Source: the configuration published with the net."""
_EACH = 1.2
"""What every token but the last is worth beside its likelihood, as a natural logarithm: nets that
write favour short texts. With 0, 0.3, 0.6, 1, 1.5, 2 and 2.5 the right one of what was found is
first in 548, 550, 552, 554, 556, 554 and 553 of 571 phrases of tuning voices in quiet and in rooms.
"""


class Net:
    """The net's two halves: one hears an utterance, the other writes it down."""

    end = _END
    name = "moonshine"

    def __init__(self, hears: Path, writes: Path) -> None:
        """Load both files. Raises: EngineMissing without ONNX Runtime, or for a broken file."""
        try:
            import onnxruntime
        except ImportError as error:
            raise EngineMissing(self.name, "run pip install onnxruntime.") from error
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1  # the other engines work beside it
        # Less memory, for a little time.
        options.enable_cpu_mem_arena = False
        options.add_session_config_entry("session.disable_prepacking", "1")

        def load(file: Path) -> Any:
            try:
                return onnxruntime.InferenceSession(
                    str(file), options, providers=["CPUExecutionProvider"]
                )
            except Exception as fault:  # the library's own errors have no common class
                raise EngineMissing(self.name, f"its weights in {file} cannot be read.") from fault

        self._hears, self._writes = load(hears), load(writes)
        self._names = [output.name for output in self._writes.get_outputs()]
        shapes = {i.name: i.shape for i in self._writes.get_inputs() if i.name.startswith("past")}
        self._nothing = {
            name: np.zeros((1, shape[1], 0, shape[3]), np.float32) for name, shape in shapes.items()
        }
        self._heard: dict[str, Any] = {}
        self._written: dict[str, Floats] = {}

    def hear(self, samples: Samples) -> None:
        """Take an utterance, int16 at 16 kHz."""
        wave = np.pad(samples.astype(np.float32) / FULL_SCALE, (_BEFORE, 0))[np.newaxis]
        mask = np.ones(wave.shape, np.int64)
        fed = {"input_values": wave, "attention_mask": mask}
        (hidden,) = self._hears.run(["last_hidden_state"], fed)
        self._heard = {"encoder_hidden_states": hidden, "encoder_attention_mask": mask}

    def begin(self) -> Floats:
        """Natural logarithms of the first token, (1, tokens), each with what it is worth."""
        answer, states = self._run([_FIRST], self._nothing, cached=False)
        self._written = {name: states[name] for name in states if ".decoder." in name}
        self._heard |= {name: states[name] for name in states if ".encoder." in name}
        return answer

    def go_on(self, rows: Sequence[int], tokens: Sequence[int]) -> Floats:
        """Those of the next: each of the rows of the last answer, gone on with a token."""
        states = {name: state[list(rows)] for name, state in self._written.items()}
        answer, states = self._run(tokens, states, cached=True)
        self._written = {name: states[name] for name in self._written}
        return answer

    def _run(
        self, tokens: Sequence[int], states: Mapping[str, Floats], *, cached: bool
    ) -> tuple[Floats, dict[str, Floats]]:
        """The answer, and the states by the names under which they are fed again."""
        heard = {name: np.repeat(of, len(tokens), axis=0) for name, of in self._heard.items()}
        fed = {**states, **heard,
               "input_ids": np.array(tokens, np.int64)[:, np.newaxis],
               "use_cache_branch": np.array([cached])}  # fmt: skip
        answers = dict(zip(self._names, self._writes.run(None, fed), strict=True))
        logits = answers.pop("logits")[:, -1]
        logits -= logits.max(axis=1, keepdims=True)
        logits -= np.log(np.exp(logits).sum(axis=1, keepdims=True))
        logits[:, :_END] += _EACH
        logits[:, _END + 1 :] += _EACH
        return logits, {n.replace("present", "past_key_values"): s for n, s in answers.items()}


def files() -> tuple[Path, Path]:
    """The listed weights of what hears and of what writes. Raises: ModelMissing, ModelDamaged."""
    hears, writes = (verify(name) / find(name).file for name in (ADAPTED, MODEL))
    return hears, writes


class Moonshine:
    """The net with a search over the grammar; one utterance at a time."""

    name = Net.name
    calibration = CALIBRATION

    def __init__(self) -> None:
        """Load the listed weights. Raises: EngineMissing, ModelMissing, ModelDamaged."""
        hears, writes = files()
        self._net = Net(hears, writes)
        pieces = (writes.parent / "tokenizer.bin").read_bytes()
        self._vocabulary: Vocabulary = read_vocabulary(pieces)
        self._graphs: dict[tuple[Node, ...], TokenGraph] = {}
        self._graph: TokenGraph | None = None
        self._whole: Callable[[str], bool] = bool
        self._free = self._seconds = 0.0

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said. Raises: BadGrammar for words that the net cannot write."""
        if grammar.phrases not in self._graphs:
            if not grammar.phrases:
                raise BadGrammar(self.name, (), "there is not one phrase")
            self._graphs[grammar.phrases] = self._compile(word_graph(grammar))
            keep_last(self._graphs)
        self._graph = self._graphs[grammar.phrases]
        self._whole = whole_phrases(grammar)

    def _compile(self, graph: WordGraph) -> TokenGraph:
        try:
            return token_graph(graph, self._vocabulary)
        except KeyError as error:
            unknown = [arc.word for arc in graph.arcs if str(error.args[0]) in arc.word]
            raise BadGrammar(self.name, unknown, "they cannot be spelled") from error

    def decode(self, samples: Samples) -> Evidence:
        """Listen to an utterance; its length is in tokens of what the net writes unhindered."""
        self._net.hear(samples)
        self._seconds = len(samples) / RATE_HZ
        if self._graph is None:
            return Evidence({}, 0.0)
        found = search(self._net, self._graph, self._beam(_BEAM))
        phrases = {w: score for w, score in found.phrases.items() if self._whole(w)}
        # The net's own text, a token at a time, need not be its likeliest.
        self._free = max(found.free, *phrases.values()) if phrases else found.free
        best = sorted(phrases, key=lambda words: -phrases[words])[:_WANTED]
        gaps = {words: phrases[words] - self._free for words in best}
        return Evidence(gaps, float(found.tokens))

    def judge(self, phrases: Sequence[str]) -> Mapping[str, float]:
        """The gap of each phrase for the last utterance, without those that lie too far off."""
        if not phrases:
            return {}
        found = search(self._net, self._compile(side_by_side(phrases)),
                       self._beam(_BEAM_JUDGING)).phrases  # fmt: skip
        return {words: score - self._free for words, score in found.items()}

    def _beam(self, wanted: int) -> int:
        """How many beginnings to keep, for a sound as long as the last one."""
        return max(1, min(wanted, int(_ROWS_TIMES_S / max(self._seconds, 1.0))))
