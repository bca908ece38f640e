"""How each kind of part is drawn and told of in a picture, one row each."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.shape.profile import profile
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings


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


def outline_words(settings: Settings) -> str:
    """The shape in words, such as "a flat crown, straight sides and a brim that slopes down"."""
    said, before_mm = [], 0.0
    for stretch in profile(settings):
        wider = stretch.end_girth_mm > before_mm
        words = OUTLINES[stretch.stage].words(wider=wider).format(stretch.called)
        one = not words.startswith("a ") and not stretch.called.endswith("s")
        said.append(f"{_article(words)} {words}" if one else words)
        before_mm = stretch.end_girth_mm
    return " and ".join(filter(None, (", ".join(said[:-1]), said[-1])))


def _article(words: str) -> str:
    return "an" if words[0] in "aeiou" else "a"
