"""What has happened; nothing else is kept, and the state is the fold of it."""

from __future__ import annotations

from dataclasses import dataclass

from pattern.commands import Kind, Look
from pattern.gauge import Gauge
from pattern.readings import Reading
from pattern.rounds import Round, Stage
from pattern.settings import Answered
from pattern.tables import Stitch


@dataclass(frozen=True, slots=True)
class Begun:
    """A new piece; what was answered beforehand follows, and is not taken back by undo."""


@dataclass(frozen=True, slots=True)
class GaugeKnown:
    """The gauge that was learned on another piece, and with what; said at the beginning."""

    piece: str
    gauge: Gauge
    yarn: int
    hook_mm: float
    stitch: Stitch


@dataclass(frozen=True, slots=True)
class QuestionAnswered:
    """A setting got a value; in the interview its question is closed."""

    key: str
    value: Answered


@dataclass(frozen=True, slots=True)
class QuestionSkipped:
    """A question of the interview was left at its default."""

    key: str


@dataclass(frozen=True, slots=True)
class QuestionReopened:
    """The last question is asked again."""


@dataclass(frozen=True, slots=True)
class SetupDone:
    """The interview is over."""


@dataclass(frozen=True, slots=True)
class RoundOffered:
    """The round called now; `sets` of its repeats are worked already."""

    round: Round
    sets: int = 0


@dataclass(frozen=True, slots=True)
class RoundFinished:
    """The offered round was worked as called."""


@dataclass(frozen=True, slots=True)
class SetsWorked:
    """Repeats of the offered round worked so far."""

    sets: int


@dataclass(frozen=True, slots=True)
class ReadingWanted:
    """A reading was asked for."""

    kind: Kind
    stitches: int | None = None


@dataclass(frozen=True, slots=True)
class ReadingSkipped:
    """The maker left the reading out."""


@dataclass(frozen=True, slots=True)
class ReadingDoubted:
    """A reading far from what was expected was read back."""

    reading: Reading
    expected_mm: float


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A reading was believed."""

    reading: Reading


@dataclass(frozen=True, slots=True)
class CountDoubted:
    """A count far from what the round should have was read back."""

    count: int


@dataclass(frozen=True, slots=True)
class CountTaken:
    """The last finished round has so many stitches."""

    count: int


@dataclass(frozen=True, slots=True)
class FinishDoubted:
    """To finish was asked with rounds still planned."""


@dataclass(frozen=True, slots=True)
class DoubtDropped:
    """What was in doubt is not so."""


@dataclass(frozen=True, slots=True)
class LookTaken:
    """The maker said how the fabric lies."""

    look: Look


@dataclass(frozen=True, slots=True)
class YarnWeighed:
    """So much yarn was there when so many stitches were worked; see Weighing."""

    grams: float
    stitches: int
    fresh: bool


@dataclass(frozen=True, slots=True)
class NoteTaken:
    """The maker's words, and the round they were said at; 0 before the first."""

    text: str
    round: int


@dataclass(frozen=True, slots=True)
class TensionChanged:
    """The maker said that the stitches come out another size now."""


@dataclass(frozen=True, slots=True)
class LeftAlone:
    """The piece was taken up again after so long that the hands may have changed."""

    days: float


@dataclass(frozen=True, slots=True)
class RoundsTakenBack:
    """Rounds are no longer worked: ripped out, or never finished."""

    rounds: int
    ripped: bool


@dataclass(frozen=True, slots=True)
class StageStarted:
    """The maker, or the plan, ended what came before this stage."""

    stage: Stage


@dataclass(frozen=True, slots=True)
class StepDone:
    """A step of the finishing is done."""


@dataclass(frozen=True, slots=True)
class StepTakenBack:
    """A step of the finishing is to be said again."""


@dataclass(frozen=True, slots=True)
class WordingChosen:
    """Brief or full wording from now on."""

    brief: bool


@dataclass(frozen=True, slots=True)
class SpeechChosen:
    """How sentences are spoken from now on."""

    rate_wpm: int
    volume: float
    """0 to 1."""
    voice: int
    """Which of the voices that there are, counted round."""


@dataclass(frozen=True, slots=True)
class RestsChosen:
    """A hint to rest the hands after so many minutes of work from now on; 0 for none."""

    every_min: int


@dataclass(frozen=True, slots=True)
class Paused:
    """Nothing said counts until resumed."""


@dataclass(frozen=True, slots=True)
class Resumed:
    """What is said counts again."""


@dataclass(frozen=True, slots=True)
class Left:
    """The maker put the piece away."""


@dataclass(frozen=True, slots=True)
class Undone:
    """The last turn that changed the piece counts no more."""


Event = (
    Begun | QuestionAnswered | QuestionSkipped | QuestionReopened | SetupDone | RoundOffered
    | RoundFinished | SetsWorked | ReadingWanted | ReadingSkipped | ReadingDoubted | ReadingTaken
    | CountDoubted | CountTaken | FinishDoubted | DoubtDropped | LookTaken | RoundsTakenBack
    | StageStarted | StepDone | StepTakenBack | WordingChosen | SpeechChosen | Paused | Resumed
    | Left | Undone
    | YarnWeighed | RestsChosen | NoteTaken | TensionChanged | LeftAlone
    | GaugeKnown
)  # fmt: skip
