"""Cuts a recording into utterances, with only one of them in memory at a time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

import numpy as np

from voice.recognisers.engine import LONGEST_S
from voice.sound.endpoint import Endpointer, Segment
from voice.sound.ports import RATE_HZ, Samples


def utterances(blocks: Iterator[Samples]) -> Iterator[Segment]:
    """The whole sound, or the utterances between the pauses of a long one; at least one."""
    whole = np.zeros(0, np.int16)
    for block in blocks:
        whole = np.concatenate([whole, block])
        if len(whole) > LONGEST_S * RATE_HZ:
            break
    else:
        yield _all_of(whole)
        return
    cutter, cut = Endpointer(), False
    for block in chain([whole], blocks):
        for segment in cutter.feed(block):
            cut = True
            yield segment
    for segment in cutter.finish():
        cut = True
        yield segment
    if not cut:
        yield _all_of(whole)


def _all_of(sound: Samples) -> Segment:
    """The whole sound as one utterance."""
    length_s = len(sound) / RATE_HZ
    return Segment(0.0, length_s, length_s, sound)
