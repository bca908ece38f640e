"""Weights in eight bits stay near what was learnt, and the file that is shipped is small."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from voice.models.model_list import find
from voice.recognisers.net.learning.eight_bits import columns, convolution
from voice.recognisers.net.moonshine_net import ADAPTED

MOST_BYTES = 9_000_000
WEIGHTS = st.floats(-8, 8, width=32)


@given(arrays(np.float32, (6, 4), elements=WEIGHTS))
def test_a_matrix_comes_back_within_a_step(weight: np.ndarray) -> None:
    whole, scale, zero = columns(weight)
    back = (whole.astype(np.float32) - zero) * scale
    assert np.all(np.abs(back - weight) <= 1.001 * scale)


@given(arrays(np.float32, (3, 5, 4), elements=WEIGHTS))
def test_a_convolution_comes_back_within_half_a_step(weight: np.ndarray) -> None:
    whole, scale = convolution(weight)
    assert whole.shape == weight.shape
    assert np.all(np.abs(whole * scale - weight) <= 0.501 * scale)


def test_the_weights_that_are_shipped_are_small() -> None:
    assert find(ADAPTED).size_bytes <= MOST_BYTES
