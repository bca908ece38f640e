"""Owns both sound streams, and recovers them after a loss."""

import threading
from collections.abc import Callable
from contextlib import suppress
from time import monotonic

from voice.sound.device_choice import Wanted
from voice.sound.devices import Format, load_portaudio, portaudio_caller, restart_portaudio
from voice.sound.ports import RATE_HZ, Condition, DeviceBack, DeviceLost, OnlyMicrophoneLost
from voice.sound.sound_errors import NoSoundDeviceError, SoundStuckError, SoundUnavailableError
from voice.sound.sound_settings import SoundSettings
from voice.sound.streams import Captured, Streams
from voice.sound.waiting_sound import Waiting

OPEN_LIMIT_S, CALL_LIMIT_S = 6.0, 2.0
SETTLE_S = 0.04
"""Wait after restarting a stream: PulseAudio loses up to 10 ms of what it is given at once."""
TOLD_ALONE = 2
"""Number of attempts in a row without a microphone before the maker is told, since a service that
is just starting may bring up the loudspeaker first."""
_TICK_S = 0.05
_FIRST_PAUSE_S, _LONGEST_PAUSE_S = 0.2, 2.0


class Duplex:
    """Keeps two streams running; after `open`, only its own thread calls PortAudio."""

    def __init__(
        self, settings: SoundSettings, emit: Callable[[Captured | Condition], None]
    ) -> None:
        """`emit` takes blocks, in PortAudio's callback, and conditions; it must not block."""
        self._settings = settings
        self._emit = emit
        self._library = load_portaudio()
        wanted = {"input": settings.microphone, "output": settings.loudspeaker}
        self._devices = Wanted(self._library, wanted, settings.device_rate_hz)
        self._caller = portaudio_caller()
        self._streams: Streams | None = None
        self._wake, self._quit = threading.Event(), threading.Event()
        self._cut = threading.Event()
        self._thread = threading.Thread(target=self._own, name="sound-owner", daemon=True)
        self.waiting = Waiting()
        self.loudspeaker_hz = RATE_HZ

    def open(self) -> None:
        """Open both streams, and keep them running from then on.

        Raises SoundUnavailableError if this first attempt fails.
        """
        try:
            self._bring_up()
        except SoundUnavailableError:
            self._take_down()
            raise
        self._thread.start()

    def silence(self) -> None:
        """Drop all sound that is waiting or buffered by the device."""
        self.waiting.hold()
        self._cut.set()
        self._wake.set()

    def close(self) -> None:
        """End both streams, with a time limit in case the sound service is frozen."""
        self._quit.set()
        self._wake.set()
        if self._thread.is_alive():
            self._thread.join(OPEN_LIMIT_S + CALL_LIMIT_S)

    def _own(self) -> None:
        while not self._quit.is_set():
            reason = self._until_lost()
            lost_s = monotonic()
            if not self._quit.is_set():
                self._emit(DeviceLost(reason))
            self._take_down()
            if self._recovered():
                self._emit(DeviceBack(monotonic() - lost_s))

    def _until_lost(self) -> str:
        """Serve the running streams; return the reason why they stopped."""
        assert self._streams is not None
        while not self._quit.is_set():
            self._wake.wait(_TICK_S)
            self._wake.clear()
            if self._streams.ended.is_set():
                return "the sound system ended it"
            if self._streams.seen_quiet_for_s() > self._settings.stall_s:
                return "nothing comes from it any more"
            if self._cut.is_set() and (reason := self._silenced(self._streams)):
                return reason
        return "closed"

    def _silenced(self, streams: Streams) -> str:
        """Silence the loudspeaker at once; return the reason if it was lost."""
        self._cut.clear()
        try:
            self._caller.call(streams.silence, CALL_LIMIT_S)
        except (SoundUnavailableError, self._library.PortAudioError) as error:
            return str(error)
        self._quit.wait(SETTLE_S)
        if not self._cut.is_set():
            self.waiting.release()
        return ""

    def _recovered(self) -> bool:
        """Retry until both streams deliver sound again; False if closed meanwhile.

        If only the microphone is missing, the loudspeaker is kept alone, and reopened only between
        sentences.
        """
        pause_s, times_alone = _FIRST_PAUSE_S, 0
        while self._rested(pause_s):
            self._take_down()
            pause_s = min(1.5 * pause_s, _LONGEST_PAUSE_S)
            if (streams := self._up_again()) is None:
                continue
            if streams.microphone is not None:
                return True
            pause_s, times_alone = _LONGEST_PAUSE_S, times_alone + 1
            if times_alone == TOLD_ALONE:
                self._emit(OnlyMicrophoneLost())
        self._take_down()
        return False

    def _rested(self, pause_s: float) -> bool:
        """Let so much time pass in which nothing is said; False if closed meanwhile."""
        end_s = monotonic() + pause_s
        while not self._quit.wait(_TICK_S):
            if self._still_says():
                end_s = monotonic() + pause_s
            elif monotonic() >= end_s:
                return True
        return False

    def _still_says(self) -> bool:
        """Whether the loudspeaker, kept alone, is still playing."""
        if self._streams is None or self._cut.is_set() or self._streams.ended.is_set():
            return False
        stalled = self._streams.seen_quiet_for_s() > self._settings.stall_s
        return not stalled and self.waiting.busy(monotonic())

    def _up_again(self) -> Streams | None:
        """The reopened streams if sound comes from them; otherwise they are closed."""
        with suppress(SoundUnavailableError):  # reported as lost already
            self._bring_up()
            if self._flows():
                return self._streams
        self._take_down()
        return None

    def _flows(self) -> bool:
        """Whether sound comes from newly opened streams."""
        assert self._streams is not None
        while not self._quit.wait(_TICK_S):
            stalled = self._streams.seen_quiet_for_s() > self._settings.stall_s
            if stalled or self._streams.ended.is_set():
                return False
            if self._streams.flowing:
                return True
        return False

    def _bring_up(self) -> None:
        self._caller.call(self._start, OPEN_LIMIT_S)

    def _start(self) -> None:
        """Look up the devices again and open them. Runs in the bounded caller."""
        settings, library = self._settings, self._library
        restart_portaudio(library)
        try:
            microphone, loudspeaker = self._microphone(), self._devices.format("output")
            streams = Streams(library, microphone, loudspeaker, self._emit, self.waiting)
            self._streams = streams
            self.loudspeaker_hz = loudspeaker.rate_hz
            streams.open(settings.block_s, settings.latency_s)
        except library.PortAudioError as error:
            raise SoundUnavailableError(f"The sound device does not open ({error}).") from error
        self.waiting.open(loudspeaker.rate_hz)

    def _microphone(self) -> Format | None:
        """Format of the microphone; None if it is missing after a loss."""
        try:
            return self._devices.format("input")
        except NoSoundDeviceError:
            if not self._thread.is_alive():  # at the first opening it must be there
                raise
            return None

    def _take_down(self) -> None:
        """Close the streams; the next attempt waits for a call that hangs."""
        self.waiting.shut()
        self._cut.clear()
        streams, self._streams = self._streams, None
        if streams is None:
            return
        streams.abandon()
        with suppress(SoundStuckError):  # the next attempt waits for it
            self._caller.call(streams.close, CALL_LIMIT_S)
