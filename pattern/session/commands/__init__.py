"""Commands to a session; a command can be refused."""

from __future__ import annotations

from pattern.session.commands.answers import (
    Adjust,
    AlsoFor,
    Answer,
    Begin,
    Change,
    Choose,
    EveryQuestion,
    HeadOf,
    No,
    OneSize,
    Skip,
    Yes,
)
from pattern.session.commands.asking import Ask, Asked, Explain, HeadSize, Help
from pattern.session.commands.decorating import Decorate, Enough
from pattern.session.commands.fitting import HeadThere, TapeThere, TriedOn
from pattern.session.commands.manner import (
    Leave,
    Manner,
    Note,
    Pause,
    RemindAfter,
    Rests,
    Resume,
    Signal,
    Signs,
    Speak,
    Wording,
)
from pattern.session.commands.measuring import (
    Cloth,
    Counted,
    CountedIn,
    Fabric,
    HaveBalls,
    Lies,
    LostAt,
    Measured,
    Swatch,
    Weighed,
)
from pattern.session.commands.touch import ByHand, OwnWidth, StringOff
from pattern.session.commands.work import (
    Another,
    Back,
    FinishNow,
    GoOn,
    NewBall,
    Next,
    OtherHands,
    RippedBack,
    Sets,
    StartBrim,
    StartNext,
    StartSides,
    Tension,
    Undo,
)
from pattern.shape.fits import Fit
from pattern.shape.reading_kinds import Kind, Look
from pattern.trade.decorations import Decoration
from pattern.trade.own_units import OwnUnit

Command = (
    Next
    | GoOn
    | Ask
    | Explain
    | Help
    | Back
    | Sets
    | Measured
    | Answer
    | Choose
    | Change
    | Adjust
    | HeadOf
    | Counted
    | RippedBack
    | Undo
    | Lies
    | StartSides
    | StartBrim
    | StartNext
    | FinishNow
    | Begin
    | EveryQuestion
    | Yes
    | No
    | Skip
    | Wording
    | Speak
    | Pause
    | Resume
    | Leave
    | Weighed
    | HaveBalls
    | Rests
    | Note
    | LostAt
    | Tension
    | Signal
    | RemindAfter
    | Swatch
    | Fabric
    | OtherHands
    | NewBall
    | CountedIn
    | HeadSize
    | Another
    | AlsoFor
    | OneSize
    | TriedOn
    | TapeThere
    | HeadThere
    | OwnWidth
    | StringOff
    | ByHand
    | Decorate
    | Enough
)
