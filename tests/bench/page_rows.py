"""Ways of having a page beside a call, each with a speech process of its own."""

from __future__ import annotations

import io
import time
from collections.abc import Iterator
from contextlib import ExitStack, redirect_stdout
from dataclasses import dataclass, field

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from tests.bench.long_piece import WIDEST
from tests.bench.page_readers import readers
from tests.bench.speaking_cost import Spoken
from tests.pieces import begun
from voice.cli.call_screen import Screen
from voice.dialogue.aloud import Aloud
from voice.dialogue.protocols import Mouth
from voice.page.beside import PageBeside
from voice.sentences import reply
from voice.sound.ports import Samples
from voice.speech.played_speaker import PlayedSpeaker
from voice.speech.speaker import Renderer


class Begun:
    """A player that notes when it is first asked to play."""

    playing, heard_from_s = False, 0.0

    def __init__(self) -> None:
        self.at_s: float | None = None

    def play(self, samples: Samples, *, goes_on: bool = False) -> None:
        del samples, goes_on
        if self.at_s is None:
            self.at_s = time.perf_counter()

    def stop(self) -> None: ...


@dataclass(slots=True)
class Row:
    """One way of having a page, or none."""

    name: str
    renderer: Renderer
    page: PageBeside | None
    shown_s: list[float] = field(default_factory=list)
    """Time that showing took."""
    given: list[int] = field(default_factory=list)
    """How often each reader that reads was given something, once they are gone."""

    def show(self, text: str, state: State) -> None:
        """Show a reply on the page."""
        if self.page is not None:
            began = time.perf_counter()
            self.page.show(text, state)
            self.shown_s.append(time.perf_counter() - began)

    def speaking_after_ms(self, before: State) -> tuple[float, float]:
        """Until the speaking begins: from the command on, and from the reply decided on."""
        began = time.perf_counter()
        text, after = reply_to(before)
        decided = time.perf_counter()
        player = Begun()
        screen = Screen(None, lambda said: self.show(said, after))
        with redirect_stdout(io.StringIO()):
            Aloud(Mouth(PlayedSpeaker(self.renderer, player), player), screen).say(text)
        assert player.at_s is not None
        return 1e3 * (player.at_s - began), 1e3 * (player.at_s - decided)


def reply_to(before: State) -> tuple[str, State]:
    """The reply to "next", and the state after it."""
    events = decide(before, c.Next())
    after = fold(before, events)
    return reply.reply(before, c.Next(), events, after), after


def states() -> Iterator[State]:
    """A piece of many rounds, from round to round."""
    state = begun(**WIDEST)
    while True:
        while state.want is not None:
            state = fold(state, decide(state, c.Skip()))
        yield state
        state = fold(state, decide(state, c.Next()))


def rows_of(opened: ExitStack, spoken: Spoken) -> list[Row]:
    """The rows, none of which knows the speech of another."""

    def row(name: str, count: int | None) -> Row:
        page = None if count is None else opened.enter_context(PageBeside())
        made = Row(name, opened.enter_context(spoken.renderer()), page)
        if page is not None and count:
            made.given = opened.enter_context(readers(page.address, count, odd=count > 2))
        return made

    return [
        row("no page", None),
        row("no page, once more", None),
        row("page, no reader", 0),
        row("page, one reader", 1),
        row("page, a hundred readers", 100),
    ]
