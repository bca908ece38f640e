"""The state of a piece, and how each event changes it; state is only ever the fold of events."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import reduce

from pattern import events as e
from pattern.alike import prior_like
from pattern.commands import Kind, Signs
from pattern.gauge import (
    DRIFT,
    LEFT_ALONE_CHANGE,
    LOOSENING,
    OTHER_MAKER,
    TENSION_CHANGE,
    TENSION_WIDER,
    Gauge,
    prior,
)
from pattern.piece import Piece, girth_of
from pattern.readings import Reading, Want, learn, learn_look
from pattern.recount import Uncounted, counted, uncounted
from pattern.rounds import Round, Stage
from pattern.settings import Settings, questions, with_answer
from pattern.sides import CORRECT_AT_MOST
from pattern.swatch import Washing, all_learned, learned, to_work
from pattern.yarn import Weighing

QUIET = (e.WordingChosen, e.SpeechChosen, e.Paused, e.Resumed, e.Left, e.RestsChosen,
         e.LeftAlone, e.SignsChosen, e.ReminderChosen, e.ClapsChosen)  # fmt: skip
"""Events that the maker did not mean to change the piece by: undo passes over them."""
BESIDE_UNDO = ("brief", "speech", "paused", "rest_min", "signs", "remind_s", "claps")
"""Fields of the state that undo leaves alone: how the maker is spoken with."""
_GAUGE_KEYS = frozenset({"yarn", "hook_mm", "stitch"})
WEIGHT = "weight"
"""The last thing believed was a weighing, see State.last."""
RECHECK_ROUNDS = 2
"""Rounds by other hands or another hook until the edge shows their own stitches; our choice."""
FINISHING_STEPS = ("end", "fasten", "weave", "shape", "cautions")
"""What is called after the last round."""


@dataclass(frozen=True, slots=True)
class Made:
    """A worked round, linked to the one before it."""

    round: Round
    before: Piece
    """The piece as it was before this round."""
    earlier: Made | None
    counted: int | None = None
    """Stitches that the maker found in it, when they were counted."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading that was believed, linked to the one before it."""

    reading: Reading
    after_round: int
    earlier: Taken | None


@dataclass(frozen=True, slots=True)
class Doubt:
    """What waits for a yes or no: a reading, a count, or the wish to finish."""

    reading: Reading | None = None
    expected_mm: float = 0.0
    count: int | None = None


@dataclass(frozen=True, slots=True)
class State:
    """Everything a session knows."""

    piece: Piece = field(default_factory=Piece)
    stage: Stage = Stage.SETUP
    answered: tuple[str, ...] = ()
    offered: Round | None = None
    sets: int = 0
    want: Want | None = None
    doubt: Doubt | None = None
    made: Made | None = None
    taken: Taken | None = None
    asked_round: int = 0
    """Rounds finished when a reading was last asked for or taken."""
    asks: int = 0
    """Readings asked for in this stage."""
    recheck: int = 0
    """Rounds finished by then, the stitches of other hands or another hook can be measured; 0 for
    none such."""
    seen: bool = False
    """Whether the maker was asked, or has said, how this stage lies."""
    last: Reading | int | str | e.SwatchTaken | None = None
    """What "no, forty" would mend: reading, count, answer, weight or swatch of the last turn."""
    weighed: tuple[Weighing, ...] = ()
    """Weighings of the yarn in hand, the first one first."""
    known: e.GaugeKnown | None = None
    """What another piece taught, where this one began with it."""
    swatches: tuple[e.SwatchTaken, ...] = ()
    """Swatches of this yarn, the first one first."""
    washing: Washing | None = None
    """What washing does, where a swatch told it."""
    wanted: Settings | None = None
    """The maker's answers where washing makes them other than what is worked to."""
    notes: tuple[e.NoteTaken, ...] = ()
    step: int = 0
    brief: bool = False
    speech: e.SpeechChosen = field(default_factory=lambda: e.SpeechChosen(160, 1.0, 0))
    rest_min: int = 30
    """Minutes of work between hints to rest the hands; 0 for none. See CAUTIONS for the default."""
    signs: Signs = Signs.SOUNDS
    claps: bool = False
    """Whether claps count as words."""
    remind_s: int = 90
    """A reading wanted is asked for once more after so many seconds of silence; 0 for never."""
    paused: bool = False
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
        asked = questions(self.settings.shape)
        return next((key for key in asked if key not in self.answered), None)

    def rounds_made(self) -> Iterator[Made]:
        """Worked rounds, the last one first."""
        made = self.made
        while made is not None:
            yield made
            made = made.earlier

    def readings_taken(self) -> Iterator[Taken]:
        """Readings, the last one first."""
        taken = self.taken
        while taken is not None:
            yield taken
            taken = taken.earlier


def fold(state: State, turn: Iterable[e.Event]) -> State:
    """The state after one turn of events; undo later takes back the turn as a whole.

    A turn that mends the one before it ("no, forty") begins by undoing it, and stands in its place.
    """
    turn = tuple(turn)
    quiet = all(isinstance(event, QUIET) for event in turn)
    if quiet or turn == (e.Undone(),) or isinstance(turn[0], e.Begun):
        return reduce(evolve, turn, state)
    after = reduce(evolve, turn, replace(state, last=None))
    return replace(after, undo=evolve(state, turn[0]) if turn[0] == e.Undone() else state)


def evolve(state: State, event: e.Event) -> State:
    """The state after one event."""
    match event:
        case e.QuestionAnswered(key, value):
            return _answered(state, key, with_answer(state.settings, key, value))
        case e.QuestionSkipped(key):
            return replace(state, answered=(*state.answered, key))
        case e.QuestionReopened():
            return replace(state, answered=state.answered[:-1])
        case e.SetupDone():
            return replace(state, stage=Stage.RING)
        case e.RoundOffered(offered, sets):
            return _offered(state, offered, sets)
        case e.RoundFinished():
            return _finished(state)
        case e.SetsWorked(sets):
            return replace(state, sets=sets, last=None)
        case e.YarnWeighed(grams, stitches, fresh):
            last = state.last if fresh else WEIGHT
            weighing = Weighing(grams, stitches, fresh)
            return replace(state, weighed=(*state.weighed, weighing), last=last)
        case e.RoundsTakenBack(rounds):
            return _taken_back(state, rounds)
        case e.StageStarted(stage):
            return _started(state, stage)
        case e.StepDone():
            step = state.step + 1
            done = step >= len(FINISHING_STEPS)
            return replace(state, step=step, stage=Stage.DONE if done else state.stage)
        case e.StepTakenBack():
            return replace(state, step=state.step - 1, stage=Stage.FINISHING)
        case e.WordingChosen(brief):
            return replace(state, brief=brief)
        case e.SpeechChosen():
            return replace(state, speech=event)
        case e.GaugeKnown():
            gauge = prior_like(event, state.settings)
            return replace(state, known=event, piece=replace(state.piece, gauge=gauge))
        case e.SwatchTaken():
            gauge = learned(state.piece.gauge, event, state.swatches)
            return replace(state, piece=replace(state.piece, gauge=gauge), last=event,
                           swatches=(*state.swatches, event))  # fmt: skip
        case e.WashingKnown(width, height):
            return _to_be_worked(replace(state, washing=Washing(width, height)), state.settings)
        case e.TensionChanged():
            gauge = state.piece.gauge.widened(TENSION_WIDER**2).drifted(TENSION_CHANGE)
            return replace(state, piece=replace(state.piece, gauge=gauge))
        case e.MakerChanged():
            gauge = state.piece.gauge.drifted(OTHER_MAKER)
            piece = replace(state.piece, gauge=gauge, sides_known=False)
            return _rechecked(replace(state, piece=piece))
        case e.LeftAlone():
            gauge = state.piece.gauge.drifted(LEFT_ALONE_CHANGE)
            return replace(state, piece=replace(state.piece, gauge=gauge))
        case e.NoteTaken():
            return replace(state, notes=(*state.notes, event), last=None)
        case e.RestsChosen(every_min):
            return replace(state, rest_min=every_min)
        case e.ClapsChosen(on):
            return replace(state, claps=on)
        case e.SignsChosen(signs):
            return replace(state, signs=signs)
        case e.ReminderChosen(after_s):
            return replace(state, remind_s=after_s)
        case e.Paused() | e.Resumed():
            return replace(state, paused=isinstance(event, e.Paused))
        case e.Left() | e.Begun():
            return state
        case e.Undone():
            before = state.undo or state
            return replace(before, **{name: getattr(state, name) for name in BESIDE_UNDO})
    return _measured(state, event)


def _measured(state: State, event: e.Event) -> State:
    """The state after an event about readings, counts and looks."""
    piece, clear = state.piece, replace(state, want=None, doubt=None)
    match event:
        case e.ReadingWanted(kind, stitches):
            asked = replace(state, want=Want(kind, stitches), recheck=_still(state, kind))
            if kind is Kind.LOOK:
                return replace(asked, seen=True)
            return replace(asked, asked_round=piece.finished, asks=state.asks + 1)
        case e.ReadingSkipped():
            return replace(state, want=None)
        case e.ReadingDoubted(reading, expected_mm):
            return replace(state, doubt=Doubt(reading, expected_mm))
        case e.CountDoubted(count):
            return replace(state, doubt=Doubt(count=count))
        case e.FinishDoubted():
            return replace(state, doubt=Doubt())
        case e.DoubtDropped():
            return replace(state, doubt=None)
        case e.ReadingTaken(reading):
            around = reading.kind in {Kind.AROUND, Kind.ALONG} and piece.stage is Stage.SIDES
            known = replace(piece, gauge=learn(piece, reading),
                            sides_known=piece.sides_known or around)  # fmt: skip
            return replace(clear, piece=known, last=reading, asked_round=piece.finished,
                           recheck=_still(state, reading.kind),
                           taken=Taken(reading, piece.finished, state.taken))  # fmt: skip
        case e.LookTaken(look):
            seen = replace(piece, gauge=learn_look(piece, look), look=look)
            want = None if state.want == Want(Kind.LOOK) else state.want
            return replace(clear, piece=seen, seen=True, want=want)
        case e.CountTaken(count):
            made = state.made and replace(state.made, counted=count)
            return replace(state, doubt=None, made=made, last=count,
                           piece=counted(piece, count, _uncounted(state)))  # fmt: skip
    raise TypeError(f"unknown event {event!r}")


def _still(state: State, kind: Kind) -> int:
    """When the edge is to be measured, after it was asked for or measured so."""
    due = kind in {Kind.AROUND, Kind.ALONG} and state.piece.finished >= state.recheck
    return 0 if due else state.recheck


def _uncounted(state: State) -> Uncounted | None:
    """What was worked since the last count; None without a reading around the edge since then."""
    read = next((taken for taken in state.readings_taken()
                 if taken.reading.kind is Kind.AROUND), None)  # fmt: skip
    if read is None:
        return None
    piece = state.piece
    before_part = piece.finished - piece.rounds_in(piece.index)
    sides = piece.stage is Stage.SIDES and read.after_round > before_part
    rounds = ((made.round, made.counted is not None) for made in state.rounds_made())
    return uncounted(rounds, read.reading, read.after_round, sides)


def _offered(state: State, offered: Round, sets: int) -> State:
    called = replace(state, offered=offered, sets=sets, stage=offered.stage)
    return called if state.stage is offered.stage else replace(called, asks=0, seen=False)


def _to_be_worked(state: State, wanted: Settings) -> State:
    """The state with these answers, and the piece with the sizes that washing makes them of."""
    if state.washing is None:
        return replace(state, wanted=None, piece=replace(state.piece, settings=wanted))
    worked = to_work(wanted, state.washing)
    return replace(state, wanted=wanted, piece=replace(state.piece, settings=worked))


def _answered(state: State, key: str, settings: Settings) -> State:
    known = key in _GAUGE_KEYS and key not in state.answered
    if key == "yarn" and not known:
        state = replace(state, swatches=(), washing=None)
    before, state = state, _to_be_worked(state, settings)
    piece = state.piece
    if key in _GAUGE_KEYS:
        piece = replace(piece, gauge=_regauged(before, settings, known))
        if piece.finished:
            state, piece = _rechecked(state), replace(piece, sides_known=False)
    ended = piece.closed == piece.index + 1 and piece.stretch.end_depth_mm is not None
    if key == "depth_mm" and ended:
        piece = replace(piece, closed=piece.index)
    answered = state.answered if key in state.answered else (*state.answered, key)
    weighed = () if key == "yarn" else state.weighed
    return replace(state, piece=piece, answered=answered, last=key, weighed=weighed)


def _rechecked(state: State) -> State:
    """The state in which a reading is wanted when the edge shows the stitches of now."""
    return replace(state, recheck=state.piece.finished + RECHECK_ROUNDS)


def _regauged(state: State, settings: Settings, known: bool) -> Gauge:
    """The gauge for other yarn or hook: the prior, or what was learned, scaled and less sure.

    Where it only becomes `known` with what a swatch was made, the swatch says the same of it.
    """
    piece = state.piece
    if piece.finished == 0 and (known or not state.swatches):
        return all_learned(prior_like(state.known, settings), state.swatches)
    ratio = prior(settings).width_mm / prior(piece.settings).width_mm
    width, height, ring = piece.gauge.mean
    ring += piece.finished * height * (1 - ratio)  # what is worked stays as deep as it is
    scaled = Gauge((width * ratio, height * ratio, ring), piece.gauge.covariance)
    return scaled.drifted(abs(ratio - 1) / 2)


def _finished(state: State) -> State:
    offered, piece = state.offered, state.piece
    if offered is None:
        raise TypeError("no round is offered")
    part = offered.part
    looser = offered.stage in {Stage.SIDES, Stage.TAPER} and piece.rounds_in(part) == 0
    begun = part + 1 - len(piece.worked)
    counts = (*piece.worked, *[0] * begun)
    brim = offered.stage is Stage.BRIM
    worked = replace(
        piece,
        gauge=piece.gauge.drifted(DRIFT + (LOOSENING if looser else 0.0)),
        stage=offered.stage,
        finished=offered.number,
        stitches=offered.after,
        worked=(*counts[:part], counts[part] + 1),
        edges=(*piece.edges, *[piece.stitches] * begun)[:part],
        edge_girth=piece.edge_girth or (girth_of(piece, piece.stitches) if brim else None),
        look=None,
        slip=0,
        sides_known=piece.sides_known and not begun and not _corrected(offered),
    )
    return replace(state, piece=worked, made=Made(offered, piece, state.made), offered=None,
                   sets=0, want=None, doubt=None, last=None)  # fmt: skip


def _corrected(offered: Round) -> bool:
    """Whether the round did all of a correction: one that is capped goes on in the next."""
    change = abs(offered.after - offered.before)
    return 0 < change < max(offered.before // CORRECT_AT_MOST, 1)


def _taken_back(state: State, rounds: int) -> State:
    made, before, offered = state.made, state.piece, state.offered
    for _ in range(rounds):
        if made is None:
            raise TypeError("more rounds taken back than worked")
        before, offered, made = made.before, made.round, made.earlier
    piece = replace(before, gauge=state.piece.gauge, settings=state.piece.settings)
    return replace(state, piece=piece, made=made, offered=offered, sets=0, want=None, doubt=None,
                   step=0, last=None, stage=offered.stage if offered else state.stage,
                   asked_round=min(state.asked_round, piece.finished))  # fmt: skip


def _started(state: State, stage: Stage) -> State:
    piece = state.piece
    if stage is Stage.FINISHING:
        return replace(state, stage=stage, offered=None, sets=0, want=None, doubt=None)
    part = state.offered.part if state.offered is not None else piece.index
    return replace(state, piece=replace(piece, closed=part + 1), want=None)
