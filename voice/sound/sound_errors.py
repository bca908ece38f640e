"""Reasons why sound cannot be used; each text says what to do."""

from typing import Literal

from pattern.errors import RoundsAloudError

Kind = Literal["input", "output"]
SPOKEN: dict[Kind, str] = {"input": "microphone", "output": "loudspeaker"}
"""Word for a device of each kind."""


class SoundUnavailableError(RoundsAloudError):
    """Sound cannot be used now; the session can go on by typing."""


class PortAudioMissingError(SoundUnavailableError):
    """The sound library is not on this computer."""

    def __init__(self, reason: str) -> None:
        """`reason` is the error of loading it."""
        self.reason = reason
        super().__init__(
            f"The sound library does not load ({reason}); run 'pip install sounddevice' and, on"
            " Debian or Ubuntu, 'sudo apt-get install libportaudio2', or go on by typing."
        )


class SoundNotStartingError(SoundUnavailableError):
    """The sound library does not start with the computer's sound settings."""

    def __init__(self, reason: str) -> None:
        """`reason` is the error of starting it."""
        self.reason = reason
        super().__init__(
            f"The computer's sound does not start ({reason}); mend its settings (on Linux, the file"
            " .asoundrc in your home folder), or go on by typing."
        )


class NoSoundDeviceError(SoundUnavailableError):
    """The wanted device, or any device, is missing."""

    def __init__(self, kind: Kind, wanted: str | None, reason: str, listed: str = "") -> None:
        """Name the wanted device, the reason, and the devices there are, with their numbers."""
        self.kind = kind
        self.wanted = wanted
        self.reason = reason
        what = f"no {SPOKEN[kind]} named '{wanted}'" if wanted else f"no {SPOKEN[kind]}"
        remedy = f"choose one of {listed}" if listed else "plug one in"
        super().__init__(f"I find {what} ({reason}); {remedy}, or go on by typing.")


class SoundStuckError(SoundUnavailableError):
    """The system's sound service does not answer."""

    def __init__(self, call: str, limit_s: float) -> None:
        """Name the call that did not return, and the time limit."""
        self.call = call
        self.limit_s = limit_s
        super().__init__(
            f"The computer's sound service did not answer in {limit_s:g} seconds ({call}); restart"
            " it (on Linux: 'systemctl --user restart pipewire pulseaudio'), or go on by typing."
        )
