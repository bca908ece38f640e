"""The engines by name, and the recogniser made of those that are wanted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from voice.ports_hearing import Recogniser
from voice.recognisers.agreement import Agreement, Rule
from voice.recognisers.engine import Alone, Engine, EngineMissing

PLAIN = ("sphinx", "ctc")
"""The two unlike engines that come with `pip install`."""
RULE = Rule(
    needed=2, weights={"sphinx": 0.7147, "ctc": 0.9051}, bias=1.14, absent=2.356, backed=-6.0
)
"""Two engines must confirm a command.

Fitted, with the calibration of either engine, by `python -m tests.bench hear --fit`: on 360
synthetic phrases (45 from each of the 8 tuning voices) and 249 pieces of prose (7.1 minutes: every
second piece of the tuning text, read by the first 3 tuning readers), each in the state of a session
and with its grammar. `needed` and `backed` are by judgement; a least score from each engine, or
before what the session expects, lost more phrases than it kept out prose, and a bias half a unit
lower kept out 3 of 4 pieces of prose that changed the piece, at the cost of 1 phrase in 100. The
held-out voices, hats and texts of that benchmark were not looked at for any of this. A third engine
is not fitted.
"""


def _sphinx() -> Engine:
    from voice.recognisers.sphinx import Sphinx

    return Sphinx()


def _ctc() -> Engine:
    from voice.recognisers.ctc import Ctc

    return Ctc()


def _whisper(folder: Path | None = None) -> Engine:
    from voice.recognisers.whisper import Whisper

    return Whisper(folder)


_MAKERS: dict[str, Callable[[], Engine]] = {"sphinx": _sphinx, "ctc": _ctc, "whisper": _whisper}
NAMES = (*_MAKERS, "vosk")
"""Every engine there is; vosk hears alone, in its model's own language."""


def open_recogniser(names: Sequence[str] = PLAIN, model_folder: Path | None = None) -> Recogniser:
    """The recogniser of one engine, or of several that must agree.

    model_folder is that of a whisper or vosk model, where it is not the listed one.
    Raises: EngineMissing; NotAModel, ModelMissing, ModelDamaged for a model that is not whole.
    """
    for name in names:
        if name not in NAMES or (name == "vosk" and len(names) > 1):
            known = f"{', '.join(_MAKERS)} (several at once), or vosk alone"
            raise EngineMissing(name, f"choose {known}.")
    if tuple(names) == ("vosk",):
        from voice.recognisers.vosk import Vosk

        return Vosk(model_folder)
    makers = [
        partial(_whisper, model_folder) if name == "whisper" else _MAKERS[name] for name in names
    ]
    return Alone(makers[0]()) if len(makers) == 1 else Agreement(makers, RULE)
