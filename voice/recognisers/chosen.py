"""The engines by name, and the recogniser made of those that are wanted."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from voice.models.model_errors import ModelMissing
from voice.models.model_list import Engine, Use, listed
from voice.models.models import installed, locate
from voice.recognisers.agreement import Agreement, Look
from voice.recognisers.engine import EngineMissing, NothingListens
from voice.recognisers.fusion import Rule
from voice.recognisers.net.letters import Letters
from voice.recognisers.net.moonshine import Moonshine
from voice.recognisers.net.moonshine_net import Hears
from voice.recognisers.recogniser import Recogniser
from voice.recognisers.third_look import ThirdLook
from voice.recognisers.vosk import Vosk

NET = ("moonshine", "letters")
"""The two unlike looks at the one net."""
NAMES = (*NET, "vosk")
"""Every engine there is."""
IN_TWO_WAYS = Rule(
    weights={"moonshine": 0.3427, "letters": 0.577},
    bias=0.5493,
    absent=0.0,
    favoured=0.5909,
)
"""Fitted, with the calibration of each look, by `python -m tests.bench hear --fit`: on 180 phrases
in quiet, 180 short ones by headset and 793 in rooms, up to 210 from each of 6 tuning voices
(without those not cut out whole), and 340 pieces of other talk near and far, each falling into
the state of a session with its grammar. Neither the held-out voices of that benchmark nor its hats
and texts were fitted to. A look alone is not fitted.
"""


def net_is_here() -> bool:
    """True where the net and the runtime it needs are installed."""
    return bool(find_spec("onnxruntime") and find_spec("moonshine_voice"))


def vosk_model(given: Path | None = None) -> Path:
    """The folder of vosk's model: one that was named, else a listed one in English that is here.

    Raises: NotAModel, ModelMissing.
    """
    english = [
        model.name
        for model in listed()
        if model.engine is Engine.VOSK
        and model.use is Use.LISTENING
        and model.language.startswith("en")
    ]
    here = {model.name for model, _ in installed()}
    return locate(next((name for name in english if name in here), english[0]), given)


def usual(given: Path | None = None) -> tuple[str, ...]:
    """The engines that listen where none is chosen: the net where it can, vosk where its model is.

    Raises: NothingListens where that is none; NotAModel.
    """
    here = NET if net_is_here() else ()
    try:
        vosk_model(given)
    except ModelMissing as missing:
        if not here:
            library = "" if find_spec("vosk") else "pip install vosk, then "
            raise NothingListens(f"{library}{missing.remedy}") from missing
        return here
    return (*here, "vosk") if find_spec("vosk") or given or not here else here


def open_recogniser(
    names: Sequence[str] | None = None, model_folder: Path | None = None
) -> Recogniser:
    """The recogniser of one engine, or of several together; of `usual` where none is named.

    model_folder is that of a vosk model, where it is not a listed one.
    Raises: EngineMissing; NotAModel, ModelMissing, ModelDamaged for a model that is not whole;
    BadGrammar for one of another language.
    """
    names = tuple(names or usual(model_folder))
    for name in names:
        if name not in NAMES:
            raise EngineMissing(name, f"choose {', '.join(NAMES)}, or several joined by +.")
    looks = [name for name in names if name in NET]
    if "vosk" not in names:
        return net(looks)
    vosk = Vosk(vosk_model(model_folder))
    return ThirdLook(net(looks), vosk) if looks else vosk


def net(names: Sequence[str] = NET) -> Agreement:
    """Looks that share the net. Raises: EngineMissing, ModelMissing, ModelDamaged."""
    hears = Hears()
    makers: dict[str, type[Look]] = {"moonshine": Moonshine, "letters": Letters}
    looks = [makers[name](hears) for name in dict.fromkeys(names)]
    return Agreement(looks, IN_TWO_WAYS if len(looks) > 1 else Rule({}))
