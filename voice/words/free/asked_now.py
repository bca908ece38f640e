"""Questions about this moment: what to work now, and how big it should be. Common usage."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.commands import Kind
from pattern.session.state import State
from pattern.shape.rounds import Stage
from pattern.trade.techniques import Technique
from voice.words.free.big_enough import big_enough
from voice.words.free.progress_asked import PROGRESS
from voice.words.free.yarn_asked import asks_yarn_used

_WHAT_NOW = (
    r"(?:so |and )?(?:what|which stitches?) "
    r"(?:am i|are we|do i|should i|shall i|must i|would i)(?: \w+)*? ?"
    r"(?:supposed to do|meant to do|do|doing|work|working|make|making)"
    r"(?: (?:now|here|next|in this round|this round|at this point|again|with it))*"
    r"|(?:so )?what now|now what"
    r"|(?:(?:sorry|hang on|hold on|wait|so|and|but|oh) )*what (?:was it|is it|was|is|did|do|are)?"
    r" ?(?:that )?you (?:just )?(?:ask|asked|asking|want|wanted|want to know|need)"
    r"(?: (?:me|of me|from me|again|just now|for))*"
    r"|what is (?:the|my) (?:instruction|round|instruction for this round)"
    r"|(?:what is|tell me) (?:the|this) (?:whole )?round(?: again)?"
    r"|how does (?:this|the) round go"
    r"|(?:sorry |hang on |wait |so )*did you (?:just )?say (?:\w+ )*?"
    r"(?:in the next|in each|plain|stitches|times|together|round \w+)(?: \w+)*"
)
_HOW_BIG = (
    r"(?:so |and )?(?P<how>how (?:wide|big|large|far|deep)(?: across| around)?"
    r"|what (?:size|width|depth)) (?:should|ought|must|would|will|is|does) "
    r"(?P<what>it|this|that|the \w+|my \w+)"
    r"(?: (?:to|supposed to|meant to|have to))?(?: (?:be|measure|get|come to|have got))?"
    r"(?: across| around)?"
    r"(?P<now>(?: (?:by |right )?(?:now|here|then|yet)| at the moment| at present"
    r"| currently| so far| at this (?:point|stage)| already"
    r"| (?:when|once) (?:it|that|this) is (?:finished|done|over)| (?:in|at) the end)*)"
)
_WHICH_HOOK = (
    r"(?:so |and )*(?:what|which) (?:(?:size|number|of|is|was|should|must) )*(?:the |my )?hook"
    r"(?: (?:size|number|is|was|it|am|do|did|should|i|we|you|meant|supposed|to|be|use|using|need"
    r"|for|this|that|again|on|here|have|say))*"
)
_SHADE = (
    r".*\b(?:wide|big|broad|large) enough\b.*\b(?:sun|shade|shades|sunburn)\b.*"
    r"|.*\b(?:keep|keeps) (?:the )?sun (?:off|out|away)\b.*"
)
_GAUGE = (
    r"(?:so |and )?(?:what|how) (?:is|are|big|wide|large|tall)(?: is| are)? "
    r"(?:my|the|your idea of my) (?:gauge|tension|stitch(?:es)?|stitch size)"
    r"(?: (?:now|so far|then))*"
    r"|(?:so |and )?what (?:does|is) (?:that|it) (?:make|making)(?: for)? "
    r"(?:my|the)? ?(?:gauge|tension|size of my stitches|stitch size|stitches)(?: now)?"
    r"|how (?:big|wide|large|tall) (?:are|is) my (?:stitches|rounds|stitch)"
)
_MEASURE = (
    r"(?:so |and )?(?:do you (?:want|need) (?:me to|to)|should i|shall i|do i (?:have|need) to)"
    r" (?:measure|put the tape|lay the tape|get the tape)(?: \w+){0,4}"
    r"|do you (?:want|need) (?:a|any|another) (?:measurement|measure|reading)s?(?: now)?"
    r"|(?:so |and )?(?:can|could|may) i measure(?: (?:it|this|the \w+))?"
    r"(?: (?:now|yet|here|already))*"
)
_INCREASE = (
    r"(?:so |and |sorry )?"
    r"(?:how (?:do|can|should|would) (?:i|you|we)|what is|show me how to|tell me how to)"
    r"(?: (?:do|work|make|get|put|crochet|go))?(?: the)? "
    r"(?:two (?:stitches )?(?:in|into)(?: (?:one|the|each|every|same|next|a|single|stitch))*"
    r"|(?:an )?increas(?:e|es|ing))(?: (?:again|then|please|stitch|properly))*"
)
"""Two stitches worked into one, as the rounds are called."""
_MEANS = (
    r"(?:so |and |sorry |but )*what (?:do|does|is) (?:you mean by )?"
    r"(?:two in .{2,12}|plain|an? plain stitch|every stitch plain|one in each(?: .{2,12})?"
    r"|in each|in the next)(?: mean| supposed to mean| then| again)*"
)
"""The words in which rounds are called."""
_THERE = (
    r"(?:hello |hey |hi )*(?:are )?you (?:still )?(?:there|listening|on|with me|awake)"
    r"(?: hello)?|can you (?:still )?hear me|hello(?: hello)+|anybody there|anyone there"
)
_ACROSS = (
    r"(?:so |that is |you mean )*(?:from )?(?:one (?:side|edge) to the other|edge to edge"
    r"|side to side|across the middle|through the middle)"
    r"(?: (?:right|is it|yes|then|you mean|do you mean))*"
)
_BLOCK = (
    r"(?:so |and )?(?:do|should|shall|must|can) (?:i|we) (?:need to |have to )?"
    r"(?:block|steam|iron|press|stretch) (?:it|this|the \w+)(?: \w+){0,3}"
)
_TAPE = (
    r"(?:so |and )?(?:where|how) (?:do|should|shall|must|would) i (?:put|lay|hold|place) "
    r"(?:the|my|this) tape(?: (?!head)\w+){0,4}"
    r"|(?:so |and )?where (?:does|should) (?:the|my) tape (?:go|lie)(?: (?!head)\w+){0,4}"
)
_WASH = (
    r"(?:so |and |but )?(?:can|could|may|will|would|does|is|should) "
    r"(?:i|it|this|that|they|you|the \w+|my \w+)(?: \w+){0,5}? "
    r"(?:wash(?:ed|able|ing|es)?|machine|laundry|tumble ?dr\w+)(?: \w+){0,5}"
)
_LAID: dict[Kind | None, Technique] = {
    Kind.AROUND: Technique.AROUND,
    Kind.DEPTH: Technique.DEPTH,
    Kind.BRIM: Technique.BRIM_WIDTH,
}
"""How the tape lies for each reading; else across."""
_OF_TRIMS = r"\b(?:ribbons?|lace|flowers?|beads?|buttons?|feathers?|felt|glue|glued|trims?)\b"
_OTHER_THINGS = frozenset({"head", "hook", "tail", "band", "chain", "ring", "time", "hole"})
_ASKED: dict[str, c.Asked] = {
    **PROGRESS,
    _WHICH_HOOK: c.Asked.HOOK,
    _SHADE: c.Asked.SHADE,
    _GAUGE: c.Asked.GAUGE,
    _MEASURE: c.Asked.READING,
}


def asked_now(words: str, state: State) -> c.Ask | c.Explain | None:
    """The question in plain words; None for any other. A depth is asked for "by now".

    Of the brim the width is told where it is worked, and before that how one chooses it; so is the
    depth of the sides.
    """
    words = re.sub(r"\bhow (wide|deep|big|long|far|tall)s\b", r"how \1 is", words)
    if re.fullmatch(_WHAT_NOW, words):
        return c.Ask(c.Asked.AGAIN)
    if re.fullmatch(_INCREASE, words) or re.fullmatch(_MEANS, words):
        return c.Explain(Technique.INCREASE)
    if re.fullmatch(_TAPE, words):
        return c.Explain(_LAID.get(state.want.kind if state.want else None, Technique.ACROSS))
    if re.fullmatch(_THERE, words):
        return c.Ask(c.Asked.AGAIN)
    if re.fullmatch(_ACROSS, words) and state.want is not None:
        return c.Explain(_LAID.get(state.want.kind, Technique.ACROSS))
    if re.fullmatch(_BLOCK, words) and state.stage is Stage.FINISHING:
        return c.Ask(c.Asked.WASHING)
    if re.fullmatch(_WASH, words) and not re.search(_OF_TRIMS, words):
        return c.Ask(c.Asked.WASHING)
    if (enough := big_enough(words, state)) is not None:
        return c.Ask(enough)
    if asks_yarn_used(words):
        return c.Ask(c.Asked.YARN_USED)
    for pattern, what in _ASKED.items():
        if re.fullmatch(pattern, words):
            return c.Ask(what)
    found = re.fullmatch(_HOW_BIG, words)
    if found is None:
        return None
    thing, early = found["what"].split()[-1], state.piece.brim_rounds == 0
    deep = found["how"] in {"how deep", "what depth"} and not found["now"]
    if deep and state.piece.shaping.hangs and thing in {"it", "this", "that"}:
        return c.Ask(c.Asked.DEEP_ENOUGH)
    if deep or thing in _OTHER_THINGS or (thing == "brim" and early):
        return None
    return c.Ask(c.Asked.SIZE_NOW)
