"""The command `rounds-aloud hear`: what each sound file would do."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pattern.shape.rounds import Stage
from voice.cli import engines
from voice.inputs.one_line import plain

if TYPE_CHECKING:
    from pattern.session.commands import Command
    from voice.hearing.expectation import Expectation, Reader
    from voice.hearing.listening import Heard, Hearing
    from voice.sound.ports import Samples
    from voice.words.phrases import Group

ASKS = ("across", "corners", "around", "along", "depth", "brim", "count", "look", "setup")
STAGES = tuple(stage.value for stage in Stage)
ALONG_STITCHES = 10


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument(
        "files", nargs="+", type=Path, metavar="FILE", help="a WAV file, or a folder of them"
    )
    parser.add_argument("--stage", choices=STAGES, help="listen only for what makes sense there")
    parser.add_argument("--asks", choices=ASKS, help="as an answer to this question")
    parser.add_argument("--json", action="store_true", help="one JSON object a file")
    engines.add_arguments(parser)


def run(args: Namespace) -> int:
    """Prints a line a file; 1 when one of them was no sound."""
    from voice.hearing.listening import Hearing

    @cache
    def hearing() -> Hearing:
        """Opened for the first file that is sound."""
        return Hearing(engines.opened(args))

    told = [_told(file, hearing, args) for file in _files(args.files)]
    return int(not all(told))


def _files(places: Iterable[Path]) -> Iterator[Path | None]:
    """Each file; nothing, after a sentence, for a place that has none."""
    from voice.recognisers.recording import NotARecording, recordings_in

    for place in places:
        try:
            yield from recordings_in(place)
        except NotARecording as refused:
            print(plain(str(refused)), file=sys.stderr)
            yield None


def _told(file: Path | None, hearing: Callable[[], Hearing], args: Namespace) -> bool:
    """Prints what a file would do; False, after a sentence, for what is no sound."""
    from voice.recognisers.recording import NotARecording, recorded

    if file is None:
        return False
    try:
        blocks = recorded(file)
        begun = chain([next(blocks)], blocks)
        first, *more = decide(hearing(), begun, args.stage, args.asks)
    except NotARecording as refused:
        print(plain(str(refused)), file=sys.stderr)
        return False
    print(as_json(file, first) if args.json else _line(file, first), flush=True)
    if more and args.json:
        print(_more(file, len(more)), file=sys.stderr)
    for what in () if args.json else more:
        print(_line(file, what), flush=True)
    return True


def decide(
    hearing: Hearing, blocks: Iterable[Samples], stage: str | None, asks: str | None
) -> tuple[Heard, ...]:
    """What a sound would do, at least one; one too long for an utterance is cut at its pauses."""
    from voice.hearing.listening import Action
    from voice.rehearsal.cutting import utterances

    groups, expectation, reader = _groups(stage), _expectation(asks), _reader(asks)
    first, found = None, []
    for piece in utterances(iter(blocks)):
        what = hearing.decide(piece, expectation, groups, reader)
        first = first or what
        if what.action is not Action.SILENT:
            found.append(what)
    assert first is not None
    return tuple(found) or (first,)


def _groups(stage: str | None) -> frozenset[Group]:
    from pattern.session.state import State
    from voice.hearing.narrowing import groups_now
    from voice.words.phrases import Group

    return groups_now(State(stage=Stage(stage))) if stage else frozenset(Group)


def _reader(asks: str | None) -> Reader:
    """Reads a bare number as the answer to what is asked."""
    from pattern.session import commands as c
    from voice.words.phrases import read

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
    from pattern.session import commands as c
    from voice.hearing.number_expectation import OPEN

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
    return json.dumps(
        {
            "file": str(file),
            "text": what.text,
            "command": _data(what.command),
            "action": what.action.value,
            "score": round(what.score, 4),
            "seconds": round(what.seconds, 3),
            "engine": what.engine,
        }
    )


def _data(command: Command | None) -> dict[str, Any] | None:
    """The command with its fields; its class is its `type`."""
    from typing import get_args

    from pattern.journal.records import Codec
    from pattern.session import commands as c
    from pattern.trade.lengths import Amount

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
    return plain(str(file).encode(errors="backslashreplace").decode())
