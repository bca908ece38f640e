"""Which microphone and loudspeaker: by name, part of it, or number."""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType

from voice.inputs.option_numbers import read_whole
from voice.sound.devices import Format, Kind, NoSoundDeviceError, choose_format


def names(sounddevice: ModuleType, kind: Kind) -> dict[int, str]:
    """The devices that can do this, by PortAudio's number, in its order."""
    return {
        number: str(device["name"])
        for number, device in enumerate(sounddevice.query_devices())
        if device[f"max_{kind}_channels"] > 0
    }


def listed(known: dict[int, str]) -> str:
    """The devices with the numbers that a maker may give: 1 for the first."""
    return ", ".join(f"{place} {name}" for place, name in enumerate(known.values(), 1))


def found(sounddevice: ModuleType, kind: Kind, wanted: str | None) -> int | None:
    """PortAudio's number of the device that is meant; None for the system's choice.

    A whole name goes before a part of one, and small letters count as capitals. Where a system
    shows one device several times, the first counts.

    Raises NoSoundDeviceError, with what there is, when none or several are meant.
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
    """The devices of a call, looked up afresh each time they are opened."""

    def __init__(
        self, sounddevice: ModuleType, wanted: Mapping[str, str | None], rate_hz: int | None
    ) -> None:
        """`wanted` holds for each kind a name, part of it, or a number, as `found` takes them."""
        self._sounddevice = sounddevice
        self._wanted = dict(wanted)
        self._rate_hz = rate_hz

    def format(self, kind: Kind) -> Format:
        """What that device is opened with.

        A device once found is known by its name from then on: numbers move as devices come and go.
        Raises NoSoundDeviceError.
        """
        number = found(self._sounddevice, kind, self._wanted[kind])
        if number is not None:
            self._wanted[kind] = names(self._sounddevice, kind)[number]
        return choose_format(self._sounddevice, kind, number, self._rate_hz)
