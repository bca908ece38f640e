"""Cautions, and the brim width advised for shade."""

from __future__ import annotations

from dataclasses import dataclass


def brim_for_shade_mm(age_years: float | None) -> float:
    """Brim width advised for shade, in mm: 6 cm, or 5 cm up to 8 years.

    Source: cancer councils of Australia and New Zealand (bucket style; a broad brim from 12 years
    on is 7.5 cm). A crocheted hat gives shade, but no protection factor may be claimed untested.
    """
    return 50.0 if age_years is not None and age_years < 9 else 60.0


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution, and the age below which it applies; None means that it applies to everybody."""

    key: str
    under_years: float | None
    only_brimmed: bool = False
    only_worn: bool = False


CAUTIONS: tuple[Caution, ...] = (
    Caution("cords", 7, only_worn=True),
    Caution("small parts", 3),
    Caution("sleep", 1.5, only_worn=True),
    Caution("shade", None, only_brimmed=True),
    Caution("hands", None),
)
"""Cords: EN 14682 forbids them at the head and neck of clothing for children under 7. Hats are
outside its scope, but the same rule is advised here. Small parts: US 16 CFR 1501, under 3 years.
Sleep: American Academy of Pediatrics, Pediatrics 2022;150(1):e2022057990 (overheating; its sentence
on hats is from memory); the age limit is our choice. Shade: see `brim_for_shade_mm`. Hands: short
rests, as an employer's health service advises (Stanford EHS); low-quality evidence (Cochrane
CD012886).
"""
