"""Renders texts to speech in a child process, clause by clause, and caches the samples."""

import queue
import threading
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import asdict
from typing import Any, Self

import numpy as np
import soxr  # type: ignore[import-untyped]

from pattern.errors import RoundsAloudError
from voice.sound.ports import RATE_HZ, Samples
from voice.speech.clauses import BASE_WPM, clauses
from voice.speech.delivery import Delivery, DeliveryRefusedError, Voice
from voice.speech.levels import after_silence
from voice.speech.speech_process import Answer, ChildFailedError, SpeechChild

KEPT_RENDERS = 128
"""Number of cached clauses, about 8 MB: enough for some rounds and the usual questions."""


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

    Several threads may use it. One clause is rendered at a time.
    """

    def __init__(
        self,
        delivery: Delivery | None = None,
        *,
        limit_s: float = 8.0,
        start_limit_s: float = 20.0,
        system_only: bool = False,
    ) -> None:
        """Start nothing yet: the child is started for the first text.

        `limit_s` is for one clause, a hundred times longer than it takes. `start_limit_s` is for
        starting the engine. `system_only` leaves out the clear voice.
        """
        self._delivery = delivery or Delivery()
        self._limit_s = limit_s
        self._start_limit_s = start_limit_s
        self._system_only = system_only
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
        """Clauses that are cached, oldest first."""
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
        """The voices of the engine, first the one that speaks by itself.

        Raises SpeechFailedError.
        """
        return [Voice(**voice) for voice in self._told()["voices"]]

    def lacks(self) -> str:
        """A sentence on the clear voice, if it should speak here and cannot; else nothing.

        Raises SpeechFailedError.
        """
        return str(self._told()["lacks"])

    def _told(self) -> dict[str, Any]:
        with self._lock:
            return self._ask({"voices": True}, "the list of voices")[0]

    def render(self, text: str) -> Samples:
        """The text as speech at `RATE_HZ`, with silence trimmed; empty for a blank text.

        Raises SpeechFailedError if the child fails twice.
        """
        pieces = list(self.pieces(text))
        if len(pieces) == 1:
            return pieces[0]
        return after_silence(0.0, np.concatenate([np.zeros(0, np.int16), *pieces]))

    def pieces(self, text: str) -> Iterator[Samples]:
        """The same clause by clause as they are rendered, each with the pause before it.

        Raises SpeechFailedError if the child fails twice.
        """
        delivery = self._delivery
        for clause in clauses(text):
            pause_s = clause.pause_s * BASE_WPM / delivery.rate_wpm
            yield after_silence(pause_s, self._clause(clause.text, delivery))

    def _clause(self, text: str, delivery: Delivery) -> Samples:
        with self._lock:
            key = (text, delivery)
            if key not in self._kept:
                self._kept[key] = self._rendered(*key)
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

    def _rendered(self, text: str, delivery: Delivery) -> Samples:
        head, body = self._ask({"text": text, **asdict(delivery)}, text)
        sound = soxr.resample(np.frombuffer(body, "<i2"), head["rate_hz"], RATE_HZ)
        return after_silence(0.0, sound.astype(np.int16))

    def _ask(self, request: dict[str, Any], text: str) -> Answer:
        reason = ""
        for _ in range(2):
            try:
                if self._child is None:
                    self._child = SpeechChild(self._start_limit_s, system_only=self._system_only)
                return self._child.ask(request, self._limit_s)
            except ChildFailedError as error:
                reason = str(error)
                self._end_child()
        raise SpeechFailedError(text, reason)

    def _end_child(self) -> None:
        if self._child is not None:
            self._child.end()
            self._child = None
