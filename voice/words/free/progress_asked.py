"""Questions for the way that is left, and for the size that it comes to. Common usage."""

from __future__ import annotations

from pattern.session import commands as c

_STILL = (
    r"(?:so |and |now )*(?:do i|am i|are we|do we|should i|is it|i am|we are|we|i|it is)"
    r"(?: \w+)? (?:still|now|just|only|not|going|go|keep|stop|work|done)"
    r"(?: \w+){0,3}? "
    r"(?:(?:more )?increas(?:e|es|ing)|making it (?:bigger|wider)"
    r"|two in (?:one|each|a stitch|the next)|plain|straight|even)"
    r"(?: \w+){0,6}"
)
"""Whether it goes on as before: the round itself tells."""
_TIME = (
    r"(?!.*\bcrown\b)(?:so |and |about )*"
    r"how many (?:more )?(?:minutes|hours|days|evenings)(?: \w+){0,6}"
    r"|(?:so |and )?(?:will|do|am) i (?:think )?(?:be |get )*(?:done|finished|finish)"
    r"(?: \w+){0,3} (?:today|tonight|tomorrow|this (?:evening|week|afternoon))"
)
"""The words ask for a time; else rounds are told."""
_WILL_BE = (
    r"(?:so |and )?(?:how (?:wide|deep|big|large|tall|high)|what (?:size|width|depth))"
    r" (?:is|will|would|does) (?:the |it|this|my )?(?:\w+ )?(?:going to |to )?"
    r"(?:be|end up|come out|finish)"
    r"(?: (?:in the end|at the end|when (?:it is )?(?:done|finished)))?"
)
_WHEN = (
    r"(?:so |and )?when (?:does|do|will|is|can|should) (?:the|my) (?:brim|sides?|band)"
    r" (?:begin|start|come|due|be)(?: \w+){0,2}"
    r"|(?:so |and )?(?:am i |are we )?(?:nearly|almost|close to|near)"
    r" (?:finished|done|there|the end)(?: with)?(?: (?:the|this|my) \w+)?(?: yet| now)?"
    r"|(?:so |and )?(?:nearly|almost) (?:there|done|finished)(?: am i| are we| is it| then| now)+"
)
_LAST = (
    r"(?:so |and )?(?:is|was) (?:that|this|it) the last (?:one|round)(?: then| now| of them)*"
    r"|how many (?:are|is) left(?: after this)?"
)
_WILL_FIT = (
    r"(?:so |and )?(?:does|will|is) it (?:going to )?(?:fit|be too (?:small|big|tight|loose))"
    r"(?: (?:now|yet|then|me|her|him|them|all right))*(?: (?:do )?you think)?"
    r"|(?:so |and )?is (?:it|this|that|the \w+) (?:a bit )?too (?:shallow|short|small|narrow|wide"
    r"|deep|long|big)(?: (?:now|then|yet|(?:would|do) you (?:say|think)))*"
)
_BIGGER = (
    r"(?:so |and )?how much (?:bigger|wider|deeper|longer|larger) (?:does|do|must|should|has|will"
    r"|is) (?:it|this|that|the \w+)(?: (?:still|need|have|got|going|to|be|get|go|grow|yet))*"
)
_GETTING_ON = (
    r"(?:so |and |well )*how (?:am i|are we|is it|is that) (?:getting on|doing|coming on"
    r"|coming along|going)(?: (?:now|then|so far|by now))*"
)
_INCREASES_LEFT = (
    r"(?:so |and )?how many (?:more )?(?:increase rounds|increasing rounds"
    r"|rounds (?:of|with) increas(?:es|ing))(?: (?:are|is|left|to go|more|still|there|do i have"
    r"|have i got|now|to do))*"
    r"|(?:so |and )?(?:how (?:many (?:more )?rounds|long)|when)(?: (?:do|does|will|until|till"
    r"|before|to go|is it|are there|left))* (?:i |the |we )?(?:(?:start|begin)s? (?:to )?)?"
    r"(?:decreas(?:e|es|ing)|stop increasing|increas(?:es|ing) (?:stop|end|over))"
    r"(?: (?:start|starts|begin|begins|come|over|now|then))*"
)
_INCREASES_WHERE = (
    r"(?:so |and |but )*where (?:do|does|should|must|shall|are|will) (?:i |we |you )?"
    r"(?:(?:put|place|make|work|do) )?(?:the|my|these) increases?"
    r"(?: (?:go|come|sit|fall|in|this|the|round|now|next|then))*"
)
_WIDEST = (
    r"(?:so |and )?how (?:wide|big|large) (?:does|will|is|should) "
    r"(?:it|this|that|the (?:top|crown|beret|hat|disc))"
    r"(?: (?:be|go|get|become|going to be|to be))*"
    r" (?:at (?:its|it is|the) (?:widest|biggest)(?: point| part)?"
    r"|before (?:i|we|it|the) (?:\w+ ){0,2}(?:decreas\w+|sides?|brim|narrows?|goes? (?:in|down))"
    r"(?: \w+)?)"
)
_HAVE_NOW = (
    r"(?:so |and )?how many stitches (?:do i have|have i(?: got)?|are there|are on it|should i have"
    r"|should there be) (?:now|so far|at the moment|already|by now|right now)"
)
_BACK_AGAIN = (
    r"(?:(?:hello|hi|hey|okay|so|right|well) )*(?:i am|it is me) (?:back|again)"
    r"(?: (?!marker)\w+){0,8}? where (?:did|was|were|am|are|had) (?:i|we)(?: \w+){0,4}"
)
PROGRESS: dict[str, c.Asked] = {
    _STILL: c.Asked.AGAIN,
    _GETTING_ON: c.Asked.WHERE,
    _TIME: c.Asked.TIME_LEFT,
    _WHEN: c.Asked.ROUNDS,
    _WILL_FIT: c.Asked.SIZE_NOW,
    _BIGGER: c.Asked.SIZE_NOW,
    _WILL_BE: c.Asked.PLAN,
    _LAST: c.Asked.ROUNDS,
    _INCREASES_LEFT: c.Asked.PART_ROUNDS,
    _INCREASES_WHERE: c.Asked.AGAIN,
    _WIDEST: c.Asked.SIZE_NOW,
    _HAVE_NOW: c.Asked.WHERE,
    _BACK_AGAIN: c.Asked.WHERE,
}
