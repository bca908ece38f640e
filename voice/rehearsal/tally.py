"""Results of a rehearsal: its utterances, and the time to each answer."""

from __future__ import annotations

import sys
from dataclasses import dataclass, field
from statistics import median

from voice.rehearsal.film import LOUDER_DB


@dataclass(slots=True)
class Tally:
    """Counts and lists of the results."""

    understood: int = 0
    misheard: list[tuple[str, str]] = field(default_factory=list)
    """Pairs of the words said and the words taken."""
    not_caught: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    """Words that the program asked about before taking them."""
    over: int | None = None
    """How many things were said while the program spoke; None where it had no loudspeaker."""
    own_db: float = 0.0
    """Attenuation of its own voice at the end, and of a film with it."""
    unsaid: list[str] = field(default_factory=list)
    """Words taken or asked about although the maker had said nothing."""
    latencies_s: list[float] = field(default_factory=list)
    """Times from the end of the last word to the first sample of the reply."""
    sound_s: float = 0.0
    wall_s: float = 0.0
    film_db: float | None = None
    """Attenuation of the film at the end; None without a film."""
    ended: bool = False
    """Whether the piece was finished."""

    def told(self) -> str:
        """The result for a person who crochets, in a few lines."""
        late = median(self.latencies_s or [0])
        total = self.understood + len(self.misheard) + len(self.not_caught) + len(self.asked)
        rows = [
            "The whole piece was called."
            if self.ended
            else "The piece did not come to its end: try it again.",
            f"Of {total} things said, I understood {self.understood} at once, asked about "
            f"{len(self.asked)}, missed {len(self.not_caught)}, and took {len(self.misheard)} for "
            "something else.",
            f"I answered about {late:.1f} s after the last word.",
        ]
        if self.over is not None:
            rows.insert(2, f"Of these, {self.over} were said while I spoke.")
        return "\n".join(rows)

    def table(self) -> str:
        """The figures, one line each."""
        late = sorted(self.latencies_s)
        p95 = late[int(0.95 * len(late))] if late else 0.0
        total = self.understood + len(self.misheard) + len(self.not_caught) + len(self.asked)
        rows = [
            f"utterances            {total:6d}",
            f"  understood          {self.understood:6d}",
            f"  asked about first   {len(self.asked):6d}",
            f"  not caught          {len(self.not_caught):6d}",
            f"  misheard            {len(self.misheard):6d}",
            f"heard of itself       {len(self.unsaid):6d}",
            f"last word to reply    median {median(late or [0]):.2f} s, p95 {p95:.2f} s",
            f"real-time factor      {self.wall_s / max(self.sound_s, 1e-9):6.2f}",
            f"memory                {_memory()}",
        ]
        if self.film_db is not None:
            louder = f"{LOUDER_DB:.0f} dB louder than the maker"
            rows.append(f"a film                {louder}, made {self.film_db:.0f} dB quieter")
        if self.over is not None:
            rows.append(f"said over its speech  {self.over:6d}, made {self.own_db:.0f} dB quieter")
        rows += [f"misheard: {said!r} taken for {taken!r}" for said, taken in self.misheard]
        rows += [f"heard of itself: {taken!r}" for taken in self.unsaid]
        rows += [f"not caught: {said!r}" for said in self.not_caught]
        return "\n".join(rows)


def _memory() -> str:
    """Peak memory of this process, if the system reports it."""
    try:
        import resource  # not on Windows
    except ImportError:
        return "not known on this system"
    per_mb = 1024 if sys.platform != "darwin" else 1024**2
    return f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / per_mb:6.0f} MB"
