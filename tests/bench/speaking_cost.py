"""Cost of speaking: time to the first sample, share of a core, memory."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from voice.sound.ports import RATE_HZ
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

USUAL_WPM = Delivery().rate_wpm


@dataclass(frozen=True, slots=True)
class Spoken:
    """A voice on trial."""

    name: str
    voice: str | None
    system_only: bool = False

    def renderer(self, rate_wpm: int = USUAL_WPM) -> Renderer:
        """A renderer that speaks with it."""
        return Renderer(Delivery(rate_wpm, voice=self.voice), system_only=self.system_only)


@dataclass(frozen=True, slots=True)
class Cost:
    """Figures of a voice in a process of its own, nothing rendered ahead."""

    first_s: float
    first_p95_s: float
    busy: float
    memory_mb: float


def cost_of(spoken: Spoken, texts: Sequence[str]) -> Cost:
    """Figures of the voice on these texts, none of which was rendered before."""
    firsts, sound_s = list[float](), 0.0
    with spoken.renderer() as renderer:
        renderer.render("ready")
        pid = renderer.child_pid
        begun_s = _busy_s(pid)
        for text in texts:
            began = time.perf_counter()
            pieces = renderer.pieces(text)
            sound_s += len(next(pieces)) / RATE_HZ
            firsts.append(time.perf_counter() - began)
            sound_s += sum(map(len, pieces)) / RATE_HZ
        busy = (_busy_s(pid) - begun_s) / sound_s
        memory = _most_memory_mb(pid)
    return Cost(statistics.median(firsts), sorted(firsts)[int(0.95 * len(firsts))], busy, memory)


def _busy_s(pid: int | None) -> float:
    """Time on the processor. Source: proc_pid_stat(5), fields 14 and 15."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _most_memory_mb(pid: int | None) -> float:
    """Most memory that was resident at once. Source: proc_pid_status(5), VmHWM in kB."""
    text = Path(f"/proc/{pid}/status").read_text()
    return int(text.partition("VmHWM:")[2].split()[0]) / 1024
