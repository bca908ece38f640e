"""Answers to "Begin, or change something?". Words: common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c

_POLITE = r"(?: (?:please|now|then|thanks|thank you|dear|love|with that|it is|for me))*"
_BEGIN = (
    r"(?:(?:yes|yeah|yep|sure|fine|good|great|lovely|perfect|okay|right|oh|well|no) )*"
    r"(?:(?:i am |we are |all )?(?:ready|happy)(?: to (?:begin|start|go))?"
    r"|(?:let us |shall we |we can |you can |please |just )?"
    r"(?:begin|start|go|go ahead|get going|get started|make a start|crack on|do it|do that)"
    r"|(?:off|on) (?:we|you) go|you (?:can|may) (?:begin|start|go on)"
    r"|(?:that|it)(?: all)? (?:is|sounds|will be)"
    r" (?:fine|good|great|lovely|perfect|all right|right|it|all"
    r"|everything|the lot)|go on|carry on|on we go"
    r"|(?:(?:that|this|it) will|thatll|itll) do(?: (?:me|us|nicely|fine))*"
    r"|sounds (?:good|fine|great|lovely|perfect)|(?:the )?usual(?: is fine| will do)?"
    r"|whatever you (?:think|say)|all good|good to go|nothing(?: to change)?|change nothing"
    r"|leave it(?: as it is)?|keep (?:it|that)|yes|yeah|yep|sure|fine|good|great|lovely|perfect"
    r"|okay|all right)"
)
_CHANGE = (
    r"(?:(?:i would like to|i want to|can i|let me|may i) )?(?:change|alter)"
    r"(?: (?:something|a thing|a few things|it|that|one thing|things))?"
    r"|(?:what|which things?) can (?:i|you|we) change|what (?:else )?(?:is there|can i choose)"
    r"|what are (?:the|my) (?:choices|options)|not yet|no not yet"
    r"|(?:(?:no|oh|please|wait) )*(?:do not|dont|let us not|not) (?:begin|start|go)"
    r"(?: (?:on|just|yet|now))*"
)
_ALL = (
    r"(?:(?:please|can you|could you|just|no|yes|i want you to|i would rather you) )*"
    r"(?:ask|go through) (?:me )?(?:for )?(?:everything|all of (?:it|them)|every .{1,20})"
)


def to_begin(words: str) -> c.Command | None:
    """The answer in plain words; None for any others."""
    if re.fullmatch(rf"(?:{_BEGIN}){_POLITE}(?: {_BEGIN}{_POLITE}){{0,2}}", words):
        return c.Begin()
    if re.fullmatch(rf"(?:{_CHANGE}){_POLITE}", words):
        return c.Ask(c.Asked.CHANGES)
    return c.EveryQuestion() if re.fullmatch(rf"(?:{_ALL}){_POLITE}", words) else None
