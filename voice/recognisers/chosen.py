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
    needed=2, weights={"sphinx": 0.7768, "ctc": 0.7617}, bias=0.8534, absent=0.6921, backed=-6.0
)
"""Two engines must confirm a command.

Fitted, with the calibration of either engine, on 270 synthetic phrases (45 from each of the first
6 tuning voices) and 280 pieces of prose (8.3 minutes, the tuning text), each in the state of a
session and with its grammar, by the functions of `python -m tests.bench hear --fit`, on a sample
taken before engines of one mind stopped judging each other. The weight of prose, 0.1, was chosen
of 0.03, 0.1, 0.3 and 1 on these same data: see `PROSE_WEIGHT` in the bench. `needed` and `backed`
are by judgement; a least score from each engine, or before what the session expects, lost more
phrases than it kept out prose. The held-out voices, hats and texts of that benchmark were not
looked at for any of this. A third engine is not fitted.
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
