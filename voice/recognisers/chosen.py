"""The engines by name, and the recogniser made of those that are wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from importlib.util import find_spec
from pathlib import Path

from voice.ports_hearing import Recogniser
from voice.recognisers.agreement import Agreement
from voice.recognisers.engine import Engine, EngineMissing
from voice.recognisers.fusion import Rule

PLAIN = ("moonshine",)
"""The engine of `pip install`."""
FEWER = ("sphinx", "ctc")
"""Those where no ONNX Runtime or no weights are published for the machine."""
WITHOUT_NET = Rule(
    needed=2, weights={"sphinx": 0.8942, "ctc": 0.8822}, bias=0.09706, absent=3.409,
    favoured=0.1211,
)  # fmt: skip
"""Two engines must confirm a command.

Fitted, as the calibration of each of them was, by an earlier form of `python -m tests.bench hear
--fit`: on phrases of the tuning voices and sentences of the tuning text, in quiet. `needed` is by
judgement. The held-out voices, hats and texts of that benchmark were not looked at for this.
"""
RULES: Mapping[frozenset[str], Rule] = {
    frozenset(FEWER): WITHOUT_NET,
}  # fmt: skip
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
    return agreement(names, model_folder)


def agreement(names: Sequence[str], model_folder: Path | None = None) -> Agreement:
    """Engines that listen to whole utterances, vosk not among them. Raises: as above."""
    makers = {name: _MAKERS[name] for name in names}
    if "whisper" in makers:
        makers["whisper"] = partial(_whisper, model_folder)
    rule = RULES.get(frozenset(names), Rule(min(2, len(names)), {}))
    return Agreement([*makers.values()], rule)
