"""Do hats fit that are tried on, with a tape beside it or without one?"""

from __future__ import annotations

import random
import statistics
from collections.abc import Iterable

from pattern.session import commands as c
from tests.bench.calling import Hat, call_through
from tests.bench.wearers import Strung, Way, Wearer, Worn

NEAR_MM, TIGHTER_MM, LOOSER_MM = 15.0, 10.0, 20.0
FITS_MM = 10.0
FIRST: dict[Way, tuple[c.Command, ...]] = {
    Way.TAPE: (),
    Way.BOTH: (c.HeadThere(there=True),),
    Way.HEAD: (c.TapeThere(there=False),),
}
"""What is said before the first round."""
SAME_FIT = 0.01
"""Share of hats by which a fit counts as the same: about two standard errors of a thousand."""


def worn(seed: int, count: int, way: Way) -> tuple[list[Hat], float]:
    """Hats of one way, and the times that one was tried on, in the mean."""
    hats, tried = [], 0
    for i in range(count):
        maker = Wearer(random.Random(f"{seed} worn {i}"), way=way)
        if way is Way.STRING:
            hats.append(call_through(maker, Strung(maker), maker.own_finger()))
            continue
        work = Worn(maker)
        hats.append(call_through(maker, work, *FIRST[way]))
        tried += work.tried
    return hats, tried / count


def reached(seed: int, count: int) -> bool:
    """Prints how hats come out that are tried on, and each figure to reach; whether all are."""
    made = {way: worn(seed, count, way) for way in Way}
    columns = f"{'within 1 cm':>12}{'1.5 cm':>9}{'wearable':>10}{'readings':>10}{'tried on':>10}"
    print(f"the same makers, seed {seed}, with the head at hand:\n{'way':26}{columns}")
    for way, (hats, tried) in made.items():
        tape = statistics.mean(h.asked.readings for h in hats)
        shares = (
            f"{_within(hats, FITS_MM):12.1%}{_within(hats, NEAR_MM):9.1%}{_wearable(hats):10.1%}"
        )
        print(f"{way.value:26}{shares}{tape:10.2f}{tried:10.2f}")
    alone, both, tape_only = (made[way][0] for way in (Way.HEAD, Way.BOTH, Way.TAPE))
    near, wearable = _within(alone, NEAR_MM), _wearable(alone)
    readings = [statistics.mean(h.asked.readings for h in hats) for hats in (tape_only, both)]
    fewer = readings[0] - readings[1]
    worse = _within(tape_only, FITS_MM) - _within(both, FITS_MM)
    string = _within(made[Way.STRING][0], FITS_MM)
    checks = (
        ("a string: within 1 cm, at least 97 %", f"{string:.1%}", string >= 0.97),
        ("only tried on: within 1.5 cm, at least 95 %", f"{near:.1%}", near >= 0.95),
        ("only tried on: wearable, at least 98 %", f"{wearable:.1%}", wearable >= 0.98),
        ("besides the tape: readings fewer, at least 1", f"{fewer:.2f}", fewer >= 1),
        ("besides the tape: fewer fit by, at most 1 %", f"{worse:.1%}", worse <= SAME_FIT),
    )
    for what, figure, good in checks:
        print(f"{what:46}{figure:>9}  {'reached' if good else 'MISSED'}")
    return all(good for _, _, good in checks)


def _within(hats: Iterable[Hat], most_mm: float) -> float:
    return statistics.mean(abs(hat.girth_error_mm) <= most_mm for hat in hats)


def _wearable(hats: Iterable[Hat]) -> float:
    return statistics.mean(-TIGHTER_MM <= hat.girth_error_mm <= LOOSER_MM for hat in hats)
