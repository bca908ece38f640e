"""Shapes that close, or whose ring is too wide for them, as their users may write them."""

from __future__ import annotations

from typing import Any

POUCH = """
name = "small pouch"
across = "12 cm"
[[part]]
kind = "disc"
called = "base"
girth = 1
[[part]]
kind = "side"
length = "8 cm"
[[part]]
kind = "taper"
called = "neck"
girth = "3 cm"
length = "4 cm"
"""
TUBE = POUCH.replace("3 cm", "2 mm") + '[[part]]\nkind = "side"\ncalled = "tube"\nlength = "5 cm"\n'
BERET: dict[str, Any] = {
    "shape": "beret",
    "head_mm": 280.0,
    "yarn": 6,
    "hook_mm": 12.0,
    "start": 24,
}
