"""A reply as data, for tests, other programs and accessibility tools: one JSON object a reply."""

from __future__ import annotations

import json
from typing import Any

from pattern.plan.next_round import rounds_left
from pattern.plan.readings import girth_finished
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.interview import BEGIN
from pattern.shape.reading_kinds import BY_TAPE
from pattern.shape.rounds import Stage
from voice.caller.reply import Reply

FIELDS = (
    "say",
    "stage",
    "round",
    "stitches_before",
    "stitches_after",
    "places",
    "asks",
    "girth_wanted_mm",
    "girth_expected_mm",
    "girth_sd_mm",
    "width_mm",
    "height_mm",
    "rounds_left",
    "question",
    "verdict",
)
"""Always present, in this order; null where they do not apply. Lengths in mm, with a washed swatch
those before washing: `girth_wanted_mm` is the girth to work to. Places count from 0."""


QUESTIONS = {
    "head_mm": "head",
    "unit": "unit",
    "across_mm": "across",
    "yarn": "yarn",
    "hook_mm": "hook",
    "terms": "terms",
    "stitch": "stitch",
    "start": "start",
    "ease_mm": "ease",
    "depth_mm": "depth",
    "height_mm": "height",
    "brim_mm": "brim",
    "slope_deg": "slope",
    "joined": "rounds",
    BEGIN: "begin",
}
"""Names of the questions of the interview."""


def as_json(reply: Reply) -> str:
    """The reply on one line."""
    return json.dumps(as_data(reply), ensure_ascii=True)


def as_data(reply: Reply) -> dict[str, Any]:
    """The fields of a reply."""
    state = reply.state
    offered, gauge = state.offered, state.piece.gauge
    known = state.stage is not Stage.SETUP
    girth = girth_finished(state.piece) if known else None
    values = (
        reply.say,
        state.stage.value,
        offered.number if offered else None,
        offered.before if offered else None,
        offered.after if offered else None,
        list(offered.places) if offered else None,
        "confirm" if reply.asks is not None else asks(state),
        round(state.piece.settings.girth_mm, 2) if known else None,
        round(girth.mean, 2) if girth else None,
        round(girth.sd, 2) if girth else None,
        round(gauge.width_mm, 4) if known else None,
        round(gauge.height_mm, 4) if known else None,
        rounds_left(state.piece, offered) if known else None,
        QUESTIONS[state.question] if state.question else None,
        reply.verdict.value,
    )
    return dict(zip(FIELDS, values, strict=True))


def asks(state: State) -> str | None:
    """The answer that is waited for: a reading, fit, confirm, look, setup; None when nothing is."""
    if state.doubt is not None:
        return "confirm"
    if state.stage is Stage.SETUP:
        return "setup"
    if state.want is None:
        return None
    kind = Kind.FIT if state.want.kind in BY_TAPE else state.want.kind
    return (Kind.ACROSS if kind is Kind.CORNERS else kind).value
