"""Turns a graph of words into a graph of sounds with every way to say every word."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from voice.recognisers.net.word_graph import WordGraph

Floats = NDArray[np.float32]
Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class SoundGraph:
    """Every way to say every word of a graph, as chains of sounds laid end to end.

    Arrays are over states (one sound of one chain) or over chains (one way of one word).
    """

    sound: Ints
    """Column of the likelihoods, per state."""
    doubled: NDArray[np.bool_]
    """Per state: true for the same sound as before it in its chain, so a blank must part them."""
    first: Ints
    last: Ints
    """Per chain: its first and its last state."""
    source: Ints
    target: Ints
    """Per chain: the states of the word graph it joins."""
    words: tuple[str, ...]
    """Per chain."""
    nodes: int
    starts: Ints
    ends: Ints

    def reversed(self) -> SoundGraph:
        """The graph that hears everything backwards; state s becomes the s-th from the end."""
        top = len(self.sound) - 1
        after = np.append(self.doubled[1:], False)
        return SoundGraph(
            self.sound[::-1],
            after[::-1],
            top - self.last[::-1],
            top - self.first[::-1],
            self.target[::-1],
            self.source[::-1],
            self.words[::-1],
            self.nodes,
            self.ends,
            self.starts,
        )

    def only(self, chains: Ints) -> SoundGraph:
        """The graph with these chains alone, in rising order."""
        lengths = self.last[chains] - self.first[chains] + 1
        last = np.cumsum(lengths) - 1
        first = last - lengths + 1
        states = np.arange(lengths.sum()) + np.repeat(self.first[chains] - first, lengths)
        return SoundGraph(
            self.sound[states],
            self.doubled[states],
            first,
            last,
            self.source[chains],
            self.target[chains],
            tuple(self.words[chain] for chain in chains),
            self.nodes,
            self.starts,
            self.ends,
        )


def sound_graph(graph: WordGraph, ways: Mapping[str, Sequence[Sequence[int]]]) -> SoundGraph:
    """The graph with each word replaced by every way to say it, as columns of likelihoods."""
    chains = [(arc, way) for arc in graph.arcs for way in ways[arc.word]]
    lengths = np.array([len(way) for _, way in chains])
    last = np.cumsum(lengths) - 1
    first = last - lengths + 1
    sound = np.array([column for _, way in chains for column in way])
    doubled = np.append(False, sound[1:] == sound[:-1])
    doubled[first] = False
    return SoundGraph(
        sound,
        doubled,
        first,
        last,
        np.array([arc.source for arc, _ in chains]),
        np.array([arc.target for arc, _ in chains]),
        tuple(arc.word for arc, _ in chains),
        graph.states,
        np.array(graph.starts),
        np.array(sorted(graph.finals)),
    )
