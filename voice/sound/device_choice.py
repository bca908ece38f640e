"""Chooses the microphone and the loudspeaker by name, part of a name, or number."""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType

from voice.inputs.option_numbers import read_whole
from voice.sound.devices import Format, choose_format
from voice.sound.sound_errors import Kind, NoSoundDeviceError


def names(sounddevice: ModuleType, kind: Kind) -> dict[int, str]:
    """Names of the devices of this kind by PortAudio's number, in its order."""
    return {
        number: str(device["name"])
        for number, device in enumerate(sounddevice.query_devices())
        if device[f"max_{kind}_channels"] > 0
    }


def listed(known: dict[int, str]) -> str:
    """List of the devices with the numbers that a maker can give, from 1 on."""
    return ", ".join(f"{place} {name}" for place, name in enumerate(known.values(), 1))


def found(sounddevice: ModuleType, kind: Kind, wanted: str | None) -> int | None:
    """PortAudio's number of the wanted device; None for the system's choice.

    A whole name takes precedence over part of a name, and case is ignored. If a system lists a
    device several times, the first one is used.

    Raises NoSoundDeviceError, with the list of devices, if none or several match.
    """
    if wanted is None:
        return None
    known = names(sounddevice, kind)
    if (place := read_whole(wanted)) is not None and 1 <= place <= len(known):
        return list(known)[place - 1]
    sought = wanted.casefold()
    whole = [number for number, name in known.items() if name.casefold() == sought]
    part = [number for number, name in known.items() if sought in name.casefold()]
    if whole:
        return whole[0]
    if len({known[number] for number in part}) == 1:
        return part[0]
    reason = "several are meant" if part else "there is none of that name or number"
    reason = reason if known else "there is none at all"
    raise NoSoundDeviceError(kind, wanted, reason, listed(known))


class Wanted:
    """The devices of a call, looked up again each time they are opened."""

    def __init__(
        self, sounddevice: ModuleType, wanted: Mapping[str, str | None], rate_hz: int | None
    ) -> None:
        """`wanted` has a name, part of a name, or a number for each kind, as in `found`."""
        self._sounddevice = sounddevice
        self._wanted = dict(wanted)
        self._rate_hz = rate_hz

    def format(self, kind: Kind) -> Format:
        """The format in which to open that device.

        Once found, a device is looked up by its name, since numbers change as devices come and go.
        Raises NoSoundDeviceError.
        """
        number = found(self._sounddevice, kind, self._wanted[kind])
        if number is not None:
            self._wanted[kind] = names(self._sounddevice, kind)[number]
        return choose_format(self._sounddevice, kind, number, self._rate_hz)
