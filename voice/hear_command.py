"""The command `rounds-aloud hear`: what each sound file would do."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from pattern.rounds import Stage
from voice import engines

if TYPE_CHECKING:
    from pattern.commands import Command
    from voice.expectation import Expectation, Reader
    from voice.hearing import Heard, Hearing
    from voice.phrases import Group
    from voice.ports import Samples

ASKS = ("across", "corners", "around", "along", "depth", "brim", "count", "look", "setup")
STAGES = tuple(stage.value for stage in Stage)
ALONG_STITCHES = 10
_Found = TypeVar("_Found")


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE",
                        help="a WAV file, or a folder of them")  # fmt: skip
    parser.add_argument("--stage", choices=STAGES, help="listen only for what makes sense there")
    parser.add_argument("--asks", choices=ASKS, help="as an answer to this question")
    parser.add_argument("--json", action="store_true", help="one JSON object a file")
    engines.add_arguments(parser)


def run(args: Namespace) -> int:
    """Prints a line a file; 1 when one of them was no sound."""
    from voice.hearing import Hearing

    hearing, failed = Hearing(engines.opened(args)), 0
    for file, samples in _sounds(args.files):
        if samples is None:
            failed = 1
            continue
        first, *more = decide(hearing, samples, args.stage, args.asks)
        print(as_json(file, first) if args.json else _line(file, first), flush=True)
        if more and args.json:
            print(_more(file, len(more)), file=sys.stderr)
        for what in () if args.json else more:
            print(_line(file, what), flush=True)
    return failed


def _sounds(places: Iterable[Path]) -> Iterator[tuple[Path, Samples | None]]:
    """Each file and its sound; nothing, after a sentence, for what is none."""
    from voice.recognisers.recording import read_recording, recordings_in

    for place in places:
        files = _read(recordings_in, place)
        if files is None:
            yield place, None
        for file in files or ():
            yield file, _read(read_recording, file)


def _read(read: Callable[[Path], _Found], place: Path) -> _Found | None:
    """What is read there; nothing, after a sentence, where it is no recording."""
    from voice.recognisers.recording import NotARecording

    try:
        return read(place)
    except NotARecording as refused:
        print(refused, file=sys.stderr)
        return None


def decide(
    hearing: Hearing, samples: Samples, stage: str | None, asks: str | None
) -> tuple[Heard, ...]:
    """What a sound would do, at least one; one too long for an utterance is cut at its pauses."""
    from voice.endpoint import Endpointer
    from voice.hearing import Action
    from voice.ports import RATE_HZ
    from voice.recognisers.engine import LONGEST_S

    pieces = [samples]
    if len(samples) > LONGEST_S * RATE_HZ:
        cutter = Endpointer()
        pieces = [s.samples for s in [*cutter.feed(samples), *cutter.finish()]] or [samples]
    groups, expectation, reader = _groups(stage), _expectation(asks), _reader(asks)
    found = [hearing.decide(piece, expectation, groups, reader) for piece in pieces]
    return tuple(what for what in found if what.action is not Action.SILENT) or (found[0],)


def _groups(stage: str | None) -> frozenset[Group]:
    from pattern.state import State
    from voice.narrowing import groups_now
    from voice.phrases import Group

    return groups_now(State(stage=Stage(stage))) if stage else frozenset(Group)


def _reader(asks: str | None) -> Reader:
    """Reads a bare number as the answer to what is asked."""
    from pattern import commands as c
    from voice.phrases import read

    def read_here(words: str) -> Command | None:
        command = read(words)
        match command:
            case c.Answer(amount) if asks == "count" and (count := amount.whole()) is not None:
                return c.Counted(count)
            case c.Answer(amount) | c.Measured(amount, None, None) if asks in set(c.Kind):
                return c.Measured(amount, c.Kind(asks), ALONG_STITCHES if asks == "along" else None)
        return command

    return read_here


def _expectation(asks: str | None) -> Expectation:
    """An answer to what is asked is likelier than anything else."""
    from pattern import commands as c
    from voice.number_expectation import OPEN

    def weight(command: Command) -> float:
        match command:
            case c.Measured(_, kind, _) if kind is not None and kind.value == asks:
                return OPEN
            case c.Counted() if asks == "count":
                return OPEN
            case c.Lies() if asks == "look":
                return OPEN
            case c.Answer() | c.Choose() | c.HeadOf() if asks == "setup":
                return OPEN
        return 1.0

    return weight


def as_json(file: Path, what: Heard) -> str:
    """The finding on one line."""
    return json.dumps({"file": str(file), "text": what.text, "command": _data(what.command),
                       "action": what.action.value, "score": round(what.score, 4),
                       "seconds": round(what.seconds, 3), "engine": what.engine})  # fmt: skip


def _data(command: Command | None) -> dict[str, Any] | None:
    """The command with its fields; its class is its `type`."""
    from typing import get_args

    from pattern import commands as c
    from pattern.lengths import Amount
    from pattern.records import Codec

    if command is None:
        return None
    codec: Codec[Command] = Codec(get_args(c.Command), parts=(Amount,))
    return codec.encode(command)


def _line(file: Path, what: Heard) -> str:
    said = what.text or "nothing that is meant for me"
    return f"{_name(file)}: {what.action.value}: {said} ({what.score:.2f}, {what.seconds:.2f} s)"


def _more(file: Path, count: int) -> str:
    return f"{_name(file)}: {count} more heard after that; cut the file at its pauses for them."


def _name(file: Path) -> str:
    """The file's name as any screen can show it."""
    return str(file).encode(errors="backslashreplace").decode()
