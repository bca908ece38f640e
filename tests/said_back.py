"""What a recogniser of its own, pocketsphinx with its own dictionary, makes of a spoken reply."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

import numpy as np
from pocketsphinx import Decoder

from voice.sound.ports import RATE_HZ, Samples

HISS = 60.0
"""Root mean square laid under the sound: the decoder makes nothing of digital silence, and over
a few levels tried (5 to 150) every sentence was heard right with it."""
_PAUSE = RATE_HZ // 4


def words_of(sentence: str) -> str:
    """The words alone, in small letters."""
    return " ".join(re.findall(r"[a-z']+", sentence.lower()))


@cache
def _decoder() -> tuple[Decoder, str]:
    """Opened once, since its dictionary takes long to read; and its mean of all sounds, which it
    would carry on from one to the next."""
    decoder = Decoder(lm=None, loglevel="FATAL", bestpath=False, compallsen=True)
    return decoder, decoder.get_cmn(False)


def said_back(sound: Samples, sentences: Iterable[str]) -> str | None:
    """Which of the sentences a sound is; None when it is none that the decoder can follow."""
    by_words = {words_of(sentence): sentence for sentence in sentences}
    decoder, mean = _decoder()
    decoder.set_cmn(mean)
    rules = " | ".join(by_words)
    decoder.add_jsgf_string("replies", f"#JSGF V1.0;\ngrammar replies;\npublic <s> = {rules} ;\n")
    decoder.activate_search("replies")
    padded = np.pad(sound.astype(np.float64), _PAUSE)
    padded += np.random.default_rng(1).normal(0.0, HISS, len(padded))
    decoder.start_utt()
    decoder.process_raw(np.clip(padded, -32768, 32767).astype(np.int16).tobytes(), False, True)
    decoder.end_utt()
    best = decoder.hyp()
    return by_words.get(best.hypstr) if best is not None else None
