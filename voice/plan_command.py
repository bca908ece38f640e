"""The command `rounds-aloud plan`: the whole hat as it is planned before the first stitch."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from voice import options


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--json", action="store_true", help="print it as data")
    options.add_arguments(parser)


def run(args: Namespace) -> int:
    """Prints the plan; 2 after a sentence when an option makes no sense."""
    from pattern.commands import Begin
    from pattern.decisions import decide, first_turn
    from pattern.document import as_json, as_text
    from pattern.refusals import Refused
    from pattern.rounds import Stage
    from pattern.session import State, fold
    from pattern.writeup import as_planned

    try:
        state = fold(State(), first_turn(options.answers(args)))
    except Refused as refused:
        return options.refuse(refused)
    if state.stage is Stage.SETUP:
        state = fold(state, decide(state, Begin()))
    document = as_planned(state, state.settings.shape.noun.capitalize())
    print(as_json(document) if args.json else as_text(document), end="")
    return 0
