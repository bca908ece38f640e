"""The command `rounds-aloud check`: what works on this machine, and what to do about the rest."""

from __future__ import annotations

import time
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from voice import device_choice, engines

if TYPE_CHECKING:
    from voice.sound import Sound

SENTENCE = "where am i"
"""Spoken to itself: its own voice, through its own recognition."""
NO_ENGLISH = "no English one; run pip install --upgrade espeakng-loader"
_METER = 30


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the check."""

    what: str
    good: bool
    told: str
    """What was found; where it is not good, what to do."""


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--seconds", type=float, default=4.0, metavar="S",
                        help="how long to listen to the microphone")  # fmt: skip
    device_choice.add_arguments(parser)
    engines.add_arguments(parser)


def run(args: Namespace) -> int:
    """Prints a line for each thing looked at; 0 when it can listen and speak here."""
    status = 0
    for check in (_speaking, _hearing, _models, _microphone):
        for finding in check(args):
            print(f"{'ok  ' if finding.good else 'NO  '}{finding.what}: {finding.told}", flush=True)
            status |= not finding.good
    return status


def _speaking(args: Namespace) -> Iterator[Finding]:
    from voice.delivery import Delivery
    from voice.speaker import Renderer, SpeechFailedError

    del args
    with Renderer(Delivery()) as renderer:
        try:
            began = time.perf_counter()
            renderer.render("Round one.")
            first_s = time.perf_counter() - began
            began = time.perf_counter()
            renderer.render("Round two: two in each stitch. Sixteen stitches.")
            second_s = time.perf_counter() - began
            english = [v.name for v in renderer.voices() if v.language.startswith("en")]
        except SpeechFailedError as failure:
            yield Finding("speech", False, str(failure))
            return
    yield Finding("speech", True, f"ready after {first_s:.2f} s, a sentence in {second_s:.2f} s")
    shown = ", ".join(english[:6])
    found = f"{len(english)} English ones: {shown}" if english else NO_ENGLISH
    yield Finding("voices", bool(english), found)


def _hearing(args: Namespace) -> Iterator[Finding]:
    from voice.delivery import Delivery
    from voice.hearing import Hearing
    from voice.model_errors import ModelError
    from voice.recognisers.engine import EngineMissing
    from voice.speaker import Renderer, SpeechFailedError
    from voice.voice_call import warm_up

    try:
        began = time.perf_counter()
        hearing = Hearing(engines.opened(args))
        warm_up(hearing)
        ready_s = time.perf_counter() - began
    except (EngineMissing, ModelError) as refused:
        yield Finding("recognition", False, str(refused))
        return
    yield Finding("recognition", True, f"{hearing.name}, ready after {ready_s:.2f} s")
    try:
        with Renderer(Delivery()) as renderer:
            what = hearing.decide(renderer.render(SENTENCE))
    except SpeechFailedError:
        return  # told already
    finally:
        hearing.close()
    good = what.text == SENTENCE
    told = f"said {SENTENCE!r} to itself and understood {what.text!r} in {what.seconds:.2f} s"
    yield Finding("loopback", good, told if good else f"{told}; try another --engine")


def _models(args: Namespace) -> Iterator[Finding]:
    from voice.models import installed

    del args
    names = ", ".join(model.name for model, _ in installed(None))
    yield Finding("models", True, names or "none beside those that come with the program")


def _microphone(args: Namespace) -> Iterator[Finding]:
    from voice.devices import SoundUnavailableError, native_messages_hidden
    from voice.sound import Sound

    try:
        with native_messages_hidden(), Sound(device_choice.settings(args)) as sound:
            levels, conditions = _listened(sound, args.seconds, _meter)
    except SoundUnavailableError as refused:
        yield Finding("microphone", False, f"{refused} Until then: rounds-aloud call --typed")
        return
    floor, peak = min(levels, default=-120.0), max(levels, default=-120.0)
    heard = f"noise at {floor:.0f} dB, loudest {peak:.0f} dB"
    yield Finding("microphone", not conditions, " ".join(conditions) or heard)


def _listened(sound: Sound, length_s: float, show: Callable[[float], None]
              ) -> tuple[list[float], list[str]]:  # fmt: skip
    """Peaks of tenths of a second, in dB below full scale, and what was wrong."""
    from voice.ports import AudioBlock
    from voice.sound_watch import peak_db

    levels: list[float] = []
    wrong: list[str] = []
    print(f"Say something for {length_s:g} seconds.")
    end_s = time.monotonic() + length_s
    while (left_s := end_s - time.monotonic()) > 0:
        item = sound.read(left_s)
        if isinstance(item, AudioBlock):
            levels.append(peak_db(item.samples))
            show(levels[-1])
        elif item is not None:
            wrong.append(item.sentence)
    print()
    return levels, wrong


def _meter(level_db: float) -> None:
    """A bar from -60 dB to full scale, on one line."""
    filled = round(_METER * min(max(level_db + 60, 0.0), 60.0) / 60)
    print(f"\r[{'#' * filled}{'.' * (_METER - filled)}]", end="", flush=True)
