"""Which device a name or a number means: a list of our own, and the virtual sound card."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.running_program import LIMIT_S, calling
from voice.sentences.hearing import TYPING
from voice.sound.card import Sound
from voice.sound.device_choice import found, listed, names
from voice.sound.devices import load_portaudio
from voice.sound.ports import AudioBlock
from voice.sound.sound_errors import NoSoundDeviceError
from voice.sound.sound_settings import SoundSettings

DEVICES = (
    ("Desk Mic", 1, 0),
    ("speakers", 0, 2),
    ("head set", 1, 2),
    ("Head Set two", 2, 2),
    ("desk mic", 1, 0),
)


class Listing(ModuleType):
    """Lists devices as PortAudio does; what the card really gives is tested below."""

    @staticmethod
    def query_devices() -> list[dict[str, Any]]:
        return [
            {"name": name, "max_input_channels": into, "max_output_channels": out}
            for name, into, out in DEVICES
        ]


LISTING = Listing("listing")
MICROPHONES = [number for number, (_, into, _) in enumerate(DEVICES) if into]


@pytest.mark.parametrize(
    ("wanted", "number"),
    [
        (None, None),
        ("1", 0),
        ("2", 2),
        ("3", 3),
        ("4", 4),
        ("desk mic", 0),
        ("HEAD SET", 2),
        ("two", 3),
        ("set two", 3),
    ],
)
def test_a_name_a_part_of_it_or_a_number(wanted: str | None, number: int | None) -> None:
    assert found(LISTING, "input", wanted) == number


@pytest.mark.parametrize("wanted", ["speakers", "phone", "5", "0", "head", "e", "-1"])
def test_what_is_none_or_several_lists_them_in_one_sentence(wanted: str) -> None:
    with pytest.raises(NoSoundDeviceError) as missing:
        found(LISTING, "input", wanted)
    told = str(missing.value)
    assert "1 Desk Mic, 2 head set, 3 Head Set two, 4 desk mic" in told
    assert told.count(".") == 1
    assert f"'{wanted}'" in told


@given(st.text(max_size=6))
def test_whatever_is_wanted_a_device_of_that_kind_is_found_or_it_is_told(wanted: str) -> None:
    try:
        assert found(LISTING, "input", wanted) in MICROPHONES
    except NoSoundDeviceError as missing:
        told = str(missing)
    else:
        return
    assert listed(names(LISTING, "input")) in told


@pytest.mark.usefixtures("card")
def test_on_the_card_a_number_and_a_part_of_its_name_open_the_same() -> None:
    with Sound():
        known = names(load_portaudio(), "input")
    number, name = next((at, name) for at, name in enumerate(known.values(), 1) if name == "pulse")
    assert f"{number} {name}" in listed(known)
    for wanted in (str(number), name.upper()):
        with Sound(SoundSettings(microphone=wanted, loudspeaker=name)) as sound:
            assert isinstance(sound.read(3.0), AudioBlock)


@pytest.mark.usefixtures("card")
def test_a_call_with_another_name_tells_what_there_is_and_goes_on_typed(tmp_path: Path) -> None:
    with calling(tmp_path, "--head", "52cm", "--loudspeaker", "gramophone") as program:
        told = program.wait_for(TYPING)
        program.type("leave")
        assert program.process.wait(LIMIT_S) == 0
    assert "no loudspeaker named 'gramophone'" in told
    assert "1 " in told
