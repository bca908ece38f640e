"""How well the program's voices are understood by somebody who does not know the sentence.

Replies of every kind are spoken by each voice at three rates, in quiet and 10 dB over talk, and
written down freely by two published recognisers (see `listeners`). `--small` asks the voice that
speaks by itself and eSpeak, at the usual rate, and fewer replies of each kind.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from tests.bench.listeners import Listener, listeners
from tests.bench.prose import TALK
from tests.bench.replies import kinds
from tests.bench.written_down import NOTHING, Back, came_back
from voice.sound.ports import FULL_SCALE, RATE_HZ, Samples
from voice.speech.delivery import Delivery
from voice.speech.levels import level_db
from voice.speech.speaker import Renderer

RATES_WPM = (130, 160, 200)
USUAL_WPM = Delivery().rate_wpm
OVER_TALK_DB = 10.0
QUIET, OVER_TALK = "quiet", f"{OVER_TALK_DB:.0f} dB over talk"
NUMBERS, FIRST_S, FIRST_P95_S, BUSY, MEMORY_MB = 0.98, 0.35, 0.8, 0.1, 350.0
"""To reach at the usual rate, by the voice that speaks by itself: numbers that come back in quiet;
seconds to the first sample, median and 95th percentile; share of a core while it speaks; memory."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """A voice on trial."""

    name: str
    voice: str | None
    system_only: bool = False

    def renderer(self, rate_wpm: int = USUAL_WPM) -> Renderer:
        """A renderer that speaks with it."""
        return Renderer(Delivery(rate_wpm, voice=self.voice), system_only=self.system_only)


@dataclass(frozen=True, slots=True)
class Cost:
    """Figures of a voice in a process of its own, nothing rendered ahead."""

    first_s: float
    first_p95_s: float
    busy: float
    memory_mb: float


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
    costs = {one.name: _cost(one, texts) for one in spoken}
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


def _cost(spoken: Spoken, texts: Sequence[str]) -> Cost:
    firsts, sound_s = list[float](), 0.0
    with spoken.renderer() as renderer:
        renderer.render("ready")
        pid = renderer.child_pid
        begun_s = _busy_s(pid)
        for text in texts:
            began = time.perf_counter()
            pieces = renderer.pieces(text)
            sound_s += len(next(pieces)) / RATE_HZ
            firsts.append(time.perf_counter() - began)
            sound_s += sum(map(len, pieces)) / RATE_HZ
        busy = (_busy_s(pid) - begun_s) / sound_s
        memory = _most_memory_mb(pid)
    return Cost(statistics.median(firsts), sorted(firsts)[int(0.95 * len(firsts))], busy, memory)


def _busy_s(pid: int | None) -> float:
    """Time on the processor. Source: proc_pid_stat(5), fields 14 and 15."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _most_memory_mb(pid: int | None) -> float:
    """Most memory that was resident at once. Source: proc_pid_status(5), VmHWM in kB."""
    text = Path(f"/proc/{pid}/status").read_text()
    return int(text.partition("VmHWM:")[2].split()[0]) / 1024


def _table(
    spoken: Sequence[Spoken], replies: dict[str, list[str]], rates_wpm: Sequence[int]
) -> dict[tuple[str, int, str], Back]:
    """What came back, by voice, rate and condition; each is printed as it is done."""
    ears, talk, found = listeners(), _talk(), dict[tuple[str, int, str], Back]()
    print(f"\n{'voice':22}{'rate':>5}  {'condition':18}{'numbers':>9}{'words':>8}   lost most")
    for one in spoken:
        for rate_wpm in rates_wpm:
            for condition in (QUIET, OVER_TALK):
                with one.renderer(rate_wpm) as renderer:
                    kinds_of = dict(
                        _heard(ears, renderer, replies, talk if condition is OVER_TALK else None)
                    )
                found[one.name, rate_wpm, condition] = back = sum(kinds_of.values(), NOTHING)
                _row(f"{one.name[:21]:22}{rate_wpm:5d}  {condition:18}", back)
                if one is spoken[0] and rate_wpm == USUAL_WPM:
                    for kind, part in kinds_of.items():
                        _row(f"{'':22}{'':5}  {kind:18}", part)
    return found


def _row(head: str, back: Back) -> None:
    lost = sorted(set(map(str, back.lost)), key=lambda t: -list(map(str, back.lost)).count(t))
    print(
        f"{head}{back.numbers_right / max(back.numbers, 1):9.1%}"
        f"{back.words_right / max(back.words, 1):8.1%}   {', '.join(lost[:6])}",
        flush=True,
    )


def _heard(
    ears: Mapping[str, Listener],
    renderer: Renderer,
    replies: dict[str, list[str]],
    talk: Samples | None,
) -> Iterator[tuple[str, Back]]:
    for kind, texts in replies.items():
        whole = NOTHING
        for number, text in enumerate(texts):
            sound = renderer.render(text)
            if talk is not None:
                sound = _over(sound, talk, number)
            written = {name: ear(sound) for name, ear in ears.items()}
            back = came_back(text, list(written.values()))
            if back.lost and os.environ.get("ROUNDS_SHOW"):
                print(f"    {back.lost}: {text} {written}", file=sys.stderr)
            whole += back
        yield kind, whole


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
