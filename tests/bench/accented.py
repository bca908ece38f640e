"""Voices of languages of which the net learnt no voice at all, and nothing was fitted to."""

from __future__ import annotations

from voice.recognisers.net.learning.speakers import Voice

_NAMES = {
    "Hindi": ("hf_alpha", "hf_beta", "hm_omega", "hm_psi"),
    "Japanese": ("jf_gongitsune", "jf_tebukuro"),
}
ACCENTED = tuple(
    Voice("kokoro", name, group=language) for language, names in _NAMES.items() for name in names
)
