"""How commands are heard under a film that is known, and over the program's own voice.

Half a minute of film goes before each command. The voices are those of `room`. Beside this
program's canceller stand nothing, WebRTC's echo canceller (package pywebrtc-audio), where it is
installed, and the plain adaptive filter that textbooks begin with (NLMS of pyroomacoustics).
"""

from __future__ import annotations

import argparse
import importlib.util
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from pyroomacoustics.adaptive import NLMS

from tests.bench import talked_over
from tests.bench.film_room import BEFORE_S, Showing, Shown, shown
from tests.bench.room import MODES, OUTCOME_HEAD, SURE_HEAD, EarAlone, Row, drawn, usual
from tests.bench.rooms import BEFORE_S as LISTENED_S
from tests.bench.rooms import OTHERS, Spoken, makers
from voice.sound.canceller import Canceller
from voice.sound.canceller_settings import SECOND_MICROPHONE, CancellerSettings
from voice.sound.endpoint import Segment
from voice.sound.ports import RATE_HZ, Samples

NLMS_TAPS = 4096
"""A quarter of a second; its step is the one it has by itself. A smaller step, and a longer or
shorter path, took out less of a film."""

Left = tuple[Samples, Canceller | None]
"""The sound without the film, and the canceller that took it out."""
Way = Callable[[Shown, Showing], Left]


def _nothing(one: Shown, _showing: Showing) -> Left:
    return one.heard, None


def _ours(one: Shown, showing: Showing) -> Left:
    settings = CancellerSettings() if showing.spare_m is None else SECOND_MICROPHONE
    canceller = Canceller(len(one.known), settings)
    return np.concatenate([canceller.feed(one.heard, one.known), canceller.finish()]), canceller


def _aec3(one: Shown, _showing: Showing) -> Left:
    """WebRTC's canceller, which knows one channel, 10 ms at a time."""
    import pywebrtc_audio

    size = RATE_HZ // 100
    whole = len(one.heard) // size * size
    played = np.clip(np.rint(one.known.mean(axis=0)), -32_768, 32_767).astype(np.int16)
    canceller = pywebrtc_audio.EchoCanceller(sample_rate=RATE_HZ)
    parts = [
        canceller.process(one.heard[at : at + size], played[at : at + size])
        for at in range(0, whole, size)
    ]
    return np.concatenate([np.asarray(part, np.int16) for part in parts]), None


def _nlms(one: Shown, _showing: Showing) -> Left:
    """The normalised least mean squares filter of pyroomacoustics, which knows one channel."""
    rng = np.random.default_rng(5)  # it divides by the power of what is played, so that is never 0
    played = one.known.mean(axis=0) + rng.normal(0.0, 1.0, one.known.shape[1])
    path = NLMS(NLMS_TAPS)
    left = np.empty(len(one.heard))
    for at, (heard, now) in enumerate(zip(one.heard.astype(np.float64), played, strict=True)):
        left[at] = heard - path.w[0] * now - np.inner(path.w[1:], path.x[:-1])
        path.update(now, heard)
    return np.clip(np.rint(left), -32_768, 32_767).astype(np.int16), None


WAYS: dict[str, Way] = {"nothing": _nothing, "AEC3": _aec3, "NLMS": _nlms, "taken out": _ours}


@dataclass(frozen=True, slots=True)
class Wanted:
    """One row of the table, and what it is to reach, in percent."""

    way: str
    showing: Showing
    right: float = 0.0
    wrong: float = 100.0


ROWS = (
    *(Wanted("nothing", Showing(db, 0.8)) for db in (5, -10)),
    *(Wanted(way, Showing(db, 0.8)) for way in ("AEC3", "NLMS") for db in (0, -10)),
    Wanted("taken out", Showing(5, 0.8)),
    Wanted("taken out", Showing(0, 0.8), 97, 0.5),
    Wanted("taken out", Showing(-10), 0, 0.5),
    Wanted("taken out", Showing(-10, 0.8), 92, 0.5),
    Wanted("taken out", Showing(-10, 1.5), 65),
    Wanted("taken out", Showing(-5, 0.8, distance_m=2.0, rt60_s=0.6)),
    *(Wanted(way, Showing(-10, 0.8, talks=False)) for way in WAYS),
    Wanted("taken out", Showing(0, spare_m=0.3, drift_millionths=50), 90, 1),
    Wanted("taken out", Showing(-5, spare_m=0.3, drift_millionths=50), 80, 1),
    Wanted("taken out", Showing(-5, spare_m=0.3, drift_millionths=200)),
    Wanted("taken out", Showing(-5, spare_m=0.1, drift_millionths=50)),
    Wanted("taken out", Showing(-5, spare_m=1.0, drift_millionths=50)),
)


def run(argv: list[str]) -> int:
    """Prints the table; 1 when a figure to reach is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench film")
    parser.add_argument("--voices", type=int, default=3, help="how many speak the commands")
    parser.add_argument("--skip", type=int, default=0, help="voices left out before those")
    parser.add_argument(
        "--each", type=int, default=0, help="phrases from each voice, as in `room`; films alone"
    )
    parser.add_argument("--minutes", type=float, default=2.0, help="of its own speech alone")
    parser.add_argument("--only", default="", help="rows with these words in their name alone")
    options = parser.parse_args(argv)
    voices, ear = makers()[options.skip :][: options.voices], EarAlone()
    said = drawn(voices, options.each) if options.each else usual(voices)
    print(f"film: talk by {', '.join(voice.name for voice in OTHERS.voices)}, and music; the level")
    print("is the maker's")
    print(f"{'':60}{OUTCOME_HEAD:>39}     n  less film{SURE_HEAD}")
    missed = False
    for wanted in ROWS:
        if options.only not in f"{wanted.way} {wanted.showing.name}":
            continue
        if wanted.way == "AEC3" and importlib.util.find_spec("pywebrtc_audio") is None:
            print("AEC3: pywebrtc-audio is not installed")
            continue
        row, gains_db = Row(), list[float]()
        for one in shown(wanted.showing, said):
            left, canceller = WAYS[wanted.way](one, wanted.showing)
            gains_db.append(_level_db(one.heard) - _level_db(left))
            row.add(ear, _listened(one, left, canceller), MODES["open"])
        total = row.counts.total()
        print(
            f"{wanted.way:10}{wanted.showing.name:50}{row.shares()}{total:5}"
            f"{np.mean(gains_db):7.1f} dB{row.sure()}",
            flush=True,
        )
        missed |= 100 * row.counts["right"] < wanted.right * total
        missed |= 100 * row.counts["wrong"] > wanted.wrong * total
    if not options.each:
        missed |= not talked_over.table(options.only, voices, ear, options.minutes)
    if not options.each and options.only in "words in a film":
        missed |= not talked_over.words_in_a_film(voices, ear, options.minutes)
    print("missed" if missed else "reached")
    return int(missed)


@dataclass(frozen=True, slots=True, eq=False)
class _Stood(Spoken):
    """A command of which the program only hears what stands out from what is left of the film."""

    canceller: Canceller | None = None

    def is_left_over(self, segment: Segment) -> bool:
        """Whether an utterance is no louder than what is left of the film."""
        began, ended = (
            len(self.sound) - round(at_s * RATE_HZ) for at_s in (segment.start_s, segment.end_s)
        )
        return self.canceller is not None and self.canceller.lately.is_left_over(began, ended)


def _listened(one: Shown, left: Samples, canceller: Canceller | None) -> Spoken:
    """The last seconds before the command and all after it, as the program listens to them."""
    cut_s = BEFORE_S - LISTENED_S
    sound = left[round(cut_s * RATE_HZ) :]
    began_s, ended_s = one.began_s - cut_s, one.ended_s - cut_s
    return _Stood(one.command, sound, began_s, ended_s, one.state, canceller)


def _level_db(sound: Samples) -> float:
    """Level of the last five seconds of film before the command, in dB."""
    end = round(BEFORE_S * RATE_HZ)
    part = sound[end - 5 * RATE_HZ : end].astype(np.float64)
    return float(10 * np.log10(np.mean(part**2) + 1e-9))
