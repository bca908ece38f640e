"""Measured recognition rates in rooms, for makers who want to know what to expect.

There are eight synthetic voices of six speakers, to which nothing was fitted. Each row is 48
commands, so one command is 2 %.
"""

from __future__ import annotations

from dataclasses import dataclass, field

MEASURED_BY = "python -m tests.bench room --skip 2 --voices 8 --only commands"
"""Command that printed the rows."""


@dataclass(frozen=True, slots=True)
class Figure:
    """Results for commands said in one kind of room, in percent."""

    addressed: bool = field(kw_only=True)
    """Whether the attention words were said first."""
    distance_m: float
    """Distance from the mouth to the microphone."""
    other: str
    """Background sound; empty in quiet."""
    weaker_db: float | None
    """Level of the background sound below the maker's voice at the microphone, in dB."""
    right: float
    wrong: float
    asked: float
    missed: float

    @property
    def place(self) -> str:
        """Description of the room and the way of speaking."""
        over = f"over {self.other} {self.weaker_db:.0f} dB weaker" if self.other else "in quiet"
        lead = ", after the attention words" if self.addressed else ""
        return f"{self.distance_m:g} m away, {over}{lead}"

    @property
    def sentence(self) -> str:
        """Expected results, in one line."""
        return (
            f"{self.place}: {self.right:.0f} of 100 commands done, {self.wrong:.0f} taken for"
            f" another, {self.asked:.0f} asked about, {self.missed:.0f} missed"
        )


_FIGURES = (
    # metres, background, dB weaker, right, wrong, asked, missed
    Figure(0.3, "", None, 100.0, 0.0, 0.0, 0.0, addressed=False),
    Figure(0.3, "talk", 15.0, 100.0, 0.0, 0.0, 0.0, addressed=False),
    Figure(0.3, "talk", 10.0, 91.7, 2.1, 2.1, 4.2, addressed=False),
    Figure(1.0, "", None, 95.8, 0.0, 0.0, 4.2, addressed=False),
    Figure(1.0, "a kettle", 10.0, 93.8, 0.0, 6.2, 0.0, addressed=False),
    Figure(1.0, "music", 10.0, 95.8, 0.0, 0.0, 4.2, addressed=False),
    Figure(1.0, "talk", 15.0, 89.6, 0.0, 6.2, 4.2, addressed=False),
    Figure(1.0, "talk", 10.0, 83.3, 2.1, 8.3, 6.2, addressed=False),
    Figure(1.0, "talk", 5.0, 66.7, 2.1, 6.2, 25.0, addressed=False),
    Figure(1.0, "talk", 0.0, 2.1, 0.0, 6.2, 91.7, addressed=False),
    Figure(2.0, "", None, 93.8, 0.0, 2.1, 4.2, addressed=False),
    Figure(0.3, "talk", 15.0, 100.0, 0.0, 0.0, 0.0, addressed=True),
    Figure(0.3, "talk", 10.0, 95.8, 0.0, 4.2, 0.0, addressed=True),
    Figure(1.0, "", None, 100.0, 0.0, 0.0, 0.0, addressed=True),
    Figure(1.0, "talk", 10.0, 93.8, 2.1, 4.2, 0.0, addressed=True),
    Figure(1.0, "talk", 5.0, 75.0, 6.2, 12.5, 6.2, addressed=True),
    Figure(1.0, "talk", 0.0, 10.4, 2.1, 2.1, 85.4, addressed=True),
    Figure(2.0, "", None, 97.9, 2.1, 0.0, 0.0, addressed=True),
)


def expectations() -> tuple[Figure, ...]:
    """Expected results, without and with attention words; quiet first, then nearest first."""
    return _FIGURES
