"""The command `rounds-aloud hear`, which tells what each sound file would do."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pattern.shape.rounds import Stage
from voice.cli import attention_options, engines
from voice.inputs.one_line import plain

if TYPE_CHECKING:
    from pattern.session.commands import Command
    from voice.hearing.attention import Switch
    from voice.hearing.evidence import Verdict
    from voice.hearing.listening import Hearing

ASKS = ("across", "corners", "around", "along", "depth", "brim", "count", "look", "setup")
STAGES = tuple(stage.value for stage in Stage)


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument(
        "files", nargs="+", type=Path, metavar="FILE", help="a WAV file, or a folder of them"
    )
    parser.add_argument("--stage", choices=STAGES, help="listen only for what makes sense there")
    parser.add_argument("--asks", choices=ASKS, help="as an answer to this question")
    parser.add_argument("--json", action="store_true", help="one JSON object a file")
    parser.add_argument(
        "--technical", action="store_true", help="with chances, seconds and engines"
    )
    parser.add_argument(
        "--playing",
        type=Path,
        metavar="FILE",
        help="take out what was playing meanwhile: a WAV file of one or two channels that began"
        " at the same moment as the recording",
    )
    attention_options.add_arguments(parser)
    engines.add_arguments(parser)


def run(args: Namespace) -> int:
    """Print one line for each file; returns 1 if one of them was not sound."""
    from voice.hearing.listening import Hearing

    if args.playing and (len(args.files) > 1 or _is_folder(args.files[0])):
        print("With --playing, give one recording: one file, and no folder.", file=sys.stderr)
        return 2

    @cache
    def hearing() -> Hearing:
        """Open the engines for the first file that is sound."""
        return Hearing(engines.opened(args))

    told = [_told(file, hearing, args) for file in _files(args.files)]
    return int(not all(told))


def _is_folder(place: Path) -> bool:
    """Whether it is a folder that the system lets us see; a name too long for it is none."""
    try:
        return place.is_dir()
    except OSError:
        return False


def _files(places: Iterable[Path]) -> Iterator[Path | None]:
    """Each file; None, after a sentence, for a place without files."""
    from voice.recognisers.recording import NotARecording, recordings_in

    for place in places:
        try:
            yield from recordings_in(place)
        except NotARecording as refused:
            print(plain(str(refused)), file=sys.stderr)
            yield None


def _told(file: Path | None, hearing: Callable[[], Hearing], args: Namespace) -> bool:
    """Print what a file would do; returns False, after a sentence, if it is not sound."""
    from voice.cli.heard_files import context_for, decide
    from voice.hearing.attention import Attention, When
    from voice.recognisers.played_file import NotPlayedMeanwhile, without
    from voice.recognisers.recording import NotARecording, recorded

    if file is None:
        return False

    def tell(switch: Switch, at_s: float) -> None:
        where = sys.stderr if args.json else sys.stdout
        print(_switched(file, switch, at_s, args.attention), file=where, flush=True)

    attention = Attention(args.attention, When(args.addressed))
    context = replace(context_for(args.stage, args.asks), attention=attention)
    try:
        blocks = without(file, args.playing) if args.playing else recorded(file)
        begun = chain([next(blocks)], blocks)
        first, *more = decide(hearing(), begun, context, tell)
    except (NotARecording, NotPlayedMeanwhile) as refused:
        print(plain(str(refused)), file=sys.stderr)
        return False
    line = _figures if args.technical else _line
    print(as_json(file, first) if args.json else line(file, first), flush=True)
    if more and args.json:
        print(_more(file, len(more)), file=sys.stderr)
    for what in () if args.json else more:
        print(line(file, what), flush=True)
    return True


def as_json(file: Path, what: Verdict) -> str:
    """The decision as one line of JSON."""
    return json.dumps(
        {
            "file": str(file),
            "text": what.text,
            "command": _data(what.command),
            "action": what.action.value,
            "reason": what.reason.value,
            "score": round(what.score, 4),
            "seconds": round(what.seconds, 3),
            "engine": what.engine,
        }
    )


def _data(command: Command | None) -> dict[str, Any] | None:
    """The command's fields, with its class as `type`."""
    from typing import get_args

    from pattern.journal.records import Codec
    from pattern.session import commands as c
    from pattern.trade.lengths import Amount

    if command is None:
        return None
    codec: Codec[Command] = Codec(get_args(c.Command), parts=(Amount,))
    return codec.encode(command)


_NOTHING = "nothing that is meant for me"
_WOULD = {"act": "I would do", "ask": "I would ask first", "silent": "I would stay silent"}


def _line(file: Path, what: Verdict) -> str:
    """The decision in a maker's words, and why."""
    said = what.text or _NOTHING
    return f"{_name(file)}: {_WOULD[what.action.value]}: {said} ({what.reason.value})"


def _figures(file: Path, what: Verdict) -> str:
    """The decision with its chance, its time and the engines."""
    said = what.text or _NOTHING
    figures = f"{what.score:.2f}, {what.seconds:.2f} s, {what.engine}"
    return f"{_name(file)}: {what.action.value}: {said} ({what.reason.value}; {figures})"


def _switched(file: Path, switch: Switch, at_s: float, words: str) -> str:
    from voice.sentences.hearing import attention

    return f"{_name(file)}: at {at_s:.0f} s: {attention(switch, words)}"


def _more(file: Path, count: int) -> str:
    return f"{_name(file)}: {count} more heard after that; cut the file at its pauses for them."


def _name(file: Path) -> str:
    """The file's name with only printable characters."""
    return plain(str(file).encode(errors="backslashreplace").decode())
