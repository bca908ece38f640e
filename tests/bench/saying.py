"""How well the program's voices are understood by somebody who does not know the sentence.

Replies of every kind are spoken by each voice at three rates, in quiet and 10 dB over talk, and
written down freely by two published recognisers (see `listeners`). `--small` asks the voice that
speaks by itself and eSpeak, at the usual rate, and fewer replies of each kind.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter
from collections.abc import Mapping, Sequence

import numpy as np

from tests.bench.listeners import Listener, listeners
from tests.bench.prose import TALK
from tests.bench.replies import kinds
from tests.bench.speaking_cost import USUAL_WPM, Cost, Spoken, cost_of
from tests.bench.written_down import NOTHING, Back, came_back
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples
from voice.speech.delivery import Delivery
from voice.speech.levels import level_db
from voice.speech.speaker import Renderer

RATES_WPM = (130, 160, 200)
SHOW = "ROUNDS_SHOW"
"""The environment variable with which each reply that lost something is shown."""
OVER_TALK_DB = 10.0
QUIET, OVER_TALK = "quiet", f"{OVER_TALK_DB:.0f} dB over talk"
NUMBERS, FIRST_S, FIRST_P95_S, BUSY, MEMORY_MB = 0.98, 0.35, 0.8, 0.1, 350.0
"""To reach at the usual rate, by the voice that speaks by itself: numbers that come back in quiet;
seconds to the first sample, median and 95th percentile; share of a core while it speaks; memory."""


def run(argv: list[str]) -> int:
    """Print the tables; 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench saying", description=__doc__)
    parser.add_argument("--each", type=int, default=20, help="replies of each kind")
    parser.add_argument("--seed", type=int, default=1, help="which replies of each kind")
    parser.add_argument("--voices", type=int, help="the first so many voices; else all")
    parser.add_argument("--small", action="store_true", help="two voices, one rate, six replies")
    options = parser.parse_args(argv)
    replies = {
        kind: texts[: 6 if options.small else options.each]
        for kind, texts in kinds(options.seed).items()
    }
    texts = [text for some in replies.values() for text in some]
    print(f"{len(texts)} replies: " + ", ".join(f"{len(v)} {k}" for k, v in replies.items()))
    spoken = _voices()[: 2 if options.small else options.voices]
    costs = {one.name: cost_of(one, texts) for one in spoken}
    for name, cost in costs.items():
        print(
            f"{name:22} first sample after {cost.first_s:.3f} s, p95 {cost.first_p95_s:.3f} s; "
            f"{cost.busy:.1%} of a core while it speaks; {cost.memory_mb:.0f} MB",
            flush=True,
        )
    heard = _table(spoken, replies, (USUAL_WPM,) if options.small else RATES_WPM)
    return _judged(heard, next(iter(costs.values())))


def _voices() -> list[Spoken]:
    """The voice that speaks by itself, eSpeak as it comes, and each other English one."""
    with Renderer() as renderer:
        english = [voice for voice in renderer.voices() if voice.language.startswith("en")]
    first = [Spoken(english[0].name, None), Spoken("eSpeak as it comes", None, system_only=True)]
    return first + [Spoken(voice.name, voice.id) for voice in english[1:]]


def _table(
    spoken: Sequence[Spoken], replies: Mapping[str, list[str]], rates_wpm: Sequence[int]
) -> dict[tuple[str, int, str], Back]:
    """Shares that came back, by voice, rate and condition; each is printed as it is done."""
    ears, talk, found = listeners(), _talk(), dict[tuple[str, int, str], Back]()
    names = ", ".join(ears)
    print(f"\nwords and numbers that came back by either, and numbers by each alone ({names})")
    print(f"{'voice':22}{'rate':>5}  {'condition':20}   words  numbers       each alone  lost most")
    for one in spoken:
        for rate_wpm in rates_wpm:
            for condition in (QUIET, OVER_TALK):
                behind = talk if condition is OVER_TALK else None
                with one.renderer(rate_wpm) as renderer:
                    kinds_of = {k: _heard(ears, renderer, v, behind) for k, v in replies.items()}
                whole = [sum(parts, NOTHING) for parts in zip(*kinds_of.values(), strict=True)]
                found[one.name, rate_wpm, condition] = whole[0]
                _row(f"{one.name[:21]:22}{rate_wpm:5d}  {condition:18}", whole)
                if one is spoken[0] and rate_wpm == USUAL_WPM:
                    for kind, parts in kinds_of.items():
                        _row(f"{'':22}{'':5}  {kind:18}", parts)
    return found


def _row(head: str, backs: Sequence[Back]) -> None:
    lost = Counter(map(str, backs[0].lost)).most_common(6)
    shares = [_share(backs[0].words_right, backs[0].words)]
    shares += [_share(back.numbers_right, back.numbers) for back in backs]
    print(f"{head}{''.join(shares)}  {', '.join(token for token, _ in lost)}", flush=True)


def _share(right: int, of: int) -> str:
    return f"{right / of:9.1%}" if of else f"{'-':>9}"


def _heard(
    ears: Mapping[str, Listener], renderer: Renderer, texts: Sequence[str], talk: Samples | None
) -> list[Back]:
    """Shares that came back by either, and by each alone."""
    whole = [NOTHING] * (1 + len(ears))
    for number, text in enumerate(texts):
        sound = renderer.render(text)
        if talk is not None:
            sound = _over(sound, talk, number)
        written = [ear(sound) for ear in ears.values()]
        by = (written, *([each] for each in written))
        backs = [came_back(text, each) for each in by]
        if backs[0].lost and os.environ.get(SHOW):
            print(f"    {backs[0].lost}: {text} {written}", file=sys.stderr)
        whole = [one + more for one, more in zip(whole, backs, strict=True)]
    return whole


def _talk() -> Samples:
    """Talk by a voice that is none of those on trial."""
    with Renderer(system_only=True) as renderer:
        renderer.change(Delivery(voice="gmw/en-gb-x-rp"))
        return renderer.render(" ".join(TALK.split()))


def _over(sound: Samples, talk: Samples, number: int) -> Samples:
    """The sound over another piece of the talk for each number."""
    piece = np.resize(np.roll(talk, -number * 5 * RATE_HZ), len(sound)).astype(np.float32)
    said = sound.astype(np.float32)
    over_db = level_db(said / FULL_SCALE, RATE_HZ) - level_db(piece / FULL_SCALE, RATE_HZ)
    mixed = said + piece * 10 ** ((over_db - OVER_TALK_DB) / 20)
    return np.clip(np.round(mixed), -FULL_SCALE, FULL_SCALE - 1).astype(np.int16)


def _judged(heard: dict[tuple[str, int, str], Back], cost: Cost) -> int:
    usual = next(
        back for (_, rate, how), back in heard.items() if (rate, how) == (USUAL_WPM, QUIET)
    )
    numbers = usual.numbers_right / usual.numbers
    checks = (
        (f"numbers, at least {NUMBERS:.0%}", f"{numbers:.1%}", numbers >= NUMBERS),
        (f"first sample, median {FIRST_S} s", f"{cost.first_s:.2f} s", cost.first_s <= FIRST_S),
        (
            f"first sample, p95 {FIRST_P95_S} s",
            f"{cost.first_p95_s:.2f} s",
            cost.first_p95_s <= FIRST_P95_S,
        ),
        (f"of a core, at most {BUSY:.0%}", f"{cost.busy:.1%}", cost.busy <= BUSY),
        (
            f"memory, at most {MEMORY_MB:.0f} MB",
            f"{cost.memory_mb:.0f} MB",
            cost.memory_mb <= MEMORY_MB,
        ),
    )
    print()
    for what, figure, reached in checks:
        print(f"{what:30}{figure:>9}  {'reached' if reached else 'MISSED'}")
    return 0 if all(reached for _, _, reached in checks) else 1
