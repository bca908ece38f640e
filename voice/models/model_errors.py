"""Errors of speech models, as classes with named fields; each message says what to do."""

# ruff: noqa: N818  (a name says what happened, as in NoConnection)

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from pattern.errors import RoundsAloudError


class ModelError(RoundsAloudError):
    """A speech model, or the list of them, that cannot be used."""

    meanwhile: ClassVar[str] = "nothing else is changed"


@dataclass(eq=False)
class ListMissing(ModelError):
    """The list of models came neither with the checkout nor with the installed package."""

    says = "The list of speech models, models.txt, is missing; install rounds-aloud again."


@dataclass(eq=False)
class ListFault(ModelError):
    """The list of models breaks its own rules."""

    path: Path
    line: int
    """Counted from 1; the first line of the model when a key is missing."""
    key: str
    why: str

    says = "Line {self.line} of {self.path} must be put right: {self.key} {self.why}."


@dataclass(eq=False)
class NoSuchModel(ModelError):
    """A name that is not in the list."""

    name: str
    known: tuple[str, ...]

    @property
    def listed(self) -> str:
        """The names that are in the list."""
        return ", ".join(self.known)

    says = "No model is called {self.name!r}; choose one of {self.listed}."


@dataclass(eq=False)
class ModelMissing(ModelError):
    """A listed model that is not on this machine."""

    name: str
    remedy: str
    """The command that brings it."""

    says = "The model {self.name} is not on this machine; run: {self.remedy}"


@dataclass(eq=False)
class NotAModel(ModelError):
    """A folder that was named as a vosk model and holds none."""

    folder: Path
    asked_by: str
    """The option or environment variable that named it."""

    says = (
        "{self.folder} holds no vosk model (am/final.mdl and conf/mfcc.conf); "
        "correct {self.asked_by}, or leave it out."
    )


@dataclass(eq=False)
class ModelDamaged(ModelError):
    """A model on this machine that is not what the list says."""

    name: str
    path: Path
    why: str
    remedy: str
    """The command that brings it back."""

    says = "The model {self.name} at {self.path} {self.why}; run: {self.remedy}"


@dataclass(eq=False)
class ComesWithPackage(ModelError):
    """A model that is installed, not fetched."""

    name: str
    remedy: str
    """The command that brings it."""

    says = "The model {self.name} is installed, not fetched; run: {self.remedy}"


@dataclass(eq=False)
class NoConnection(ModelError):
    """The server could not be reached."""

    name: str
    url: str
    why: str

    says = (
        "{self.name} was not fetched because {self.url} cannot be reached ({self.why}): "
        "{self.meanwhile}, and you can try again when there is a network."
    )


@dataclass(eq=False)
class ServerRefused(ModelError):
    """The server was reached and did not hand the archive over."""

    name: str
    url: str
    answer: str

    says = (
        "{self.name} was not fetched because {self.url} answered {self.answer}: "
        "{self.meanwhile}, and you can try again later."
    )


@dataclass(eq=False)
class BrokenOff(ModelError):
    """The transfer ended early; the bytes that came are kept."""

    name: str
    done_bytes: int
    size_bytes: int
    why: str

    says = (
        "Only {self.done_bytes} of the {self.size_bytes} bytes of {self.name} came "
        "({self.why}): {self.meanwhile}, and the same command fetches the rest."
    )


@dataclass(eq=False)
class BadArchive(ModelError):
    """The archive is not the listed one, or must not be unpacked; it was thrown away."""

    name: str
    why: str

    says = (
        "The archive of {self.name} was thrown away because {self.why}: {self.meanwhile}, "
        "and you can fetch it again; report it if that changes nothing."
    )


@dataclass(eq=False)
class CannotKeep(ModelError):
    """The folder for models cannot be written, or another fetch has it."""

    folder: Path
    why: str

    says = (
        "The model cannot be kept in {self.folder} ({self.why}); "
        "put that right or name another folder, then try again."
    )
