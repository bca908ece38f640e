"""The likeliest phrases of a word graph, given how likely each sound is at each moment.

A Viterbi search over connectionist temporal classification (Graves et al. 2006): every sound lasts
one frame or more, blanks may stand between sounds. Run forwards and backwards it also gives the
best path through every word of the graph, and so the alternatives to the best phrase.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from voice.recognisers.net.sound_graph import Floats, Ints, SoundGraph

_NEVER = np.float32(-1e9)
_PASSES = 80
"""Most words through which a path is traced; further ones cost time and lie far below."""
_BEAM = np.float32(40.0)
"""Farthest that a word may end below the best path at its moment (a natural logarithm). A word
that never ends nearer is in no alternative worth having: its odds would be e to the minus 25."""
_MOST = 600_000
"""Most chains times frames in the second look: it bounds the memory. The longest phrase tried took
0.7 million, pieces of read prose up to 6 million; set after a look at both."""


@dataclass(frozen=True, slots=True)
class Path:
    """One phrase and the natural logarithm of its probability along one alignment.

    For the likeliest phrase that is the best alignment; for a further phrase another way to say
    one of its words may be better.
    """

    words: str
    score: float


class Pass:
    """One run over an utterance, which keeps every score so that any path can be traced back.

    With `kept` false it takes a hundredth of the memory, but no path can be traced: it only tells
    which states were reached and which chains came near.
    """

    def __init__(
        self, graph: SoundGraph, sounds: Floats, blank: Floats, *, kept: bool = True
    ) -> None:
        """Run over (frames, columns) and (frames,) natural logarithms."""
        self._graph = graph
        frames, states = len(sounds), len(graph.sound)
        self._rows = frames + 1 if kept else 2
        self.margin = np.full(len(graph.words), _NEVER, np.float32)
        """Best score at the end of each chain, less that of the best path then; below 0."""
        self.inside = np.full((self._rows, states), _NEVER, np.float32)
        """Best score of a path with its last frame in each state; row t ends before frame t."""
        self._after = np.full((self._rows, states), _NEVER, np.float32)
        self.reached = np.full((self._rows, graph.nodes), _NEVER, np.float32)
        """Best score of a path to each state of the word graph, in the same rows."""
        self._order = np.argsort(graph.target, kind="stable")
        targets = graph.target[self._order]
        self._heads = np.flatnonzero(np.append(True, targets[1:] != targets[:-1]))
        self._entered = targets[self._heads]
        self._lasts = graph.last[self._order]
        self.reached[0, graph.starts] = 0
        for frame in range(frames):
            self._advance(frame, sounds[frame], blank[frame])
            if not kept:
                self._note_near((frame + 1) % 2)

    def _note_near(self, row: int) -> None:
        best = self.inside[row].max()
        if best > _NEVER / 2:
            ends = self.inside[row, self._graph.last] - best
            np.maximum(self.margin, ends, out=self.margin)

    def _advance(self, t: int, sounds: Floats, blank: np.float32) -> None:
        graph = self._graph
        here, then = t % self._rows, (t + 1) % self._rows
        inside, after = self.inside[here], self._after[here]
        best = np.maximum(inside, after)
        before = np.empty_like(best)
        before[1:] = np.where(graph.doubled[1:], after[:-1], best[:-1])
        before[graph.first] = self.reached[here, graph.source]
        self.inside[then] = np.maximum(inside, before) + sounds[graph.sound]
        self._after[then] = best + blank
        ends = np.maximum(self.inside[then, self._lasts], self._after[then, self._lasts])
        starts = graph.starts
        waiting = self.reached[here, starts] + blank
        self.reached[then, starts] = waiting
        self.reached[then, self._entered] = np.maximum.reduceat(ends, self._heads)
        self.reached[then, starts] = np.maximum(self.reached[then, starts], waiting)

    def trace(self, t: int, chain: int, state: int) -> list[str]:
        """Words before the chain on the best path that ends frame t in this state of it."""
        graph, words, in_blank = self._graph, list[str](), False
        while True:
            t = self._entry(self._walk(t, chain, state, in_blank=in_blank), chain)
            node = graph.source[chain]
            chains = self._order[np.flatnonzero(graph.target[self._order] == node)]
            lasts = graph.last[chains]
            inside, after = self.inside[t, lasts], self._after[t, lasts]
            ends = np.maximum(inside, after)
            if not len(ends) or ends.max() < self.reached[t, node]:
                return words[::-1]
            best = int(ends.argmax())
            chain, state, in_blank = int(chains[best]), int(lasts[best]), after[best] > inside[best]
            words.append(graph.words[chain])

    def _walk(self, t: int, chain: int, state: int, *, in_blank: bool) -> int:
        """Frame, counted from 1, in which the path was last in the chain's first state."""
        first, doubled = int(self._graph.first[chain]), self._graph.doubled
        while state > first or in_blank:
            t -= 1
            inside, after = self.inside[t], self._after[t]
            if not in_blank:
                inner = _NEVER if doubled[state] else inside[state - 1]
                if max(after[state - 1], inner) <= inside[state]:
                    continue
                state -= 1
                in_blank = bool(after[state] > inner)
            else:
                in_blank = bool(after[state] > inside[state])
        return t

    def _entry(self, t: int, chain: int) -> int:
        """Number of frames heard before the path entered the chain."""
        first, source = self._graph.first[chain], self._graph.source[chain]
        while t > 1 and self.inside[t - 1, first] >= self.reached[t - 1, source]:
            t -= 1
        return t - 1


def search(
    graph: SoundGraph, back: SoundGraph, sounds: Floats, blank: Floats, wanted: int
) -> tuple[Path, ...]:
    """The likeliest phrases, best first; empty when the sound is too short for any.

    `sounds` is (frames, columns) and `blank` (frames,), natural logarithms; `back` is the reversed
    graph.
    """
    near = _near(Pass(graph, sounds, blank, kept=False).margin, len(sounds))
    if not len(near):
        return ()
    graph, back = graph.only(near), back.only(len(graph.words) - 1 - near[::-1])
    ahead = Pass(graph, sounds, blank)
    behind = Pass(back, sounds[::-1], blank[::-1])
    through = _through(graph, ahead, behind, sounds)
    found: dict[str, float] = {}
    traced: set[float] = set()
    for chain in np.argsort(-through.max(axis=0), kind="stable")[:_PASSES]:
        t = int(through[:, chain].argmax())
        score = float(through[t, chain])
        if len(found) >= wanted or score < _NEVER / 2:
            break
        if round(score, 3) in traced:
            continue
        traced.add(round(score, 3))
        mirror = len(graph.words) - 1 - int(chain)
        before = ahead.trace(t + 1, int(chain), int(graph.first[chain]))
        rest = behind.trace(len(sounds) - t, mirror, int(back.last[mirror]))
        words = [*before, graph.words[chain], *rest[::-1]]
        found.setdefault(" ".join(words), score)
    return tuple(Path(words, score) for words, score in found.items())


def _near(margin: Floats, frames: int) -> Ints:
    """The chains that came near the best path; in talk, where too many do, the nearest of them."""
    near = np.flatnonzero(margin > -_BEAM)
    most = _MOST // max(frames, 1)
    if len(near) <= most:
        return near
    return np.sort(near[np.argsort(-margin[near], kind="stable")[:most]])


def scores(graph: SoundGraph, sounds: Floats, blank: Floats) -> tuple[float | None, ...]:
    """Logarithm of the best path into each end, ends in rising order; None where none fits."""
    reached = Pass(graph, sounds, blank, kept=False).reached[len(sounds) % 2, graph.ends]
    return tuple(float(score) if score > _NEVER / 2 else None for score in reached)


def _through(graph: SoundGraph, ahead: Pass, behind: Pass, sounds: Floats) -> Floats:
    """Best score of a whole path in the first state of each chain at each frame."""
    mirrored = len(graph.sound) - 1 - graph.first
    onward = behind.inside[1:, mirrored][::-1]
    through: Floats = ahead.inside[1:, graph.first] + onward - sounds[:, graph.sound[graph.first]]
    return through
