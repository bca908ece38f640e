"""Measured recognition rates in rooms, for makers who want to know what to expect.

There are twelve synthetic voices of eight speakers, to which nothing was fitted. Each row is 1,008
phrases, half of them of the table and half measures and counts, each said at a moment of a hat.
"""

from __future__ import annotations

from dataclasses import dataclass, field

MEASURED_BY = "python -m tests.bench room --voices 12 --each 84 --only commands"
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
    right_95: str
    wrong_95: str
    """The 95 % intervals, as printed."""

    @property
    def place(self) -> str:
        """Description of the room and the way of speaking."""
        over = f"over {self.other} {_level(self.weaker_db or 0.0)}" if self.other else "in quiet"
        lead = ", after the attention words" if self.addressed else ""
        return f"{self.distance_m:g} m away, {over}{lead}"

    @property
    def sentence(self) -> str:
        """Expected results, in one line."""
        return (
            f"{self.place}: {self.right:.0f} of 100 commands done, {self.wrong:.0f} taken for"
            f" another, {self.asked:.0f} asked about, {self.missed:.0f} missed"
        )


def _level(weaker_db: float) -> str:
    if weaker_db == 0:
        return "as loud as you"
    return f"{abs(weaker_db):.0f} dB {'weaker' if weaker_db > 0 else 'louder'}"


_FIGURES = (
    # metres, background, dB weaker, right, wrong, asked, missed, intervals of right and wrong
    Figure(0.3, "", None, 99.3, 0.4, 0.2, 0.1, "98.6 to 99.7", "0.2 to 1.0", addressed=False),
    Figure(0.3, "talk", 15.0, 96.8, 0.6, 1.2, 1.4, "95.6 to 97.7", "0.3 to 1.3", addressed=False),
    Figure(0.3, "talk", 10.0, 94.9, 0.6, 1.9, 2.6, "93.4 to 96.1", "0.3 to 1.3", addressed=False),
    Figure(1.0, "", None, 98.5, 0.6, 0.3, 0.6, "97.6 to 99.1", "0.3 to 1.3", addressed=False),
    Figure(
        1.0, "a kettle", 10.0, 93.3, 1.9, 1.5, 3.4, "91.5 to 94.6", "1.2 to 2.9", addressed=False
    ),
    Figure(1.0, "music", 10.0, 95.4, 1.5, 1.7, 1.4, "94.0 to 96.6", "0.9 to 2.4", addressed=False),
    Figure(1.0, "talk", 15.0, 95.3, 0.3, 1.9, 2.5, "93.9 to 96.5", "0.1 to 0.9", addressed=False),
    Figure(1.0, "talk", 10.0, 88.8, 1.3, 3.8, 6.2, "86.7 to 90.6", "0.8 to 2.2", addressed=False),
    Figure(1.0, "talk", 5.0, 65.5, 3.2, 7.6, 23.7, "62.5 to 68.3", "2.3 to 4.4", addressed=False),
    Figure(1.0, "talk", 0.0, 4.8, 4.4, 4.2, 86.7, "3.6 to 6.3", "3.3 to 5.8", addressed=False),
    Figure(2.0, "", None, 96.6, 0.9, 1.0, 1.5, "95.3 to 97.6", "0.5 to 1.7", addressed=False),
    Figure(0.3, "talk", 15.0, 97.5, 1.4, 1.0, 0.1, "96.4 to 98.3", "0.8 to 2.3", addressed=True),
    Figure(0.3, "talk", 10.0, 95.5, 1.6, 2.3, 0.6, "94.1 to 96.6", "1.0 to 2.6", addressed=True),
    Figure(1.0, "", None, 98.9, 0.1, 0.9, 0.1, "98.1 to 99.4", "0.0 to 0.6", addressed=True),
    Figure(1.0, "talk", 10.0, 93.6, 2.1, 3.4, 1.0, "91.9 to 94.9", "1.4 to 3.2", addressed=True),
    Figure(1.0, "talk", 5.0, 75.8, 6.7, 10.1, 7.3, "73.1 to 78.3", "5.4 to 8.5", addressed=True),
    Figure(1.0, "talk", 0.0, 5.8, 2.0, 4.0, 88.3, "4.5 to 7.4", "1.3 to 3.0", addressed=True),
    Figure(2.0, "", None, 97.1, 1.1, 1.4, 0.4, "95.9 to 98.0", "0.6 to 1.9", addressed=True),
)


FILMS_MEASURED_BY = "python -m tests.bench film --voices 12 --each 21"
"""Command that printed these: 252 phrases of the same kinds a row."""
_FILM, _TELLY = "a film on this computer", "a telly, beside a second microphone,"
_OF_FILMS = (
    Figure(1.0, _FILM, 0.0, 97.6, 0.8, 1.2, 0.4, "94.9 to 98.9", "0.2 to 2.8", addressed=False),
    Figure(1.0, _FILM, -10.0, 93.7, 1.6, 2.8, 2.0, "89.9 to 96.1", "0.6 to 4.0", addressed=False),
    Figure(1.0, _TELLY, 0.0, 91.7, 1.6, 3.2, 3.6, "87.6 to 94.5", "0.6 to 4.0", addressed=False),
    Figure(1.0, _TELLY, -5.0, 91.3, 1.2, 4.0, 3.6, "87.1 to 94.2", "0.4 to 3.4", addressed=False),
)


def over_films() -> tuple[Figure, ...]:
    """Expected results while a film is taken out, of this machine and of a telly elsewhere."""
    return _OF_FILMS


def expectations() -> tuple[Figure, ...]:
    """Expected results, without and with attention words; quiet first, then nearest first."""
    return _FIGURES
