"""The engines by name, and the recogniser made of those that are wanted."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from voice.models import locate
from voice.ports_hearing import Recogniser
from voice.recognisers.agreement import Agreement, Look
from voice.recognisers.engine import EngineMissing
from voice.recognisers.fusion import Rule
from voice.recognisers.letters import Letters
from voice.recognisers.moonshine import Moonshine
from voice.recognisers.moonshine_net import Hears
from voice.recognisers.vosk import Vosk

NET = ("moonshine", "letters")
"""One net, looked at in two unlike ways."""
NAMES = (*NET, "vosk")
"""Every engine there is."""
VOSK_MODEL = "vosk-model-small-en-us-0.15"
"""The listed model, for where no folder is named."""
IN_TWO_WAYS = Rule(
    weights={"moonshine": 0.6156, "letters": 0.3113}, bias=0.00442, absent=0.03252,
    favoured=0.8501,
)  # fmt: skip
"""Fitted, with the calibration of each look, by `python -m tests.bench hear --fit`: on 240 phrases
in quiet, 240 short ones by headset and 1070 in rooms, up to 210 from each of the 8 tuning voices
(without what was not cut out whole), and 340 pieces of other talk near and far, each falling into
the state of a session with its grammar. Neither the held-out voices of that benchmark nor its hats
and texts were fitted to. A look alone is not fitted.
"""


def net_is_here() -> bool:
    """Whether the net, and what runs it, are published for this machine and installed."""
    return bool(find_spec("onnxruntime") and find_spec("moonshine_voice"))


def open_recogniser(
    names: Sequence[str] | None = None, model_folder: Path | None = None
) -> Recogniser:
    """The recogniser of one engine, or of several together.

    model_folder is that of a vosk model, where it is not the listed one.
    Raises: EngineMissing; NotAModel, ModelMissing, ModelDamaged for a model that is not whole.
    """
    names = tuple(names or NET)
    for name in names:
        if name not in NAMES or (name == "vosk" and len(names) > 1):
            raise EngineMissing(name, f"choose {', '.join(NET)} (or both), or vosk alone.")
    if names == ("vosk",):
        return Vosk(locate(VOSK_MODEL, model_folder))
    return net(names)


def net(names: Sequence[str] = NET) -> Agreement:
    """Looks at the net, which share what hears. Raises: EngineMissing, ModelMissing, ModelDamaged.
    """
    hears = Hears()
    makers: dict[str, type[Look]] = {"moonshine": Moonshine, "letters": Letters}
    looks = [makers[name](hears) for name in dict.fromkeys(names)]
    return Agreement(looks, IN_TWO_WAYS if len(looks) > 1 else Rule({}))
