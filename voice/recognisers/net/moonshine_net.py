"""The net Moonshine tiny, which writes English, in its two halves.

It works on sound of any length, without padding. The weights of the half that writes come with
the package moonshine-voice; those of the half that hears were adapted from that package's to rooms
and to what is said here (see `learning`), and learnt to tell the letter of each moment.
ONNX Runtime runs both, since the package's own program returns one text and no likelihoods.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from voice.models.model_list import find
from voice.models.models import verify
from voice.models.published import remedy, this_machine
from voice.recognisers.engine import EngineMissing
from voice.recognisers.net.token_search import Floats
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples

MODEL, ADAPTED = "moonshine-tiny-en", "moonshine-tiny-en-rooms"
"""Names of both halves in the list of models."""
NAME = "moonshine"
LETTERS = " 'abcdefghijklmnopqrstuvwxyz"
"""Letters that the half that hears tells apart at each moment, after "none of them"."""
_BEFORE = RATE_HZ // 4
"""Samples of silence put before an utterance: the net heard a quarter to one second of it around
what it learnt from, and takes what begins at once for something else. After a look at 19 words of
the program's own voice without silence around them: 10 were heard without this, and 19 with it."""
_AFTER = RATE_HZ // 4
"""The same after it, for a recording that is cut off close behind its last word: "where am i" by
eSpeak NG was heard with a quarter of a second, and not always with a tenth."""
_FIRST, _END = 1, 2
"""Tokens that begin and end a text. Source: the configuration published with the net."""
EACH = 1.2
"""Bonus of every token but the last, as a natural logarithm: nets that write favour short texts.
With 0.5, 1.2 and 2 the right phrase comes first among those found in 515, 517 and 514 of 550
phrases of tuning voices in rooms, most of them amid talk.
"""


@dataclass(frozen=True, slots=True)
class Sounds:
    """The output of the half that hears, for one utterance."""

    hidden: Floats
    """(1, frames, numbers): for the half that writes."""
    mask: Any
    """(1, samples): ones."""
    letters: Floats
    """(frames, 1 + LETTERS): natural logarithms of the likelihoods of none and of each letter."""


class Hears:
    """The half that hears, shared by several looks at the same utterance."""

    def __init__(self, file: Path | None = None) -> None:
        """Load the listed weights, or others. Raises: as `session`, ModelMissing, ModelDamaged."""
        self._net = session(file or verify(ADAPTED) / find(ADAPTED).file)
        self._last: tuple[Samples, Sounds] | None = None

    def hear(self, samples: Samples) -> Sounds:
        """Hear an utterance, int16 at 16 kHz; the last array is remembered and not heard again."""
        if self._last is None or self._last[0] is not samples:
            self._last = samples, self._heard(samples)
        return self._last[1]

    def _heard(self, samples: Samples) -> Sounds:
        wave = np.pad(samples.astype(np.float32) / FULL_SCALE, (_BEFORE, _AFTER))[np.newaxis]
        mask = np.ones(wave.shape, np.int64)
        fed = {"input_values": wave, "attention_mask": mask}
        hidden, letters = self._net.run(["last_hidden_state", "letters"], fed)
        return Sounds(hidden, mask, letters[0])


class Writes:
    """The half that writes down what was heard."""

    end = _END

    def __init__(self, file: Path) -> None:
        """Load the weights. Raises: as `session`."""
        self._net = session(file)
        self._names = [output.name for output in self._net.get_outputs()]
        shapes = {i.name: i.shape for i in self._net.get_inputs() if i.name.startswith("past")}
        self._nothing = {
            name: np.zeros((1, shape[1], 0, shape[3]), np.float32) for name, shape in shapes.items()
        }
        self._heard: dict[str, Any] = {}
        self._rows: dict[str, Any] = {}
        """The same for as many rows as were wanted at once so far: to copy it takes time."""
        self._written: dict[str, Floats] = {}
        self._sounds: Sounds | None = None
        self._begun: tuple[Floats, dict[str, Floats]] | None = None
        """The first answer and what was written before it, for texts that are begun anew."""

    def take(self, sounds: Sounds) -> None:
        """Take sounds that are to be written down; the same again cost nothing."""
        if sounds is self._sounds:
            return
        self._sounds, self._begun, self._rows = sounds, None, {}
        self._heard = {
            "encoder_hidden_states": sounds.hidden,
            "encoder_attention_mask": sounds.mask,
        }

    def begin(self) -> Floats:
        """Natural logarithms of the likelihoods of the first token, (1, tokens), with the bonus."""
        if self._begun is None:
            answer, states = self._run([_FIRST], self._nothing, cached=False)
            written = {name: states[name] for name in states if ".decoder." in name}
            self._heard |= {name: states[name] for name in states if ".encoder." in name}
            self._begun, self._rows = (answer, written), {}
        answer, self._written = self._begun
        return answer

    def go_on(self, rows: Sequence[int], tokens: Sequence[int]) -> Floats:
        """Logarithms of the next token, after each of these rows of the last answer and a token."""
        states = {name: state[list(rows)] for name, state in self._written.items()}
        answer, states = self._run(tokens, states, cached=True)
        self._written = {name: states[name] for name in self._written}
        return answer

    def _heard_for(self, rows: int) -> dict[str, Any]:
        """The sound as it was heard, for so many rows."""
        if not self._rows or len(self._rows["encoder_hidden_states"]) < rows:
            self._rows = {name: np.repeat(of, rows, axis=0) for name, of in self._heard.items()}
        return {name: of[:rows] for name, of in self._rows.items()}

    def _run(
        self, tokens: Sequence[int], states: Mapping[str, Floats], *, cached: bool
    ) -> tuple[Floats, dict[str, Floats]]:
        """The answer, and the states by the names under which they are fed in again."""
        fed = {
            **states,
            **self._heard_for(len(tokens)),
            "input_ids": np.array(tokens, np.int64)[:, np.newaxis],
            "use_cache_branch": np.array([cached]),
        }
        answers = dict(zip(self._names, self._net.run(None, fed), strict=True))
        logits = answers.pop("logits")[:, -1]
        logits -= logits.max(axis=1, keepdims=True)
        logits -= np.log(np.exp(logits).sum(axis=1, keepdims=True))
        logits[:, :_END] += EACH
        logits[:, _END + 1 :] += EACH
        return logits, {n.replace("present", "past_key_values"): s for n, s in answers.items()}


def session(file: Path) -> Any:
    """A file of weights, ready to run.

    Raises: EngineMissing without ONNX Runtime, or for a broken file.
    """
    try:
        import onnxruntime
    except ImportError as error:
        raise EngineMissing(NAME, remedy(this_machine())) from error
    # On Windows it sends telemetry whatever the environment variable says; from memory.
    onnxruntime.disable_telemetry_events()
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1  # the other cores are for sound, for speech and for the maker
    options.enable_cpu_mem_arena = False  # less memory, for a little time
    try:
        return onnxruntime.InferenceSession(str(file), options, providers=["CPUExecutionProvider"])
    except Exception as fault:  # the library's own errors have no common class
        raise EngineMissing(NAME, f"its weights in {file} cannot be read.") from fault
