"""A small neural net that names sounds.

The net is that of the package hama, whose call for likelihoods is internal: 1.7.0 and no other.
"""

from __future__ import annotations

from importlib.metadata import version

import numpy as np
from hama import ASRModel

from voice.ports import FULL_SCALE, Samples
from voice.recognisers.calibration import Calibration
from voice.recognisers.ctc_engine import CtcEngine, Likelihoods, Ways
from voice.recognisers.dictionary import Dictionary
from voice.recognisers.engine import EngineMissing
from voice.recognisers.pronunciations import ways

_PINNED = "1.7.0"
CALIBRATION = Calibration(
    among=0.752, bias=3.066, per_length=0.2627, per_gap=0.1517, per_density=0.8824
)
"""Fitted with those of the other engines: see `voice.recognisers.chosen`."""
_SOUNDS: dict[str, str] = {
    "AA": "ɑ", "AE": "æ", "AH": "ʌ ə", "AO": "ɔ ɑ", "AW": "aʊ", "AY": "aɪ", "B": "b", "CH": "t͡ʃ",
    "D": "d ɾ", "DH": "ð", "EH": "ɛ", "ER": "ɝ ɚ", "EY": "eɪ", "F": "f", "G": "ɡ g", "HH": "h",
    "IH": "ɪ", "IY": "i", "JH": "d͡ʒ", "K": "k", "L": "l", "M": "m", "N": "n", "NG": "ŋ", "OW": "oʊ",
    "OY": "ɔɪ", "P": "p", "R": "ɹ", "S": "s", "SH": "ʃ", "T": "t ɾ", "TH": "θ", "UH": "ʊ",
    "UW": "u", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "ʒ",
}  # fmt: skip
"""ARPABET to the net's tokens; several count as one. Source: the IPA of each ARPABET symbol."""


class Ctc(CtcEngine):
    """hama's net."""

    name = "ctc"
    sound_names = tuple(_SOUNDS)
    """The columns of `likelihoods`."""
    calibration = CALIBRATION

    def __init__(self) -> None:
        """Load the net. Raises: EngineMissing for another version of the package."""
        super().__init__()
        if (found := version("hama")) != _PINNED:
            raise EngineMissing(self.name, f"install hama=={_PINNED} instead of {found}.")
        self._model = ASRModel()
        token = {text: number for number, text in enumerate(self._model.decoder_tokens)}
        self._columns = [[token[name] for name in names.split()] for names in _SOUNDS.values()]
        self._blanks = [token["<blank>"], token["<wb>"]]
        self._dictionary = Dictionary()

    def ways(self, words: set[str]) -> Ways:
        """By the pronouncing dictionary, and rules for accents."""
        lookup = self._dictionary.lookup(words)
        order = {name: number for number, name in enumerate(_SOUNDS)}
        return {
            word: [[order[sound] for sound in way.split()] for way in ways(word, lookup)]
            for word in words
        }

    def likelihoods(self, samples: Samples) -> Likelihoods:
        """Those of `sound_names`."""
        wave = (samples.astype(np.float32) / FULL_SCALE).reshape(1, -1)
        fed = {"waveform": wave, "waveform_lengths": np.array([wave.shape[1]])}
        likelihoods, frames = self._model.session.run(["log_probs", "out_lengths"], fed)
        tokens = likelihoods[0][: int(frames[0])]
        merged = [np.logaddexp.reduce(tokens[:, columns], axis=1) for columns in self._columns]
        sounds = np.stack(merged, axis=1).astype(np.float32)
        blank = np.logaddexp.reduce(tokens[:, self._blanks], axis=1).astype(np.float32)
        return Likelihoods(sounds, blank, np.maximum(tokens.max(axis=1, initial=-np.inf), blank))
