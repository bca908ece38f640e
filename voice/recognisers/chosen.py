"""The engines by name, and the recogniser made of those that are wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from importlib.util import find_spec
from pathlib import Path

from voice.ports_hearing import Recogniser
from voice.recognisers.agreement import Agreement, Appeal
from voice.recognisers.engine import Engine, EngineMissing
from voice.recognisers.fusion import Rule

PLAIN = ("moonshine", "sphinx")
"""The unlike engines of `pip install`; the second is asked where the first is in doubt."""
FEWER = ("sphinx", "ctc")
"""Those where no ONNX Runtime or no weights are published for the machine."""
FIRST = Rule(needed=1, weights={"moonshine": 1.0})
WITH_REFEREE = Rule(
    needed=1, weights={"moonshine": 1.279, "sphinx": 0.06747}, bias=-0.4294, absent=2.375e-06,
    favoured=0.0718,
)  # fmt: skip
"""Fitted, with the calibration of the first engine, by `python -m tests.bench hear --fit`: on 180
phrases in quiet and 167 in rooms, 30 from each of the 6 tuning voices, and 340 pieces of other talk
near and far, each falling into the state of a session with its grammar. `absent` is all
but nothing, yet it decides between what the referee found and what it did not."""
WITHOUT_NET = Rule(
    needed=2, weights={"sphinx": 0.8942, "ctc": 0.8822}, bias=0.09706, absent=3.409,
    favoured=0.1211,
)  # fmt: skip
"""Two engines must confirm a command. Fitted, with the calibration of each engine, in the same way
in quiet only, on 288 phrases and 168 sentences.

`needed` is by judgement. Neither the held-out voices of that benchmark nor its hats and texts were
fitted to; after a first look at a table of them the first engine got back its referee. Other
engines are not fitted.
"""
RULES: Mapping[frozenset[str], Rule] = {frozenset(FEWER): WITHOUT_NET}
"""By the engines that listen; others are added up with weights of 1."""


def _sphinx() -> Engine:
    from voice.recognisers.sphinx import Sphinx

    return Sphinx()


def _ctc() -> Engine:
    from voice.recognisers.ctc import Ctc

    return Ctc()


def _moonshine() -> Engine:
    from voice.recognisers.moonshine import Moonshine

    return Moonshine()


def _whisper(folder: Path | None = None) -> Engine:
    from voice.recognisers.whisper import Whisper

    return Whisper(folder)


_MAKERS: dict[str, Callable[[], Engine]] = {
    "sphinx": _sphinx, "ctc": _ctc, "moonshine": _moonshine, "whisper": _whisper
}  # fmt: skip
NAMES = (*_MAKERS, "vosk")
"""Every engine there is; vosk hears alone, in its model's own language."""


def plain() -> tuple[str, ...]:
    """The engines of plain pip on this machine."""
    net = find_spec("onnxruntime") and find_spec("moonshine_voice")
    return PLAIN if net else FEWER


def open_recogniser(
    names: Sequence[str] | None = None, model_folder: Path | None = None
) -> Recogniser:
    """The recogniser of one engine, or of several that must agree; of `plain` where none is named.

    model_folder is that of a whisper or vosk model, where it is not the listed one.
    Raises: EngineMissing; NotAModel, ModelMissing, ModelDamaged for a model that is not whole.
    """
    names = tuple(names or plain())
    for name in names:
        if name not in NAMES or (name == "vosk" and len(names) > 1):
            known = f"{', '.join(_MAKERS)} (several at once), or vosk alone"
            raise EngineMissing(name, f"choose {known}.")
    if names == ("vosk",):
        from voice.recognisers.vosk import Vosk

        return Vosk(model_folder)
    makers = {name: _MAKERS[name] for name in names}
    if "whisper" in makers:
        makers["whisper"] = partial(_whisper, model_folder)
    if set(names) == set(PLAIN):
        return plain_agreement()
    rule = RULES.get(frozenset(names), Rule(min(2, len(names)), {}))
    return Agreement([*makers.values()], rule)


def plain_agreement() -> Agreement:
    """One engine, and the other for what it doubts. Raises: EngineMissing and so on."""
    from voice.recognisers.sphinx import Sphinx

    return Agreement([_moonshine], FIRST, Appeal(Sphinx, WITH_REFEREE))
