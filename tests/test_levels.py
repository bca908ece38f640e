"""One level for every voice: measured on sounds whose level is known by calculation."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from voice.sound.ports import FULL_SCALE
from voice.speech.levels import LEVEL_DB, PEAK, Floats, at_one_level, level_db, trimmed

RATE_HZ = 22_050


def tone(amplitude: float, length_s: float = 0.5) -> Floats:
    times = np.arange(round(length_s * RATE_HZ)) / RATE_HZ
    return (amplitude * np.sin(2 * np.pi * 200 * times)).astype(np.float32)


@given(st.floats(0.001, 1.0))
def test_the_level_of_a_tone_is_its_amplitude_over_root_two(amplitude: float) -> None:
    assert level_db(tone(amplitude), RATE_HZ) == pytest.approx(
        20 * np.log10(amplitude / np.sqrt(2)), abs=0.1
    )


@given(st.floats(0.001, 1.0), st.floats(0.1, 2.0))
def test_pauses_do_not_count(amplitude: float, pause_s: float) -> None:
    quiet = np.zeros(round(pause_s * RATE_HZ), np.float32)
    paused = np.concatenate([tone(amplitude), quiet, tone(amplitude)])
    assert level_db(paused, RATE_HZ) == pytest.approx(level_db(tone(amplitude), RATE_HZ), abs=0.3)


@given(st.floats(0.001, 1.0), st.floats(0.1, 1.0))
def test_soft_and_loud_voices_come_out_alike_and_the_volume_holds(
    amplitude: float, volume: float
) -> None:
    made = at_one_level(tone(amplitude), RATE_HZ, volume).astype(np.float32) / FULL_SCALE
    wanted_db = LEVEL_DB + 20 * np.log10(volume)
    assert level_db(made, RATE_HZ) == pytest.approx(wanted_db, abs=0.1)


@given(st.floats(0.001, 1.0), st.integers(0, 9999))
def test_no_peak_is_clipped(amplitude: float, at: int) -> None:
    """A single click over a soft voice holds the whole down."""
    sound = tone(amplitude * 0.01)
    sound[at % len(sound)] = amplitude
    assert np.max(np.abs(at_one_level(sound, RATE_HZ, 1.0).astype(int))) <= PEAK * FULL_SCALE + 1


def test_silence_is_no_sound() -> None:
    silence = np.zeros(RATE_HZ, np.float32)
    assert len(trimmed(silence, RATE_HZ)) == 0
    assert len(at_one_level(trimmed(silence, RATE_HZ), RATE_HZ, 1.0)) == 0


@given(st.floats(0.1, 2.0), st.floats(0.1, 2.0))
def test_silence_around_is_trimmed_to_a_margin(before_s: float, after_s: float) -> None:
    quiet = [np.zeros(round(s * RATE_HZ), np.float32) for s in (before_s, after_s)]
    cut = trimmed(np.concatenate([quiet[0], tone(0.3), quiet[1]]), RATE_HZ)
    assert 0 <= len(cut) - len(tone(0.3)) <= 0.11 * RATE_HZ
