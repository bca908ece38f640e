"""The engines by name, and the recogniser made of those that are wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from voice.ports_hearing import Recogniser
from voice.recognisers.agreement import Agreement
from voice.recognisers.engine import Engine, EngineMissing
from voice.recognisers.fusion import Rule

if TYPE_CHECKING:
    from voice.recognisers.moonshine_net import Hears

PLAIN = ("moonshine", "letters")
"""The engines of `pip install`: one net, looked at in two unlike ways."""
FEWER = ("sphinx", "ctc")
"""Those where no ONNX Runtime or no weights are published for the machine."""
IN_TWO_WAYS = Rule(
    needed=1, weights={"moonshine": 0.6156, "letters": 0.3113}, bias=0.00442, absent=0.03252,
    favoured=0.8501,
)  # fmt: skip
"""Fitted, with the calibration of each engine, by `python -m tests.bench hear --fit`: on 240
phrases in quiet, 240 short ones by headset and 1070 in rooms, up to 210 from each of the 8 tuning
voices (without what was not cut out whole), and 340 pieces of other talk near and far, each falling
into the state of a session with its grammar."""
WITHOUT_NET = Rule(
    needed=2, weights={"sphinx": 0.8942, "ctc": 0.8822}, bias=0.09706, absent=3.409,
    favoured=0.1211,
)  # fmt: skip
"""Two engines must confirm a command. Fitted, with the calibration of each engine, in the same way
in quiet only, on 288 phrases and 168 sentences.

`needed` is by judgement. Neither the held-out voices of that benchmark nor its hats and texts were
fitted to. Other engines are not fitted.
"""
RULES: Mapping[frozenset[str], Rule] = {frozenset(FEWER): WITHOUT_NET}
"""By the engines that listen; others are added up with weights of 1."""


def _sphinx() -> Engine:
    from voice.recognisers.sphinx import Sphinx

    return Sphinx()


def _ctc() -> Engine:
    from voice.recognisers.ctc import Ctc

    return Ctc()


def _moonshine(hears: Hears | None = None) -> Engine:
    from voice.recognisers.moonshine import Moonshine

    return Moonshine(hears)


def _letters(hears: Hears | None = None) -> Engine:
    from voice.recognisers.letters import Letters

    return Letters(hears)


_MAKERS: dict[str, Callable[[], Engine]] = {
    "moonshine": _moonshine, "letters": _letters, "sphinx": _sphinx, "ctc": _ctc,
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
    """The recogniser of one engine, or of several together; of `plain` where none is named.

    model_folder is that of a vosk model, where it is not the listed one.
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
    if set(names) == set(PLAIN):
        return plain_agreement()
    rule = RULES.get(frozenset(names), Rule(min(2, len(names)), {}))
    return Agreement([*makers.values()], rule)


def plain_agreement() -> Agreement:
    """The engines of plain pip, which share what hears. Raises: EngineMissing and so on.

    They search by turns: at the same time they would need a tenth more memory, and what is heard
    both must wait for (`python -m tests.bench load`, 273 MB and 305).
    """
    from voice.recognisers.moonshine_net import Hears

    hears = Hears()
    makers = [partial(_moonshine, hears), partial(_letters, hears)]
    return Agreement(makers, IN_TWO_WAYS, by_turns=True)
