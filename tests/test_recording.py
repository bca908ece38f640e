"""Recordings of any rate and sample format are the same sound; what is none says so."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from voice.ports import RATE_HZ
from voice.recognisers.recording import (
    BadRate,
    NotARecording,
    at_16_khz,
    read_recording,
    recordings_in,
)


def _tone(rate_hz: int, channels: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    sound = 0.5 * np.sin(2 * np.pi * 440 * np.arange(rate_hz) / rate_hz)
    return np.stack([sound] * channels, axis=1)


@pytest.mark.parametrize("rate_hz", [8_000, 16_000, 22_050, 44_100, 48_000])
@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("subtype", ["PCM_U8", "PCM_16", "FLOAT"])
def test_a_tone_stays_the_same_tone(
    tmp_path: Path, rate_hz: int, channels: int, subtype: str
) -> None:
    file = tmp_path / "tone.wav"
    soundfile.write(file, _tone(rate_hz, channels), rate_hz, subtype)
    samples = read_recording(file)
    assert samples.dtype == np.int16
    assert abs(len(samples) - RATE_HZ) <= 1
    # A second of a sine of 440 Hz has its energy in line 440 of its Fourier transform.
    lines = np.abs(np.fft.rfft(samples[:RATE_HZ].astype(float), RATE_HZ))
    assert int(lines.argmax()) == 440
    assert np.abs(samples).max() == pytest.approx(0.5 * 32_768, rel=0.03)


@pytest.mark.parametrize(
    "content", [b"", b"RIFF", b"<html>no sound</html>", b"RIFF\x24\0\0\0WAVEfmt "]
)
def test_what_is_no_sound_says_so(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "a.wav"
    file.write_bytes(content)
    with pytest.raises(NotARecording) as caught:
        read_recording(file)
    assert caught.value.path == file
    assert "Give a WAV file" in str(caught.value)


def test_a_recording_without_samples_or_with_nan_is_none(tmp_path: Path) -> None:
    empty, broken = tmp_path / "e.wav", tmp_path / "n.wav"
    soundfile.write(empty, np.zeros((0, 1)), RATE_HZ)
    soundfile.write(broken, np.array([0.0, np.nan]), RATE_HZ, "FLOAT")
    for file in (empty, broken, tmp_path / "missing.wav", tmp_path):
        with pytest.raises(NotARecording):
            read_recording(file)


def test_a_folder_gives_its_wav_files_by_name(tmp_path: Path) -> None:
    for name in ("b.wav", "a.WAV", "c.txt"):
        (tmp_path / name).write_bytes(b"")
    assert [file.name for file in recordings_in(tmp_path)] == ["a.WAV", "b.wav"]
    assert recordings_in(tmp_path / "b.wav") == (tmp_path / "b.wav",)
    (tmp_path / "none").mkdir()
    for place in (tmp_path / "none", tmp_path / "missing"):
        with pytest.raises(NotARecording):
            recordings_in(place)


@pytest.mark.parametrize("rate_hz", [0, 3_999, 400_000])
def test_a_rate_of_no_speech_is_refused(rate_hz: int) -> None:
    with pytest.raises(BadRate):
        at_16_khz(np.zeros(10, np.int16), rate_hz)
