"""A call whose piece is done stays open for another one, and for questions about the piece."""

from __future__ import annotations

import io

from pattern.shape.rounds import Stage
from tests.wordings.places import turns_to
from voice.caller import typed
from voice.caller.caller import Caller
from voice.caller.keeping import Unkept
from voice.caller.reply import Reply

TYPED = ["next"] * 5 + ["how many rounds did it take", "how do I wash it", "another one", "next"]


def replies(*words: str, ends_done: bool) -> list[Reply]:
    journal = Unkept("hat")
    journal.turns = turns_to("F")
    caller = Caller(journal, new_piece=lambda: Unkept("hat 2"))
    shown: list[Reply] = []
    stream = io.BytesIO("".join(f"{each}\n" for each in words).encode())
    typed.converse(caller, caller.again(), stream, shown.append, ends_done=ends_done)
    return shown[1:]


def test_it_goes_on_to_another_one() -> None:
    said = replies(*TYPED, ends_done=False)
    assert len(said) == len(TYPED)
    done = next(at for at, reply in enumerate(said) if reply.finished)
    assert said[done].state.stage is Stage.DONE
    assert said[done].say.endswith("Say another one, or leave.")
    assert said[-2].state.stage is Stage.RING
    assert said[-1].state.piece.finished == 1


def test_it_ends_when_the_maker_leaves() -> None:
    said = replies(*TYPED[:6], "leave", "next", ends_done=False)
    assert len(said) == 7
    assert said[-1].ends


def test_lines_of_data_end_with_the_piece() -> None:
    said = replies(*TYPED, ends_done=True)
    assert said[-1].finished
    assert len(said) <= 5
