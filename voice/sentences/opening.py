"""The first words of a call, and the plan in short."""

from __future__ import annotations

from collections.abc import Sequence

from pattern.session import events as e
from pattern.session.state import State
from pattern.shape.catalogue import BRIMMED_HAT
from pattern.shape.rounds import Stage
from pattern.shape.settings import Settings
from voice.sentences import finishing, hands, misfits, places, questions, swatch
from voice.sentences.amounts import answered, joined, with_unit
from voice.sentences.due import now
from voice.sentences.pages import HINT, pages


def opening(state: State, *, resumed: bool, events: Sequence[e.Event] = ()) -> str:
    """The first words of a call; `events` are those of taking it up."""
    if resumed:
        days = next((event.days for event in events if isinstance(event, e.LeftAlone)), 0.0)
        return joined(
            "welcome back.",
            hands.left_alone(days, state) if days else "",
            places.where(state),
            now(state),
        )
    new = f"a new {state.settings.shape.noun}."
    like = "I begin with the stitch I learned on your other piece." if state.known else ""
    if state.stage is Stage.SETUP:
        return joined(
            new,
            like,
            "For another shape, say other shapes.",
            _given(state),
            now(state),
        )
    return joined(new, like, plan(state), now(state))


def _given(state: State) -> str:
    """The head that was given beforehand, with the unit that its number was taken in."""
    if "head_mm" not in state.answered:
        return ""
    return f"I take the head as {questions.value('head_mm', state.settings)}."


def plan(state: State) -> str:
    """The piece, said when the interview is over; the rest of the plan waits to be asked for.

    The needs of a child's hat do not wait, even if that makes the words a few more than a page.
    """
    caution = finishing.child_first(state.settings)
    return joined(
        f"{_size(state.settings)}.",
        misfits.planned(state.piece),
        caution,
        "" if state.brief else HINT,
    )


def rest_of_plan(state: State) -> tuple[str, ...]:
    """The plan without what is made, in pages."""
    return pages(_rest(state))


def whole_plan(state: State) -> str:
    """The piece, the yarn and time it takes, and what a child's hat needs."""
    return joined(f"{_size(state.settings)}.", misfits.planned(state.piece), _rest(state))


def _rest(state: State) -> str:
    settings = state.settings
    yarn, hook = questions.value("yarn", settings), questions.value("hook_mm", settings)
    return joined(
        swatch.both(state),
        places.rounds(state),
        f"You need yarn of {yarn}, {hook}, a marker, a tape and a needle.",
        finishing.child(settings),
    )


def _size(settings: Settings) -> str:
    """The piece and its size, in a breath: the unit is said once."""
    shape = settings.shape
    said = [] if shape is BRIMMED_HAT else [questions.value("shape", settings)]
    said.append(
        f"{with_unit(settings.girth_mm, settings, 8)} around"
        if shape.for_head
        else questions.value("across_mm", settings)
    )
    if shape.for_head and abs(settings.ease_mm) >= 0.5:
        said.append(questions.value("ease_mm", settings))
    more = {
        "depth_mm": f"{answered(settings.depth, settings)} deep",
        "height_mm": f"{answered(settings.height, settings)} high",
        "brim_mm": f"a brim of {answered(settings.brim, settings)}"
        if settings.brim
        else (questions.value("brim_mm", settings)),
    }
    return ", ".join([*said, *(words for key, words in more.items() if key in shape.asked)])
