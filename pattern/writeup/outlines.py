"""How each kind of part is drawn and told of in a picture, one row each."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.rounds import Stage


@dataclass(frozen=True, slots=True)
class Outline:
    """The words for the outline of a part; its name goes where the braces are."""

    said: str
    narrower: str | None = None
    """The same of one that gets narrower, where that is another."""

    def words(self, *, wider: bool) -> str:
        """The words for a part that gets wider, or does not."""
        return self.said if wider or self.narrower is None else self.narrower


OUTLINES: dict[Stage, Outline] = {
    Stage.CROWN: Outline("a flat {}"),
    Stage.DOME: Outline("a round {}"),
    Stage.SIDES: Outline("straight {}"),
    Stage.TAPER: Outline("{} getting wider", "{} getting narrower"),
    Stage.BRIM: Outline("a {} that slopes down"),
    Stage.BALL: Outline("a {}, round all over"),
}
"""The outline of each kind of part."""
