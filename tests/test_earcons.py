"""The earcons against the discrete Fourier transform and the limits they were made for."""

from itertools import combinations

import numpy as np
import pytest

from voice.sound.earcons import Earcon
from voice.sound.ports import RATE_HZ
from voice.sound.sound_watch import likeness, peak_db


@pytest.mark.parametrize("earcon", Earcon)
def test_short_and_the_same_every_time(earcon: Earcon) -> None:
    sound = earcon.samples()
    assert sound.dtype == np.int16
    assert 0.1 <= len(sound) / RATE_HZ <= 0.2
    np.testing.assert_array_equal(sound, earcon.samples())
    assert earcon.words


@pytest.mark.parametrize("earcon", Earcon)
@pytest.mark.parametrize("level_db", [-30.0, -18.0, -6.0])
def test_level_is_the_peak_asked_for(earcon: Earcon, level_db: float) -> None:
    assert peak_db(earcon.samples(level_db)) == pytest.approx(level_db, abs=0.05)


@pytest.mark.parametrize("earcon", Earcon)
def test_gentle(earcon: Earcon) -> None:
    """No click: ends near silence, hardly any power above 2 kHz (Fourier transform)."""
    sound = earcon.samples().astype(float)
    assert np.max(np.abs(sound[[0, -1]])) <= 0.01 * np.max(np.abs(sound))
    power = np.abs(np.fft.rfft(sound)) ** 2
    high = np.fft.rfftfreq(len(sound), 1 / RATE_HZ) > 2000
    assert power[high].sum() < 1e-4 * power.sum()


@pytest.mark.parametrize("earcon", Earcon)
def test_notes_have_the_pitch_of_the_table(earcon: Earcon) -> None:
    """The strongest Fourier line in the part of a note that no other note covers."""
    sound = earcon.samples().astype(float)
    tones = earcon.value.tones
    for tone in tones:
        begin = max(
            [tone.start_ms]
            + [
                t.start_ms + t.length_ms
                for t in tones
                if t is not tone and t.start_ms < tone.start_ms
            ]
        )
        end = min(
            [tone.start_ms + tone.length_ms]
            + [t.start_ms for t in tones if t is not tone and t.start_ms > tone.start_ms]
        )
        part = sound[begin * RATE_HZ // 1000 : end * RATE_HZ // 1000]
        lines = np.abs(np.fft.rfft(part * np.hanning(len(part)), 1 << 16))
        found_hz = np.argmax(lines) * RATE_HZ / (1 << 16)
        assert found_hz == pytest.approx(tone.pitch_hz, rel=0.04)


def test_told_apart() -> None:
    for one, other in combinations(Earcon, 2):
        short, long = sorted([one.samples(), other.samples()], key=len)
        assert likeness(short, long) < 0.5


def test_rising_and_falling() -> None:
    pitches = {e: [t.pitch_hz for t in e.value.tones] for e in Earcon}
    assert pitches[Earcon.HEARD] == sorted(pitches[Earcon.HEARD])
    assert pitches[Earcon.NOT_CAUGHT] == sorted(pitches[Earcon.NOT_CAUGHT], reverse=True)
    assert len(set(pitches[Earcon.READING_WANTED])) == 1
