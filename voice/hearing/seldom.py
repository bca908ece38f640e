"""Commands that are given a few times in a hat."""

from __future__ import annotations

from pattern.session.commands import (
    AlsoFor,
    Another,
    ByHand,
    Decorate,
    Fabric,
    HaveBalls,
    HeadSize,
    HeadThere,
    Leave,
    LostAt,
    NewBall,
    Note,
    OneSize,
    OtherHands,
    OwnWidth,
    RemindAfter,
    Rests,
    Signal,
    Swatch,
    TapeThere,
    Tension,
    Wording,
)

SELDOM = (
    HaveBalls,
    Note,
    Rests,
    Tension,
    LostAt,
    Swatch,
    Fabric,
    OtherHands,
    NewBall,
    HeadSize,
    Another,
    Signal,
    RemindAfter,
    AlsoFor,
    OneSize,
    TapeThere,
    HeadThere,
    OwnWidth,
    ByHand,
    Decorate,
    Leave,
    Wording,
)
"""Each weighs no more than what is rarely said."""
