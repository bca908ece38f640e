"""A second look at what the net heard: not the text that it would write, but letter by letter.

Hearing and writing go wrong in unlike ways (Watanabe et al. 2017): what writes makes up words that
nobody said, and what spells does not know which letters make words; together they do better.
"""

from __future__ import annotations

import numpy as np

from voice.ports import Samples
from voice.recognisers.calibration import Calibration
from voice.recognisers.ctc_engine import CtcEngine, Likelihoods, Ways
from voice.recognisers.moonshine_net import LETTERS, Hears

CALIBRATION = Calibration(
    among=0.3389, bias=2.299, per_length=0.1185, per_gap=0.1407, per_density=0.9646
)
"""Fitted as is told in `voice.recognisers.chosen`."""


class Letters(CtcEngine):
    """The net's half that hears, and what it tells of letters."""

    name = "letters"
    calibration = CALIBRATION

    def __init__(self, hears: Hears | None = None) -> None:
        """Use the half that another engine has, or load the listed one. Raises: as Hears."""
        super().__init__()
        self._hears = hears or Hears()

    def ways(self, words: set[str]) -> Ways:
        """As they are spelled; none where a letter is unknown."""
        return {word: [[*map(LETTERS.index, word)]] if set(word) <= set(LETTERS) else []
                for word in words}  # fmt: skip

    def likelihoods(self, samples: Samples) -> Likelihoods:
        """Those of LETTERS; a space between words is taken for no letter."""
        found = self._hears.hear(samples).letters
        units = np.ascontiguousarray(found[:, 1:])
        blank = np.logaddexp(found[:, 0], units[:, LETTERS.index(" ")])
        return Likelihoods(units, blank, np.maximum(units[:, 1:].max(axis=1), blank))
