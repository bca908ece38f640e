"""Events of a session; nothing else is kept, and the state is the fold of them."""

from __future__ import annotations

from pattern.gauge.gauge_events import GaugeKnown, SwatchTaken, WashingKnown
from pattern.session.events.decorating import DecorationCalled, DecorationEnded
from pattern.session.events.fitting import MeansKnown, OwnWidthKnown, SizeFitted
from pattern.session.events.interview import (
    Begun,
    QuestionAnswered,
    QuestionReopened,
    QuestionSkipped,
    SetupDone,
    SizesChosen,
)
from pattern.session.events.manner import (
    ClapsChosen,
    Left,
    NoteTaken,
    Paused,
    ReminderChosen,
    RestsChosen,
    Resumed,
    SignsChosen,
    SpeechChosen,
    WordingChosen,
)
from pattern.session.events.readings import (
    CountDoubted,
    CountTaken,
    DoubtDropped,
    FinishDoubted,
    LeftAlone,
    LookTaken,
    MakerChanged,
    ReadingDoubted,
    ReadingSkipped,
    ReadingTaken,
    ReadingWanted,
    StartDoubted,
    TensionChanged,
    YarnWeighed,
)
from pattern.session.events.work import (
    RoundFinished,
    RoundOffered,
    RoundsTakenBack,
    SetsWorked,
    StageStarted,
    StepDone,
    StepTakenBack,
    Undone,
)

Event = (
    Begun
    | QuestionAnswered
    | QuestionSkipped
    | QuestionReopened
    | SetupDone
    | RoundOffered
    | RoundFinished
    | SetsWorked
    | ReadingWanted
    | ReadingSkipped
    | ReadingDoubted
    | ReadingTaken
    | CountDoubted
    | CountTaken
    | FinishDoubted
    | DoubtDropped
    | LookTaken
    | RoundsTakenBack
    | StageStarted
    | StepDone
    | StepTakenBack
    | WordingChosen
    | SpeechChosen
    | Paused
    | Resumed
    | Left
    | Undone
    | YarnWeighed
    | RestsChosen
    | NoteTaken
    | TensionChanged
    | LeftAlone
    | GaugeKnown
    | SignsChosen
    | ReminderChosen
    | SwatchTaken
    | WashingKnown
    | MakerChanged
    | ClapsChosen
    | SizesChosen
    | StartDoubted
    | SizeFitted
    | MeansKnown
    | OwnWidthKnown
    | DecorationCalled
    | DecorationEnded
)
