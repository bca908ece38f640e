"""How the tests are shared out among the processes that run them.

Many tests wait: for sound, which takes its time, or for a program that they start. So there are
twice as many processes as processors; half of them begin with the tests that wait, the other half
with those that compute, and they meet at the light ones. The lists below only save time: a file
that is in none of them is shared out as well.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TypeVar

from xdist.scheduler import LoadScopeScheduling  # type: ignore[import-untyped]
from xdist.workermanage import WorkerController  # type: ignore[import-untyped]

T = TypeVar("T")

WAITING = (
    "test_voice_call",
    "test_nothing_leaves",
    "test_check_command",
    "test_sound_loss",
    "test_third_look",
    "test_failed_start",
    "test_left_behind",
    "test_sound",
    "test_played_here",
    "test_call",
    "test_scenarios",
    "test_readers",
    "test_journal",
    "test_one_sentence",
    "test_damage",
    "test_every_system",
    "test_unheard",
    "test_crash",
    "test_current_folder",
    "test_alike",
    "test_device_choice",
    "test_recording",
)
"""Files whose tests mostly wait, the longest first; each test function by itself."""
COMPUTING = (
    "test_sentences",
    "test_endpoint",
    "test_speech_process",
    "test_writeup",
    "test_talk_over",
    "test_unspoken",
    "test_said_back",
    "test_clear_voice",
    "test_attention",
    "test_page",
    "test_sound_news",
    "test_expectation",
    "test_free_wording",
    "test_recognisers",
    "test_trying_on",
    "test_sheets",
    "test_rehearsal",
    "test_spoken_freely",
    "test_canceller",
    "test_vosk",
    "test_hear_command",
    "test_conversation",
)
"""Files whose tests mostly compute, the longest last; each file as a whole."""


def number_of_workers() -> int:
    """Two for each processor that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return 2 * len(os.sched_getaffinity(0))
    return 2 * (os.cpu_count() or 1)


def begun_elsewhere(files: list[T]) -> list[T]:
    """The same files in a row that begins elsewhere in each process: what one has compiled, the
    others find when they come to it.
    """
    name, count = (os.environ.get(f"PYTEST_XDIST_WORKER{of}", "") for of in ("", "_COUNT"))
    if not name:
        return files
    start = len(files) * int(name.removeprefix("gw")) // int(count)
    return files[start:] + files[:start]


def place_in_row(file: Path) -> int:
    """Where the tests of a file stand: those that wait first, those that compute last."""
    if file.stem in WAITING:
        return WAITING.index(file.stem) - len(WAITING)
    return COMPUTING.index(file.stem) + 1 if file.stem in COMPUTING else 0


class SharingOut(LoadScopeScheduling):  # type: ignore[misc]
    """Gives tests out from both ends of the row."""

    def _split_scope(self, nodeid: str) -> str:
        """Name of what is given out at once."""
        file, _, test = nodeid.partition("::")
        return f"{file}::{test.partition('[')[0]}" if Path(file).stem in WAITING else file

    def _assign_work_unit(self, node: WorkerController) -> None:
        """The first in the row for every other process, the last for the others."""
        if self.nodes.index(node) % 2:
            last = next(reversed(self.workqueue))
            self.workqueue.move_to_end(last, last=False)
        super()._assign_work_unit(node)
