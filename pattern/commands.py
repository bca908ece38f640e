"""What may be asked of a session; a command can be refused."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pattern.lengths import Amount
from pattern.settings import Answered
from pattern.tables import Sex


class Kind(StrEnum):
    """What a reading measures."""

    ACROSS = "across"
    CORNERS = "corners"
    """Across the corners of a crown whose increases are stacked."""
    AROUND = "around"
    ALONG = "along"
    """A number of stitches along the edge."""
    DEPTH = "depth"
    """From the centre down along the cloth."""
    BRIM = "brim"
    """Width of the brim along the cloth."""
    LOOK = "look"
    """No tape: how the fabric lies, see Look."""


class Look(StrEnum):
    """How the fabric lies."""

    FLAT = "flat"
    RIPPLES = "ripples"
    CUPS = "cups"


class Asked(StrEnum):
    """Things to be told; nothing changes by asking."""

    AGAIN = "again"
    WHERE = "where"
    HOW_MANY = "how many"
    STITCHES = "stitches"
    ROUNDS = "rounds"
    READING = "reading"
    WHAT_NEXT = "what next"
    YARN = "yarn"
    ENOUGH = "enough"
    TIME_LEFT = "time left"
    CROWN_TIME = "crown time"


@dataclass(frozen=True, slots=True)
class Next:
    """The offered round, or step, is done."""


@dataclass(frozen=True, slots=True)
class Ask:
    """Tell me something."""

    what: Asked


@dataclass(frozen=True, slots=True)
class Help:
    """What can I say, or how do I do something."""

    topic: str = ""


@dataclass(frozen=True, slots=True)
class Back:
    """One step back: a repeat in the round, or the last round is offered again."""


@dataclass(frozen=True, slots=True)
class Sets:
    """Repeats worked in this round: in all, or so many more."""

    count: int
    more: bool = False


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading from the tape; without a kind, the one that the stage makes likely."""

    amount: Amount
    kind: Kind | None = None
    stitches: int | None = None
    """How many stitches lie in the length, for a reading along the edge."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A bare number or length: it answers what was asked."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class Choose:
    """A word that answers a question of the interview, or changes the answer later."""

    key: str
    value: Answered


@dataclass(frozen=True, slots=True)
class Change:
    """A number of the interview is to be another."""

    key: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class Adjust:
    """Depth or brim width is to be more or less by a length."""

    key: str
    amount: Amount
    less: bool = False


@dataclass(frozen=True, slots=True)
class HeadOf:
    """A head that is not measured: by age and sex; an adult where no age is given."""

    age_years: float | None = None
    sex: Sex | None = None


@dataclass(frozen=True, slots=True)
class Counted:
    """Stitches found in the last finished round."""

    count: int


@dataclass(frozen=True, slots=True)
class LostAt:
    """The place is lost: stitches seen in the round, or plain ones between its increases."""

    count: int
    between: bool = False


@dataclass(frozen=True, slots=True)
class RippedBack:
    """So many rounds were taken out."""

    rounds: int


@dataclass(frozen=True, slots=True)
class Weighed:
    """Yarn that is left, from the scales."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class HaveBalls:
    """Yarn that there is, in balls."""

    amount: Amount


@dataclass(frozen=True, slots=True)
class Undo:
    """Take back the last thing said that changed something."""


@dataclass(frozen=True, slots=True)
class Lies:
    """How the fabric lies."""

    look: Look


@dataclass(frozen=True, slots=True)
class StartSides:
    """Stop increasing now."""


@dataclass(frozen=True, slots=True)
class StartBrim:
    """The sides are deep enough."""


@dataclass(frozen=True, slots=True)
class FinishNow:
    """End the piece here."""


@dataclass(frozen=True, slots=True)
class Begin:
    """Take the defaults for what was not asked yet."""


@dataclass(frozen=True, slots=True)
class Yes:
    """Confirm what is in doubt."""


@dataclass(frozen=True, slots=True)
class No:
    """Not so; with an amount, the right one."""

    amount: Amount | None = None


@dataclass(frozen=True, slots=True)
class Skip:
    """Leave the question unanswered."""


@dataclass(frozen=True, slots=True)
class Wording:
    """Brief or full wording."""

    brief: bool


class Manner(StrEnum):
    """A change in how sentences are spoken."""

    SLOWER = "slower"
    FASTER = "faster"
    LOUDER = "louder"
    QUIETER = "quieter"
    OTHER_VOICE = "other voice"


@dataclass(frozen=True, slots=True)
class Speak:
    """Speak otherwise from now on."""

    manner: Manner


@dataclass(frozen=True, slots=True)
class Rests:
    """How often to be told to rest the hands; 0 for never."""

    every_min: int


@dataclass(frozen=True, slots=True)
class Note:
    """Something to be written up, in the maker's own words."""

    text: str


@dataclass(frozen=True, slots=True)
class Tension:
    """The maker works tighter or looser than before."""


@dataclass(frozen=True, slots=True)
class Pause:
    """Nothing said counts until resumed."""


@dataclass(frozen=True, slots=True)
class Resume:
    """Go on."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Save and leave; everything is kept already."""


Command = (
    Next | Ask | Help | Back | Sets | Measured | Answer | Choose | Change | Adjust | HeadOf
    | Counted | RippedBack | Undo | Lies | StartSides | StartBrim | FinishNow | Begin | Yes | No
    | Skip | Wording | Speak | Pause | Resume | Leave | Weighed | HaveBalls
    | Rests | Note | LostAt | Tension
)  # fmt: skip
