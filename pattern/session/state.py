"""Everything a session knows at one moment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from pattern.gauge.swatch import Washing
from pattern.gauge.yarn_use import Weighing
from pattern.plan.piece import Piece
from pattern.plan.readings import Reading, Want
from pattern.plan.trying_on import Means
from pattern.session import events as e
from pattern.session.commands import Signs
from pattern.shape.interview import open_question
from pattern.shape.reading_kinds import Look
from pattern.shape.rounds import Round, Stage
from pattern.shape.settings import Settings
from pattern.trade.decorations import Decoration
from pattern.trade.lengths import Unit
from pattern.trade.own_units import OwnWidths

WEIGHT, RIPPED = "weight", "ripped"
"""The last thing believed was a weighing, or rounds that were ripped back, see State.last."""
FINISHING_STEPS = ("end", "fasten", "weave", "shape", "cautions")
"""Steps that are called after the last round."""
BESIDE_UNDO = ("brief", "speech", "paused", "own", "rest_min", "signs", "remind_s")
"""Fields of the state that undo leaves alone: how the maker is spoken with."""
CALLED_BESIDE = ("decorating", "decorated")
"""Fields that it leaves alone as well: a decoration has steps back of its own."""


@dataclass(frozen=True, slots=True)
class Made:
    """A worked round, linked to the one before it."""

    round: Round
    before: Piece
    """The piece as it was before this round."""
    earlier: Made | None
    counted: int | None = None
    """Stitches that the maker found in it, when they were counted."""
    slipped_before: bool = False
    """Whether a count of an earlier round was not as called."""

    @property
    def slipped(self) -> bool:
        """Whether a count of this round, or of an earlier one, was not as called."""
        return self.slipped_before or self.counted not in {None, self.round.after}


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading that was believed, linked to the one before it."""

    reading: Reading
    after_round: int
    earlier: Taken | None


@dataclass(frozen=True, slots=True)
class Doubt:
    """A doubt that waits for a yes or no: a reading, count, part begun early, or wish to finish."""

    reading: Reading | None = None
    expected_mm: float = 0.0
    count: int | None = None
    start: Stage | None = None
    """The part that is to begin, though it would be much too narrow."""
    unit: Unit | None = None
    """The unit that was said with the reading, where it is not the maker's own yet."""


@dataclass(frozen=True, slots=True)
class State:
    """Everything a session knows."""

    piece: Piece = field(default_factory=Piece)
    stage: Stage = Stage.SETUP
    answered: tuple[str, ...] = ()
    offered: Round | None = None
    sets: int = 0
    want: Want | None = None
    own: OwnWidths = field(default_factory=OwnWidths)
    """Widths of the maker's finger and hand."""
    means: Means = field(default_factory=Means)
    """The tape and the head that there are to measure with."""
    doubt: Doubt | None = None
    made: Made | None = None
    taken: Taken | None = None
    asked_round: int = 0
    """Rounds finished when a reading was last asked for or taken."""
    asks: int = 0
    """Readings asked for in this stage."""
    asks_in_all: int = 0
    """Readings asked for since hands or hook changed."""
    fitted: tuple[str, ...] = ()
    """Sizes that trying on settled."""
    edge_asked: int = 0
    """Rounds finished when it was last asked where the edge ends on the head."""
    recheck: int = 0
    """Rounds finished by then, the stitches of other hands or another hook can be measured; 0 for
    none such."""
    to_count: int = 0
    """The last round whose count was asked for; 0 for none."""
    counts_asked: int = 0
    """Rounds whose count was asked for."""
    seen: bool = False
    """Whether the maker was asked, or has said, how this stage lies."""
    looked: tuple[Look, int] | None = None
    """How the edge was last said to lie, and the rounds that were finished then."""
    look_later: Look | None = None
    """The same, said within a round, for the one after it: a round in work stays as it is."""
    last: Reading | int | str | e.SwatchTaken | None = None
    """The thing that "no, forty" would mend: reading, count, answer, weight, rounds ripped back or
    swatch of the last turn."""
    weighed: tuple[Weighing, ...] = ()
    """Weighings of the yarn in hand, the first one first."""
    known: e.GaugeKnown | None = None
    """The gauge learned on another piece, if this one began with it."""
    swatches: tuple[e.SwatchTaken, ...] = ()
    """Swatches of this yarn, the first one first."""
    washing: Washing | None = None
    """The effect of washing, if a swatch told it."""
    wanted: Settings | None = None
    """The maker's answers where washing makes them other than what is worked to."""
    hooks_before: tuple[tuple[int, float], ...] = ()
    """Hooks that were laid aside, each with the last round worked with it and its size in mm."""
    notes: tuple[e.NoteTaken, ...] = ()
    other_heads_mm: tuple[float, ...] = ()
    """Girths of other heads that the pattern is written for, the smallest first."""
    step: int = 0
    brief: bool = False
    speech: e.SpeechChosen = field(default_factory=lambda: e.SpeechChosen(160, 1.0, 0))
    rest_min: int = 30
    """Minutes of work between hints to rest the hands; 0 for none. See CAUTIONS for the default."""
    signs: Signs = Signs.SOUNDS
    remind_s: int = 90
    """A reading wanted is asked for once more after so many seconds of silence; 0 for never."""
    paused: bool = False
    decorating: e.DecorationCalled | None = None
    """The decoration that is called now, beside the rounds, and its step."""
    decorated: tuple[Decoration, ...] = ()
    """Decorations that were called, the first one first."""
    undo: State | None = None
    """The state before the last turn that changed the piece."""

    @property
    def settings(self) -> Settings:
        """The maker's answers; those of the piece are the sizes to work to, before washing."""
        return self.wanted or self.piece.settings

    @property
    def question(self) -> str | None:
        """The open question of the interview."""
        if self.stage is not Stage.SETUP:
            return None
        return open_question(self.settings, self.answered)

    def rounds_made(self) -> Iterator[Made]:
        """Worked rounds, the last one first."""
        made = self.made
        while made is not None:
            yield made
            made = made.earlier

    @property
    def slips_found(self) -> bool:
        """Whether a count was not as called."""
        return self.made is not None and self.made.slipped

    @property
    def count_left_out(self) -> bool:
        """Whether the last round that was to be counted was worked, and no count of it was told."""
        if not self.to_count:
            return False
        made = next((one for one in self.rounds_made() if one.round.number <= self.to_count), None)
        return made is not None and made.round.number == self.to_count and made.counted is None

    def readings_taken(self) -> Iterator[Taken]:
        """Readings, the last one first."""
        taken = self.taken
        while taken is not None:
            yield taken
            taken = taken.earlier
