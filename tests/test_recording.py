"""Recordings of any rate and sample format are the same sound; what is none says so."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]
import soxr  # type: ignore[import-untyped]
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.properties import examples, thoroughly
from voice.recognisers.recording import (
    LONGEST_S,
    NotARecording,
    read_recording,
    recorded,
    recordings_in,
)
from voice.sound.ports import RATE_HZ


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
    assert "Give a whole WAV file" in str(caught.value)


def test_a_recording_without_samples_or_with_nan_is_none(tmp_path: Path) -> None:
    empty, broken = tmp_path / "e.wav", tmp_path / "n.wav"
    soundfile.write(empty, np.zeros((0, 1)), RATE_HZ)
    soundfile.write(broken, np.array([0.0, np.nan]), RATE_HZ, "FLOAT")
    huge = tmp_path / "h.wav"
    soundfile.write(huge, np.array([0.0, 3e38]), RATE_HZ, "FLOAT")
    for file in (empty, broken, huge, tmp_path / "missing.wav", tmp_path):
        with pytest.raises(NotARecording):
            read_recording(file)


@given(cut=st.integers(1, 1_999), extra=st.booleans())
def test_a_wav_that_lost_its_end_says_so_and_what_follows_the_sound_does_no_harm(
    tmp_path_factory: pytest.TempPathFactory, cut: int, extra: bool
) -> None:
    file = tmp_path_factory.mktemp("cut") / "a.wav"
    soundfile.write(file, np.arange(1_000, dtype=np.int16), RATE_HZ)
    whole = file.read_bytes()
    if extra:  # a chunk before the sound that is none, of an odd size, padded
        whole = whole[:36] + b"note\x03\0\0\0abc\0" + whole[36:]
    file.write_bytes(whole + b"LIST\0\0\0\0")
    assert len(read_recording(file)) == 1_000
    file.write_bytes(whole[:-cut])
    with pytest.raises(NotARecording, match="its end is missing"):
        read_recording(file)


@pytest.mark.parametrize("size", [0x7FFFF000, 0x80000000, 0xFFFFFFFF])
def test_a_wav_from_a_pipe_is_as_long_as_it_is(tmp_path: Path, size: int) -> None:
    file = tmp_path / "a.wav"
    soundfile.write(file, np.arange(1_000, dtype=np.int16), RATE_HZ)
    data = file.read_bytes()
    file.write_bytes(data[:40] + size.to_bytes(4, "little") + data[44:])
    assert len(read_recording(file)) == 1_000


def test_channels_that_undo_each_other_are_heard(tmp_path: Path) -> None:
    file, tone = tmp_path / "a.wav", _tone(RATE_HZ, 1)[:, 0]
    soundfile.write(file, np.stack([tone, -tone], axis=1), RATE_HZ)
    assert np.abs(read_recording(file)).max() == pytest.approx(0.5 * 32_768, rel=0.03)
    soundfile.write(file, np.stack([tone, 0 * tone], axis=1), RATE_HZ)
    assert np.abs(read_recording(file)).max() == pytest.approx(0.25 * 32_768, rel=0.03)


@pytest.mark.parametrize("rate_hz", [3_999, 400_000, 2_000_000])
def test_a_rate_of_no_speech_is_told_in_sentences(tmp_path: Path, rate_hz: int) -> None:
    file = tmp_path / "a.wav"
    soundfile.write(file, _tone(RATE_HZ, 1), rate_hz)
    with pytest.raises(NotARecording, match=f"{rate_hz} Hz") as caught:
        read_recording(file)
    assert ".." not in str(caught.value)


def test_a_folder_gives_its_wav_files_by_name(tmp_path: Path) -> None:
    for name in ("b.wav", "a.WAV", "c.txt"):
        (tmp_path / name).write_bytes(b"")
    assert [file.name for file in recordings_in(tmp_path)] == ["a.WAV", "b.wav"]
    assert recordings_in(tmp_path / "b.wav") == (tmp_path / "b.wav",)
    (tmp_path / "none").mkdir()
    for place in (tmp_path / "none", tmp_path / "missing"):
        with pytest.raises(NotARecording):
            recordings_in(place)


@given(
    rate_hz=st.sampled_from([8_000, 16_000, 22_050, 44_100, 48_000, 192_000]),
    channels=st.sampled_from([1, 2, 6]),
    length_s=st.floats(0.05, 20),
)
@settings(max_examples=examples(15))
def test_in_blocks_it_is_the_sound_that_it_is_whole(
    tmp_path_factory: pytest.TempPathFactory, rate_hz: int, channels: int, length_s: float
) -> None:
    """Against soxr, which resamples it at one go."""
    file = tmp_path_factory.mktemp("blocks") / "a.wav"
    sound = np.random.default_rng(rate_hz).normal(0, 0.1, (int(length_s * rate_hz), channels))
    soundfile.write(file, sound, rate_hz, "FLOAT")
    blocks = [*recorded(file)]
    whole = soxr.resample(sound.mean(axis=1).astype(np.float32), rate_hz, RATE_HZ)
    assert max(map(len, blocks)) < 1 << 20
    found = np.concatenate(blocks)
    assert abs(len(found) - len(whole)) <= 1
    least = min(len(found), len(whole))
    assert np.abs(found[:least] - whole[:least] * 32_768).max() <= 2


def test_more_than_two_hours_are_refused_by_what_the_file_says_of_itself(tmp_path: Path) -> None:
    """None of its sound is there, nor read."""
    file = tmp_path / "a.wav"
    with soundfile.SoundFile(file, "w", RATE_HZ, 1, "PCM_16") as sound:
        sound.write(np.zeros(1, np.int16))
    data = bytearray(file.read_bytes())
    frames = int(LONGEST_S * RATE_HZ) + 1
    data[40:44] = (2 * frames).to_bytes(4, "little")
    file.write_bytes(data)
    os.truncate(file, 44 + 2 * frames)
    with pytest.raises(NotARecording, match="longer than 2 hours"):
        next(recorded(file))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with a name")
def test_what_is_no_regular_file_is_refused_before_it_is_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.wav")  # to open it would wait for a writer
    for place in (tmp_path / "pipe.wav", Path("/dev/zero")):
        with pytest.raises(NotARecording, match="no regular file"):
            read_recording(place)


MOST_MB = 350
PEAK = """
import re, sys
from pathlib import Path
from voice.cli import app
code = app.main(sys.argv[1:])
peak_kib = re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1]
print(code, int(peak_kib) // 1024, file=sys.stderr)
"""
"""Source: proc_pid_status(5); unlike getrusage(2) it knows nothing of whoever began the process."""


@thoroughly
@pytest.mark.skipif(sys.platform != "linux", reason="needs /proc")
def test_a_long_recording_takes_no_more_memory_than_a_short_one(tmp_path: Path) -> None:
    file = tmp_path / "long.flac"
    silence = np.zeros((60 * 48_000, 2), np.int16)
    with soundfile.SoundFile(file, "w", 48_000, 2, "PCM_16") as sound:
        for _ in range(20):
            sound.write(silence)
    done = subprocess.run(
        [sys.executable, "-c", PEAK, "hear", str(file)], text=True, capture_output=True, check=True
    )
    code, peak_mb = map(int, done.stderr.split())
    assert (code, "silent" in done.stdout) == (0, True)
    assert peak_mb <= MOST_MB
