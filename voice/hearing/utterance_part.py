"""How much of what was said an utterance holds."""

from __future__ import annotations

from enum import Enum


class Part(Enum):
    """How much of what was said an utterance holds."""

    WHOLE = "whole"
    TAIL = "tail"
    """Its beginning was said while the program spoke: "sixty two" may be left as "two"."""
    REST = "rest"
    """It began no longer after the program, or after a sound taken for its echo or that nothing was
    made of, than words of one phrase are apart: before "thirty one" there may have been "count"."""
    ECHO = "echo"
    """Nothing but the end of what the program said."""

    @property
    def complete(self) -> bool:
        """Whether it holds an utterance to act on, as far as one can tell."""
        return self in {Part.WHOLE, Part.REST}
