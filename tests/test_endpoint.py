"""The endpointer with real (synthetic) speech, noise, and any way of cutting the sound up.

The noises are drawn from a fixed seed; the speech comes from the project's own text-to-speech, so
where a word begins and ends is known to the sample.
"""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.properties import examples
from tests.sound_helpers import pink
from voice.hearing.continuation import AFTER_CALL_S
from voice.sound.background_talk import TalkLevel, TalkSettings
from voice.sound.endpoint import Endpointer, EndpointSettings, Segment
from voice.sound.energy_vad import EnergyJudge
from voice.sound.ports import RATE_HZ, Samples
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

PHRASES = (
    "next",
    "six",
    "go back two stitches",
    "sixty six stitches around the edge",
    "seven and three quarter inches across",
    "one hundred and twenty four",
    "where am I",
)


@pytest.fixture(scope="module")
def spoken() -> Iterator[dict[str, Samples]]:
    with Renderer(Delivery(volume=0.6)) as renderer:
        yield {text: renderer.render(text) for text in PHRASES}


def in_noise(speech: Samples, noise_level: float, lead_s: float = 1.5) -> Samples:
    lead = round(lead_s * RATE_HZ)
    sound = pink(2 * lead + len(speech), noise_level)
    sound[lead : lead + len(speech)] += speech
    return np.clip(sound, -32768, 32767).astype(np.int16)


def segments(sound: Samples) -> list[Segment]:
    endpointer = Endpointer()
    return endpointer.feed(sound) + endpointer.finish()


@pytest.mark.parametrize("below_db", [60, 30, 20])
@pytest.mark.parametrize("text", PHRASES)
def test_one_phrase_is_one_segment_around_it(
    spoken: dict[str, Samples], text: str, below_db: int
) -> None:
    speech = spoken[text]
    level = float(np.sqrt(np.mean(speech.astype(float) ** 2))) * 10 ** (-below_db / 20)
    found = segments(in_noise(speech, level))
    assert len(found) == 1
    assert found[0].start_s == pytest.approx(1.5, abs=0.15)
    assert found[0].end_s == pytest.approx(1.5 + len(speech) / RATE_HZ, abs=0.3)
    length_s = len(found[0].samples) / RATE_HZ
    assert length_s >= found[0].end_s - found[0].start_s + 0.25


def test_the_decision_comes_a_hang_after_the_last_word(spoken: dict[str, Samples]) -> None:
    sound = in_noise(spoken["where am I"], 5.0)
    endpointer, block = Endpointer(), RATE_HZ // 100
    for start in range(0, len(sound), block):
        if found := endpointer.feed(sound[start : start + block]):
            decided_s = (start + block) / RATE_HZ
            assert decided_s - found[0].end_s == pytest.approx(0.3, abs=0.045)
            return
    pytest.fail("no utterance was found")


@pytest.mark.parametrize("noise_level", [0.0, 10.0, 300.0, 3000.0])
def test_steady_noise_from_the_start_is_no_speech(noise_level: float) -> None:
    assert segments(pink(8 * RATE_HZ, noise_level + 1e-9).astype(np.int16)) == []


def test_noise_that_sets_in_does_not_lock_it_open(spoken: dict[str, Samples]) -> None:
    """A tap starts to run 30 dB above the room; a word after six seconds still stands out."""
    running = pink(10 * RATE_HZ, 500.0, seed=2)
    word = spoken["next"].astype(float) * 1.5
    running[6 * RATE_HZ : 6 * RATE_HZ + len(word)] += word
    sound = np.concatenate([pink(3 * RATE_HZ, 15.0), running])
    found = segments(np.clip(sound, -32768, 32767).astype(np.int16))
    last = found[-1]
    assert last.start_s == pytest.approx(9.0, abs=0.2)
    assert last.end_s < 10.5
    assert all(segment.end_s < 6.5 for segment in found[:-1])


def test_holes_in_steady_noise_do_not_open_it() -> None:
    """A block lost now and then must not pass for the silence of the room."""
    sound = pink(10 * RATE_HZ, 300.0).astype(np.int16)
    for hole in range(RATE_HZ, len(sound), 2 * RATE_HZ):
        sound[hole : hole + 640] = 0
    assert segments(sound) == []


def test_a_short_tap_is_no_speech() -> None:
    sound = pink(4 * RATE_HZ, 10.0)
    sound[2 * RATE_HZ : 2 * RATE_HZ + 320] += 8000 * np.hanning(320)
    assert segments(sound.astype(np.int16)) == []


def test_speech_without_end_is_cut_at_the_limit(spoken: dict[str, Samples]) -> None:
    """Phrases on end, without the pauses between them: a film in the room."""
    film = np.concatenate([pink(RATE_HZ, 10.0).astype(np.int16), *(list(spoken.values()) * 3)])
    endpointer = Endpointer(settings=EndpointSettings(longest_s=2.0, hang_s=0.6))
    found = endpointer.feed(film)
    assert found
    assert found[0].cut_s == found[0].end_s, "there was no pause"
    assert all(len(s.samples) <= 2.0 * RATE_HZ for s in found)


def test_forget_drops_what_is_open(spoken: dict[str, Samples]) -> None:
    sound = in_noise(spoken["one hundred and twenty four"], 10.0)
    endpointer = Endpointer()
    assert endpointer.feed(sound[: 2 * RATE_HZ]) == []
    assert endpointer.in_speech
    endpointer.forget()
    assert not endpointer.in_speech
    assert endpointer.finish() == []


def same(one: list[Segment], other: list[Segment]) -> bool:
    return len(one) == len(other) and all(
        (a.start_s, a.end_s, a.cut_s) == (b.start_s, b.end_s, b.cut_s)
        and np.array_equal(a.samples, b.samples)
        for a, b in zip(one, other, strict=True)
    )


def test_ten_milliseconds_at_a_time_is_the_same(spoken: dict[str, Samples]) -> None:
    sound = np.concatenate([in_noise(speech, 20.0, 2.0) for speech in spoken.values()])
    endpointer, pieces = Endpointer(), list[Segment]()
    for start in range(0, len(sound), RATE_HZ // 100):
        pieces += endpointer.feed(sound[start : start + RATE_HZ // 100])
    pieces += endpointer.finish()
    assert len(pieces) >= len(PHRASES)
    assert same(pieces, segments(sound))


@settings(max_examples=examples(60))
@given(
    bursts=st.lists(
        st.tuples(st.floats(0.02, 1.2), st.floats(0.02, 1.2), st.integers(1, 3000)), max_size=6
    ),
    sizes=st.lists(st.integers(0, 7001), min_size=1, max_size=20),
)
def test_any_cutting_gives_the_same_segments(
    bursts: list[tuple[float, float, int]], sizes: list[int]
) -> None:
    parts = [pink(RATE_HZ // 2, 4.0)]
    for loud_s, pause_s, level in bursts:
        parts.append(pink(round(loud_s * RATE_HZ) + 2, float(level)))
        parts.append(pink(round(pause_s * RATE_HZ) + 2, 4.0))
    sound = np.clip(np.concatenate(parts), -32768, 32767).astype(np.int16)
    endpointer, found, start, turn = Endpointer(), list[Segment](), 0, 0
    while start < len(sound):
        size = sizes[turn % len(sizes)] if turn < 200 else 4001
        found += endpointer.feed(sound[start : start + size])
        start, turn = start + size, turn + 1
    assert same(found + endpointer.finish(), segments(sound))


@settings(max_examples=examples(60))
@given(
    pauses=st.lists(st.floats(0.3, 3.0), min_size=1, max_size=4),
    block=st.sampled_from([160, 320, 480, 1600]),
)
def test_what_soon_follows_belongs_to_what_was_only_begun(pauses: list[float], block: int) -> None:
    """The first utterance goes on as often as it comes out, unless it was waited for in vain."""
    burst = pink(RATE_HZ // 2, 2000.0)
    parts = [pink(RATE_HZ, 4.0)]
    for pause_s in pauses:
        parts += [burst, pink(round(pause_s * RATE_HZ), 4.0)]
    sound = np.concatenate([*parts, pink(2 * RATE_HZ, 4.0)]).astype(np.int16)
    endpointer, came = Endpointer(), list[tuple[int, Segment]]()
    for start in range(0, len(sound), block):
        for segment in endpointer.feed(sound[start : start + block]):
            came.append((start + block, segment))
            if len(came) == 1 or (not segment.waited and segment.start_s == came[0][1].start_s):
                endpointer.go_on(segment, AFTER_CALL_S)
    frame = EnergyJudge.frame_samples
    for came_by, segment in came:
        last = came_by // frame * frame
        ends = range(last - block // frame * frame, last + 1, frame)
        assert any(
            np.array_equal(segment.samples, sound[end - len(segment.samples) : end]) for end in ends
        ), "it is one stretch of the sound"
    joined = [segment for _, segment in came if segment.start_s == came[0][1].start_s]
    follow_s, between = AFTER_CALL_S, pauses[:-1]
    least, most = (
        next((n for n, pause_s in enumerate(between) if pause_s > follow_s + give), len(between))
        for give in (-0.1, 0.1)
    )
    may_be_no_pause = sum(pause_s < 0.3 + 2 * 0.02 for pause_s in between)  # of whole frames
    assert least - may_be_no_pause <= len(joined) - 2 <= most
    assert joined[-1].waited
    assert not any(segment.waited for _, segment in came if segment is not joined[-1])
    assert all(a.end_s <= b.end_s for a, b in pairwise(joined))


@given(st.integers(0, EnergyJudge.frame_samples))
def test_what_the_end_cut_off_is_whole_once_it_was_waited_for(more: int) -> None:
    sound = np.concatenate([pink(RATE_HZ, 4.0), pink(RATE_HZ // 2 + more, 2000.0)]).astype(np.int16)
    endpointer = Endpointer()
    assert endpointer.feed(sound) == []
    (segment,) = endpointer.finish()
    endpointer.go_on(segment, AFTER_CALL_S)
    (again,) = endpointer.finish()
    assert again.waited
    assert np.array_equal(again.samples, segment.samples)
    assert endpointer.finish() == []


@pytest.fixture(scope="module")
def talk() -> Samples:
    """Others talk on, without the pauses between their sentences."""
    said = (
        "the rain had stopped before the boat came in",
        "nobody on the quay was in a hurry and nothing was lifted out",
        "at the top of the hill the wind was strong enough to lean on",
        "back in the kitchen there was soup with barley and a loaf of bread",
    )
    with Renderer(Delivery(volume=0.6)) as renderer:
        return np.concatenate([renderer.render(text) for text in said * 2])


def over_talk(speech: Samples, talk: Samples, above_db: float, at_s: float) -> Samples:
    """A phrase over talk so much weaker."""
    level = np.std(speech.astype(float)) / np.std(talk.astype(float)) * 10 ** (-above_db / 20)
    sound = talk * level + pink(len(talk), 5.0)
    at = round(at_s * RATE_HZ)
    sound[at : at + len(speech)] += speech
    mixed: Samples = np.clip(sound, -32768, 32767).astype(np.int16)
    return mixed


@pytest.mark.parametrize("above_db", [12, 15])
@pytest.mark.parametrize("text", PHRASES[2:])
def test_a_phrase_stands_out_from_talk_that_goes_on(
    spoken: dict[str, Samples], talk: Samples, text: str, above_db: int
) -> None:
    speech = spoken[text]
    began_s, ended_s = 8.0, 8.0 + len(speech) / RATE_HZ
    found = [
        segment
        for segment in segments(over_talk(speech, talk, above_db, began_s))
        if segment.start_s < ended_s and segment.end_s > began_s
    ]
    assert len(found) == 1
    assert found[0].amid_talk
    assert found[0].start_s == pytest.approx(began_s, abs=0.35)
    assert found[0].end_s == pytest.approx(ended_s, abs=0.4)


def test_phrases_on_end_that_are_understood_are_not_taken_for_talk(
    spoken: dict[str, Samples],
) -> None:
    sound = np.concatenate([in_noise(speech, 20.0, 0.3) for speech in spoken.values()] * 2)
    endpointer, found = Endpointer(), 0
    for start in range(0, len(sound), RATE_HZ // 50):
        for segment in endpointer.feed(sound[start : start + RATE_HZ // 50]):
            endpointer.no_others(segment)
            assert not segment.amid_talk
            found += 1
    assert found >= 2 * len(PHRASES) - 1


@given(
    levels=st.lists(st.floats(-90, -10), max_size=700),
    more=st.lists(st.floats(-90, -10), max_size=100),
)
def test_what_the_maker_said_leaves_no_trace_in_the_level_of_talk(
    levels: list[float], more: list[float]
) -> None:
    kept, dropped = TalkLevel(TalkSettings(memory_s=20)), TalkLevel(TalkSettings(memory_s=20))
    for level in levels:
        kept.add(level)
        dropped.add(level)
    for level in more:
        dropped.add(level)
    dropped.drop(len(more))
    assert kept.threshold_db(-62.0) == dropped.threshold_db(-62.0)


@given(st.lists(st.floats(-90, -10), min_size=1, max_size=600))
def test_talk_level_lies_among_the_loud_frames_or_there_is_none(levels: list[float]) -> None:
    talk_level, told = TalkLevel(), TalkSettings()
    for level in levels:
        talk_level.add(level)
    threshold = talk_level.threshold_db(-62.0)
    heard = levels[-500:]
    loud = sum(level > threshold - told.margin_db for level in heard)
    assert threshold == -np.inf or (
        len(heard) >= told.least_s * 50 and loud <= told.loudest * len(heard)
    )
