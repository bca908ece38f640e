"""The command `rounds-aloud plan`, which prints the whole piece as planned before it is begun."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from voice.cli import option_answers, options

if TYPE_CHECKING:
    from pattern.session.state import State


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--json", action="store_true", help="print it as data")
    options.add_arguments(parser)


def run(args: Namespace) -> int:
    """Print the plan; returns 2, after a sentence, if an option makes no sense."""
    from pattern.session.refusals import Refused
    from pattern.writeup.document import as_json
    from pattern.writeup.pattern_in_sizes import as_sizes
    from pattern.writeup.plain_text import as_text
    from pattern.writeup.writeup import as_planned

    heads = args.head or ()
    sizes = [[head] for head in heads] if len(heads) > 1 else [heads]
    try:
        states = [_begun(Namespace(**{**vars(args), "head": size})) for size in sizes]
    except Refused as refused:
        return options.refuse(refused)
    states.sort(key=lambda state: state.settings.head_mm or 0.0)
    first = states[0]
    document = as_planned(first, first.settings.shape.noun.capitalize())
    if len(states) > 1:
        document = as_sizes(states)
    print(as_json(document) if args.json else as_text(document), end="")
    return 0


def _begun(args: Namespace) -> State:
    """A piece at its ring, with answers from the options and defaults for the rest.

    Raises: Refused for an option that makes no sense.
    """
    from pattern.session.commands import Begin
    from pattern.session.decisions import decide, first_turn
    from pattern.session.folding import fold
    from pattern.session.state import State
    from pattern.shape.rounds import Stage

    state = fold(State(), first_turn(option_answers.answers(args)))
    return fold(state, decide(state, Begin())) if state.stage is Stage.SETUP else state
