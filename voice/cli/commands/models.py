"""The command `rounds-aloud models`, which lists, fetches and verifies speech models."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Collection, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from voice.models.model_list import Model


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument(
        "--folder", type=Path, help="where fetched models are kept, if not in the usual place"
    )
    parser.add_argument(
        "--technical", action="store_true", help="list engines, licences and folders, too"
    )
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    actions.add_parser("list", help="the models there are, and which are here; also without ACTION")
    fetch = actions.add_parser("fetch", help="fetch one model; nothing is fetched otherwise")
    fetch.add_argument("name", metavar="NAME")
    verify = actions.add_parser("verify", help="check that one model, or each one here, is whole")
    verify.add_argument("name", metavar="NAME", nargs="?")


def _megabytes(size_bytes: int) -> str:
    return f"{size_bytes / 1e6:.1f} MB"


def _line(model: Model, place: Path | None) -> str:
    from voice.models.models import remedy

    licence = "no licence stated" if model.licence == "NOASSERTION" else model.licence
    where = f"here: {place}" if place else f"not here; run: {remedy(model)}"
    facts = f"{model.engine}, {model.language}, {_megabytes(model.size_bytes)}, {licence}"
    return f"{model.name} ({facts}, for {model.use}): {where}"


def _told(models: Sequence[Model], here: Collection[str]) -> Iterator[str]:
    """The state of listening, and models that may be fetched, in a maker's words."""
    from voice.models.model_list import Use
    from voice.models.models import remedy

    wanted = [model for model in models if model.use is Use.LISTENING]
    heard = any(model.name in here for model in wanted)
    yield "What I need to listen is here." if heard else "I can't listen yet."
    for model in wanted:
        if model.name not in here:
            what = "You may also fetch" if heard else "Fetch"
            yield f"{what} {_megabytes(model.size_bytes)} more: {remedy(model)}"
    yield "For all models and where they are: rounds-aloud models --technical"


def _list(folder: Path | None, *, technical: bool) -> int:
    from voice.models.model_list import listed
    from voice.models.models import installed

    places = {model.name: place for model, place in installed(folder)}
    lines = (_line(model, places.get(model.name)) for model in listed())
    for line in lines if technical else _told(listed(), places):
        print(line)
    return 0


def _fetch(name: str, folder: Path | None) -> int:
    from tqdm import tqdm

    from voice.models.model_list import find
    from voice.models.models import fetch

    total = find(name).size_bytes
    # disable=None: no bar if standard error is not a terminal
    with tqdm(total=total, unit="B", unit_scale=True, desc=name, disable=None) as bar:
        place = fetch(name, folder, lambda done, _: bar.update(done - bar.n))
    print(f"{name} is whole, in {place}")
    return 0


def _verify(name: str | None, folder: Path | None) -> int:
    from voice.models.model_errors import ModelError
    from voice.models.models import installed, verify

    names = [name] if name else [model.name for model, _ in installed(folder)]
    failed = 0
    for each in names:
        try:
            print(f"{each} is whole, in {verify(each, folder)}")
        except ModelError as refusal:
            failed = 1
            print(refusal, file=sys.stderr)
    return failed


def run(args: Namespace) -> int:
    """Run the command; returns 0, or 1 after a sentence about a refusal."""
    from voice.caller import piece_folder
    from voice.models.model_errors import ModelError
    from voice.models.models import default_folder

    try:
        piece_folder.reached(args.folder or default_folder())
        if args.action == "fetch":
            return _fetch(args.name, args.folder)
        if args.action == "verify":
            return _verify(args.name, args.folder)
        return _list(args.folder, technical=args.technical)
    except ModelError as refusal:
        print(refusal, file=sys.stderr)
        return 1
