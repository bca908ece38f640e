"""The checks of `rounds-aloud check` without a sound device: speech, engines, hearing, models."""

from __future__ import annotations

import sys
import time
from argparse import Namespace
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec

from voice.cli import engines
from voice.cli.ready import warm_up
from voice.hearing.listening import Hearing
from voice.models.model_errors import ModelError, ModelMissing
from voice.models.models import installed
from voice.models.published import missing
from voice.recognisers.chosen import net_is_here, vosk_model
from voice.recognisers.engine import BadGrammar, EngineMissing
from voice.recognisers.vosk import Vosk
from voice.sound.endpoint import EndpointSettings
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer, SpeechFailedError
from voice.words.phrases import Group, grammar_of

SENTENCE = "where am i"
"""Sentence for testing recognition with the program's own voice."""
SLOWEST_S = 2.0
"""Longest acceptable time from the last word to the answer, by judgement."""
_NO_ENGLISH = "no English one; " + (
    "run pip install --upgrade espeakng-loader"
    if sys.platform == "linux"
    else "add an English voice in the system's settings for speech"
)
_SHOWN = 8
"""Most words that are listed one by one."""
_INSTALL = "run: pip install onnxruntime moonshine-voice==0.1.0"
_LIBRARIES: dict[str, tuple[str, str]] = {
    "moonshine": ("onnxruntime", "pip install onnxruntime moonshine-voice==0.1.0"),
    "letters": ("onnxruntime", "pip install onnxruntime"),
    "vosk": ("vosk", "pip install vosk"),
}
"""For each engine, the module that it needs, and how to install it."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the check."""

    what: str
    good: bool
    told: str
    """The finding and, if it is not good, what to do."""
    plain: str = ""
    """The same for a person who crochets; empty where `told` is fit for that."""


def speaking() -> Iterator[Finding]:
    """Whether speech works, how soon it starts, the voices, and the clear one if it is lacking."""
    with Renderer(Delivery()) as renderer:
        try:
            began = time.perf_counter()
            renderer.render("Round one.")
            first_s = time.perf_counter() - began
            began = time.perf_counter()
            renderer.render("Round two: two in each stitch. Sixteen stitches.")
            second_s = time.perf_counter() - began
            english = [v.name for v in renderer.voices() if v.language.startswith("en")]
            lacks = renderer.lacks()
        except SpeechFailedError as failure:
            yield Finding("speech", good=False, told=str(failure))
            return
    told = f"ready after {first_s:.2f} s, a sentence in {second_s:.2f} s"
    yield Finding("speech", good=True, told=told)
    shown = ", ".join(english[:6])
    found = f"{len(english)} English ones: {shown}" if english else _NO_ENGLISH
    plain = "I can speak" if english else f"I have {_NO_ENGLISH}"
    yield Finding("voices", good=bool(english), told=found, plain=plain)
    if lacks:
        yield Finding("clear voice", good=False, told=lacks)


def engines_here() -> Iterator[Finding]:
    """The installed engines, and how to get the others; one is enough."""
    here = [name for name, (module, _) in _LIBRARIES.items() if find_spec(module)]
    others = "; ".join(
        f"{name} is not here: {remedy}"
        for name, (_, remedy) in _LIBRARIES.items()
        if name not in here
    )
    told = f"{', '.join(here) or 'none'}" + (f" ({others})" if others else "")
    yield Finding("engines", good=bool(here), told=told, plain=f"I can't hear yet; {_INSTALL}")


def vosk(args: Namespace) -> Iterator[Finding]:
    """Whether vosk has its model, which is needed only if the net cannot listen."""
    beside = net_is_here()
    try:
        folder = vosk_model(args.model)
        lacking = Vosk(folder).lacking(grammar_of(frozenset(Group)).words())
    except ModelMissing as missing:
        told = "not needed here, it would listen beside the net" if beside else "nothing listens"
        fetch = f"to fetch its model, run {missing.remedy}"
        plain = f"I can't hear yet; run: {missing.remedy}"
        yield Finding("vosk", good=beside, told=f"{told}; {fetch}", plain=plain)
        return
    except (EngineMissing, ModelError) as refused:
        yield Finding("vosk", good=False, told=str(refused))
        return
    told = (
        "listens beside the net, and asks where it does not agree"
        if beside
        else ("listens alone, and asks before it changes the piece")
    )
    unknown = f"; words it does not know: {', '.join(lacking[:_SHOWN])}" if lacking else ""
    more = f" and {len(lacking) - _SHOWN} more" if len(lacking) > _SHOWN else ""
    yield Finding("vosk", good=True, told=f"{told}, with the model in {folder}{unknown}{more}")


def listening_libraries() -> Iterator[Finding]:
    """Libraries that the listening net lacks; nothing if it lacks none."""
    if lacks := missing():
        plain = f"I can't hear yet: {lacks.partition(': ')[2]}"
        yield Finding("listening", good=False, told=lacks, plain=plain)


def hearing(args: Namespace) -> Iterator[Finding]:
    """Whether the program understands its own voice, and how soon an answer can begin."""
    try:
        began = time.perf_counter()
        ear = Hearing(engines.opened(args))
        warm_up(ear)
        ready_s = time.perf_counter() - began
    except (EngineMissing, BadGrammar, ModelError) as refused:
        yield Finding("recognition", good=False, told=str(refused))
        return
    yield Finding("recognition", good=True, told=f"{ear.name}, ready after {ready_s:.2f} s")
    try:
        with Renderer(Delivery()) as renderer:
            what = ear.decide(renderer.render(SENTENCE))
    except SpeechFailedError:
        return  # reported already
    good = what.text == SENTENCE
    told = f"said {SENTENCE!r} to itself and understood {what.text!r} in {what.seconds:.2f} s"
    other = f"{told}; try another --engine"
    plain = "I don't understand even my own voice: install me again, or type"
    yield Finding("loopback", good=good, told=told if good else other, plain=plain)
    answer_s = EndpointSettings().hang_s + what.seconds
    told = f"an answer begins about {answer_s:.1f} s after your last word"
    slow = f"{told}; close other programs, or choose one look alone: --engine letters"
    soon = answer_s <= SLOWEST_S
    plain = f"I hear you, and answer about {_seconds(answer_s)} after your last word"
    late = f"I answer only {_seconds(answer_s)} after your last word: close other programs"
    yield Finding("latency", good=soon, told=told if soon else slow, plain=plain if soon else late)


def _seconds(time_s: float) -> str:
    whole = max(round(time_s), 1)
    return "a second" if whole == 1 else f"{whole} seconds"


def models() -> Iterator[Finding]:
    """The listed models that are installed; no others are needed."""
    names = ", ".join(model.name for model, _ in installed(None))
    yield Finding("models", good=True, told=names or "none of those listed")
