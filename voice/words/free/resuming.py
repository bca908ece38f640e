"""Plain sentences of somebody who is back at work after a pause. Common usage, no source."""

from __future__ import annotations

import re

from voice.words.free.spellings import said_plainly

_FIRST = (
    r"(?:(?:okay|right|well|so|now|hello|hi|hiya|hey|sorry|alright|all right|then|yes|and|um|er|uh"
    r"|phew|good|there|come on|righto|anyway|but) )*"
)
_GO_ON = (
    r"(?:go on|carry on|continue|proceed|keep going|get on|get going|crack on|get back to it"
    r"|pick (?:it|this) up(?: again)?|start (?:up )?again|resume)"
)
_LAST = r"(?: (?:again|now|then|with it|please|dear|love|sorry))*"
_AT_IT = (
    r"i (?:am|have come|have got|have finally come) back(?: (?:at|in|on|to|from|with) .{1,30})?",
    r"(?:it is )?(?:only )?me again",
    r"(?:now )?where (?:were|was) (?:we|i)(?: at| up to)?",
    r"where did we (?:stop|get to|leave off)",
    r"(?:let us (?:get )?)?back (?:to|at) (?:it|work|the (?:hat|crochet|rounds?)"
    r"|my (?:hat|crochet|hook)|business)",
    rf"(?:let us|shall we|we can|can we|you can|i want to|please) {_GO_ON}",
    r"(?:off|on) we go",
    r"on with (?:it|the hat|my hat|the show)",
    r"ready (?:again|when you are|to (?:go on|carry on|continue|start again))",
    r"pick up where (?:we|i) left off",
    r"(?:end of (?:the )?(?:break|pause)|(?:the )?break is over)",
)
"""Clear as one clause among other talk, too."""
_ALONE = (
    r"(?:i am here|here i am)",
    r"(?:now )?where are we(?: at| up to)?",
    _GO_ON,
    r"(?:you can )?(?:start )?listen(?:ing)? again",
    r"(?:wake up|un ?pause|back)",
)
"""Clear where nothing else is said."""
_BACK = re.compile(rf"{_FIRST}(?:{'|'.join((*_AT_IT, *_ALONE))}){_LAST}")
_CLAUSE = re.compile(rf"{_FIRST}(?:{'|'.join(_AT_IT)}){_LAST}")
_AT_END = re.compile(rf".* (?:i am back|where were we|let us {_GO_ON}|back to it){_LAST}")
"""As speech is written down, without marks."""
_NOT_YET = re.compile(
    r"\b(?:not|never|will be|would be|tomorrow|later|when(?! you are)|if|until|till|before"
    r"|as soon as|once|said|says?|told|asked|shouted|wait|need|another|give (?:me|us)|hold on"
    r"|hang on|(?:in|for) (?:a|an|one|two|three|five|ten|half|\d+)"
    r" (?:more )?(?:bit|min\w*|sec\w*|moment|tick|hour|while))\b"
)
"""Words of somebody who is not back yet, or who tells what somebody else said."""
_STAYS = re.compile(
    r"(?:(?:still|sorry|no|oh|just|wait|i am|we are) )*(?:on the (?:phone|telephone|line)|busy"
    r"|not (?:(?:just |quite )?yet|back|ready|done|finished|there|now)(?: \w+){0,3}"
    r"|eating|cooking|out(?:side)?|away)"
    r"|(?:(?:sorry|no|oh|just|can you|please|wait|i|will) )*(?:give|need|want|be|hang on|hold on"
    r"|back|i am|another)(?: (?:me|us|back|for|in|just|about|only|another|a|an|few|couple|of|more"
    r"|one|two|three|four|five|ten|twenty|half|couple))*"
    r" (?:minutes?|mins?|moments?|secs?|seconds?|ticks?|hours?|bit|while)"
    r"(?: (?:more|longer|yet|please|sorry|dear|love|or so|still))*"
)


_CLAUSES = r"[,.;:!?]|\s[-\u2013\u2014]\s|\band\b"


def resumes(text: str) -> bool:
    """Whether the maker is back, be it told between other things: then a pause is over."""
    words = said_plainly(text)
    if _BACK.fullmatch(words) and not _NOT_YET.search(words):
        return True
    if _NOT_YET.search(words):
        return False
    clauses = (said_plainly(clause) for clause in re.split(_CLAUSES, text))
    return any(_CLAUSE.fullmatch(clause) for clause in clauses) or bool(_AT_END.fullmatch(words))


def stays_away(text: str) -> bool:
    """Whether the maker asks for more time in a pause, or is not back yet."""
    clauses = re.split(r"[,.;:!?] | but | so ", text)
    return any(_STAYS.fullmatch(said_plainly(clause)) for clause in clauses)


def not_back(text: str) -> str:
    """The clauses that do not tell that the maker is back, as one text."""
    clauses = re.split(_CLAUSES, text)
    return ", ".join(one.strip() for one in clauses if not _CLAUSE.fullmatch(said_plainly(one)))
