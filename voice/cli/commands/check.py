"""The command `rounds-aloud check`, which tells what works here, and how to fix the rest."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING

from voice.cli import device_options, engines
from voice.inputs.option_numbers import number

if TYPE_CHECKING:
    from voice.cli.checks import Finding


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument(
        "--seconds",
        metavar="S",
        type=number("time in seconds", 0.5, 60),
        default=4.0,
        help="how long to listen to the microphone",
    )
    parser.add_argument(
        "--technical",
        action="store_true",
        help="all that is looked at, with engines, levels and figures",
    )
    device_options.add_arguments(parser)
    engines.add_arguments(parser)


def run(args: Namespace) -> int:
    """Print what works and what to do; returns 0 if listening and speaking work here."""
    if args.technical:
        return _technical(args)
    from voice.cli import plain_check

    return plain_check.printed(_findings(args))


def _technical(args: Namespace) -> int:
    """Print one line for each check, and all figures."""
    wrong = []
    for finding in _findings(args):
        print(f"{'ok  ' if finding.good else 'NO  '}{finding.what}: {finding.told}", flush=True)
        if not finding.good:
            wrong.append(finding.what)
    from voice.cli import room_figures

    print(f"What to expect in a room (synthetic voices, by {room_figures.MEASURED_BY}):")
    for figure in room_figures.expectations():
        print(f"    {figure.sentence}")
    print(f"And over what is taken out of the microphone (by {room_figures.FILMS_MEASURED_BY}):")
    for figure in room_figures.over_films():
        print(f"    {figure.sentence}")
    print(
        f"Not good: {', '.join(wrong)}; what to do stands in its line."
        if wrong
        else "All of it works here."
    )
    return 1 if wrong else 0


def _findings(args: Namespace) -> Iterator[Finding]:
    from voice.cli import checks, sound_checks

    yield from checks.speaking()
    yield from checks.engines_here()
    yield from checks.listening_libraries()
    yield from checks.vosk(args)
    yield from checks.hearing(args)
    yield from checks.models()
    yield from sound_checks.devices()
    yield from sound_checks.listening(args)
