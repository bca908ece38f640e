"""Words while a decoration is called, which are about its steps. Common usage, no source."""

from __future__ import annotations

import re

from pattern.session import commands as c
from pattern.session.state import State

_POLITE = r"(?: (?:please|then|now|thanks|thank you|love|dear))*"
_DID = (
    r"(?:folded|creased|cut|measured|washed|dried|pinned|sewn|sewed|stitched|tacked|joined|placed"
    r"|marked|lined|caught|tugged|fastened(?: off)?|mixed|stirred|boiled|cooled|soaked|dipped"
    r"|squeezed|shaped|smoothed)"
)
_NEXT = (
    r"(?:(?:and |so |okay )*(?:what is |tell me |give me |on to |read me )?(?:the )?"
    r"next (?:step|bit|part|thing)"
    r"|(?:and |so )*(?:what )?then(?: what)?|(?:and |so )*what (?:then|after that|comes after that)"
    r"|(?:and |so )*what (?:do i do|comes) (?:next|then|after that|after this)"
    rf"|i have (?:just )?{_DID}(?: .*)?|(?:it|that|the \w+) is (?:all )?{_DID}(?: .*)?|{_DID}"
    r"|that bit is (?:done|finished)|(?:that|this) step is (?:done|finished)|step done)"
)
_BACK = r"(?:(?:go )?back (?:a|one) step|(?:what was )?the (?:step|bit|one) before(?: that)?)"
_ENOUGH = (
    r"(?:(?:okay )*i (?:know|can do|can manage|will do|will manage) (?:the rest|the others)(?: .*)?"
    r"|i can manage (?:from here|alone|it)(?: .*)?|no more (?:steps|of (?:it|that|this))"
    r"|(?:stop|leave) (?:it|that|the steps|this)|enough(?: of (?:it|that|this))?)"
)


def in_steps(words: str, state: State) -> c.Command | None:
    """The command in plain words; None for any others, and while no decoration is called."""
    if state.decorating is None:
        return None
    for pattern, command in ((_NEXT, c.Next()), (_BACK, c.Back()), (_ENOUGH, c.Enough())):
        if re.fullmatch(rf"{pattern}{_POLITE}", words):
            return command
    return None
