"""The first words of a call, and the plan in short."""

from __future__ import annotations

from collections.abc import Sequence

from pattern import events as e
from pattern.rounds import Stage
from pattern.settings import Settings
from pattern.shapes import BRIMMED_HAT
from pattern.state import State
from voice.sentences import finishing, hands, places, questions, swatch
from voice.sentences.amounts import joined, with_unit
from voice.sentences.due import now


def opening(state: State, *, resumed: bool, events: Sequence[e.Event] = ()) -> str:
    """The first words of a call; `events` are those of taking it up."""
    if resumed:
        days = next((event.days for event in events if isinstance(event, e.LeftAlone)), 0.0)
        return joined("welcome back.", hands.left_alone(days, state) if days else "",
                      places.where(state), now(state))  # fmt: skip
    new = f"a new {state.settings.shape.noun}."
    like = "I begin with the stitch I learned on your other piece." if state.known else ""
    if state.stage is Stage.SETUP:
        return joined(new, like, "For another shape, say other shapes.",
                      "Skip takes the usual answer, begin skips the rest.", now(state))  # fmt: skip
    return joined(new, like, plan(state), now(state))


def plan(state: State) -> str:
    """The plan in short, said when the interview is over."""
    settings = state.settings
    yarn, hook = questions.value("yarn", settings), questions.value("hook_mm", settings)
    return joined(f"{_size(settings)}.", swatch.both(state),
                  f"You need yarn of {yarn}, {hook}, a marker, a tape and a needle.",
                  f"{places.rounds(state)}", finishing.child(settings))  # fmt: skip


def _size(settings: Settings) -> str:
    """What is made and how big, in a breath."""
    shape = settings.shape
    said = [] if shape is BRIMMED_HAT else [questions.value("shape", settings)]
    said.append(f"{with_unit(settings.girth_mm, settings, 8)} around" if shape.for_head else
                questions.value("across_mm", settings))  # fmt: skip
    said += [questions.value(key, settings) for key in ("depth_mm", "height_mm", "brim_mm")
             if key in shape.asked]  # fmt: skip
    return ", ".join(said)
