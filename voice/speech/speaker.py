"""Renders texts to speech in a child process, caches the samples, and plays them."""

import queue
import threading
from collections import OrderedDict
from contextlib import suppress
from dataclasses import asdict
from typing import Any, Self

import numpy as np
import soxr  # type: ignore[import-untyped]

from pattern.errors import RoundsAloudError
from voice.sound.ports import RATE_HZ, Player, Samples
from voice.speech.delivery import Delivery, DeliveryRefusedError, Voice
from voice.speech.speech_process import Answer, ChildFailedError, SpeechChild

KEPT_RENDERS = 64
"""Number of cached texts, about 4 MB: enough for a round's sentences and the usual questions."""


class SpeechFailedError(RoundsAloudError):
    """Speech could not be rendered, even after restarting the engine."""

    def __init__(self, text: str, reason: str) -> None:
        """Name the text that was not said, and the error of the last attempt."""
        self.text = text
        self.reason = reason
        super().__init__(
            f"Speaking does not work ({reason}); go on with the printed words, or run"
            " pip install --upgrade pyttsx3 espeakng-loader soundfile"
        )


class Renderer:
    """Turns texts into samples, and owns the child process.

    Several threads may use it. One text is rendered at a time.
    """

    def __init__(
        self,
        delivery: Delivery | None = None,
        *,
        limit_s: float = 8.0,
        start_limit_s: float = 20.0,
    ) -> None:
        """Start nothing yet: the child is started for the first text.

        `limit_s` is for one text, hundreds of times longer than it takes. `start_limit_s` is for
        starting the engine.
        """
        self._delivery = delivery or Delivery()
        self._limit_s = limit_s
        self._start_limit_s = start_limit_s
        self._child: SpeechChild | None = None
        self._kept: OrderedDict[tuple[str, Delivery], Samples] = OrderedDict()
        self._lock = threading.Lock()
        self._ahead: queue.Queue[str | None] = queue.Queue()
        self._ahead_thread: threading.Thread | None = None

    @property
    def delivery(self) -> Delivery:
        """Delivery of the next texts."""
        return self._delivery

    @property
    def child_pid(self) -> int | None:
        """Process ID of the running child."""
        return self._child.pid if self._child else None

    def kept(self) -> list[tuple[str, Delivery]]:
        """Texts that are cached, oldest first."""
        with self._lock:
            return list(self._kept)

    def change(self, delivery: Delivery) -> None:
        """Change the delivery of the next texts.

        Raises DeliveryRefusedError if the engine has no such voice.
        """
        if delivery.voice is not None:
            known = [voice.id for voice in self.voices()]
            if delivery.voice not in known:
                raise DeliveryRefusedError("voice", delivery.voice, "one of " + ", ".join(known))
        self._delivery = delivery

    def voices(self) -> list[Voice]:
        """The voices of the engine, in its order.

        Raises SpeechFailedError.
        """
        with self._lock:
            head, _ = self._ask({"voices": True}, "the list of voices")
        return [Voice(**voice) for voice in head["voices"]]

    def render(self, text: str) -> Samples:
        """The text as speech at `RATE_HZ`, with silence trimmed; empty for a blank text.

        Raises SpeechFailedError if the child fails twice.
        """
        if not text.strip():
            return np.zeros(0, np.int16)
        with self._lock:
            key = (text, self._delivery)
            if key not in self._kept:
                self._kept[key] = self._rendered(text)
            self._kept.move_to_end(key)
            while len(self._kept) > KEPT_RENDERS:
                self._kept.popitem(last=False)
            return self._kept[key]

    def prepare(self, text: str) -> None:
        """Render `text` in the background, so that it is ready when needed."""
        if self._ahead_thread is None:
            self._ahead_thread = threading.Thread(
                target=self._render_ahead, name="speech-ahead", daemon=True
            )
            self._ahead_thread.start()
        self._ahead.put(text)

    def close(self) -> None:
        """End the child and the background thread; a later text starts a new child."""
        if self._ahead_thread is not None:
            with suppress(queue.Empty):
                while True:
                    self._ahead.get_nowait()
            self._ahead.put(None)
            self._ahead_thread.join()
            self._ahead_thread = None
        with self._lock:
            self._end_child()

    def __enter__(self) -> Self:
        """Close at the end of the block."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close."""
        self.close()

    def _render_ahead(self) -> None:
        while (text := self._ahead.get()) is not None:
            try:
                self.render(text)
            except SpeechFailedError:
                continue  # saying the text will try again, and report the error

    def _rendered(self, text: str) -> Samples:
        head, body = self._ask({"text": text, **asdict(self._delivery)}, text)
        sound = soxr.resample(np.frombuffer(body, "<i2"), head["rate_hz"], RATE_HZ)
        rendered: Samples = sound.astype(np.int16)
        rendered.setflags(write=False)
        return rendered

    def _ask(self, request: dict[str, Any], text: str) -> Answer:
        reason = ""
        for _ in range(2):
            try:
                if self._child is None:
                    self._child = SpeechChild(self._start_limit_s)
                return self._child.ask(request, self._limit_s)
            except ChildFailedError as error:
                reason = str(error)
                self._end_child()
        raise SpeechFailedError(text, reason)

    def _end_child(self) -> None:
        if self._child is not None:
            self._child.end()
            self._child = None


class PlayedSpeaker:
    """The `Speaker` port, with a renderer and any `Player`."""

    def __init__(self, renderer: Renderer, player: Player) -> None:
        """Use both without owning them; their owner closes them."""
        self._renderer = renderer
        self._player = player

    @property
    def speaking(self) -> bool:
        """Whether a sentence is still being played."""
        return self._player.playing

    def prepare(self, text: str) -> None:
        """Render `text` ahead of time."""
        self._renderer.prepare(text)

    def say(self, text: str) -> None:
        """Play `text` after the sound already waiting.

        Raises SpeechFailedError.
        """
        self._player.play(self._renderer.render(text))

    def stop(self) -> None:
        """Fall silent."""
        self._player.stop()
