"""Entry point of the program; reports any failure in one sentence.

It imports almost nothing itself, so that an interrupt while the rest loads is reported as well.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from voice.cli.interrupts import Interrupts

EX_SOFTWARE = 70
"""Exit code for an internal fault. Source: sysexits.h of 4.3 BSD."""
INTERRUPTED = 130
"""Exit code after an interrupt: 128 plus the number of SIGINT, as in shells."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Returns 0, or 1 after one sentence about the failure; bad options end with 2. Without `argv`,
    the program takes over the process's streams and signals.
    """
    if argv is not None:
        return _told(argv, lambda: False)
    with (interrupts := Interrupts()):
        try:
            from voice.cli import standard_streams

            standard_streams.make_ready()
            return _told(None, interrupts.came)
        except KeyboardInterrupt:
            from voice.cli import standard_streams  # possibly interrupted before

            standard_streams.tell("\nStopped; everything said so far is kept.")
            return INTERRUPTED
        finally:
            standard_streams.finish()


def _told(argv: Sequence[str] | None, interrupted: Callable[[], bool]) -> int:
    """Run the command, and report any failure."""
    from voice.cli import standard_streams

    try:
        return _written(argv)
    except Exception as fault:
        if interrupted():  # and some library turned it into another error
            raise KeyboardInterrupt from fault
        if isinstance(fault, BrokenPipeError) or standard_streams.left_by_reader():
            return 1  # every turn is kept already
        if isinstance(fault, OSError) and (why := standard_streams.unwritable()) is not None:
            standard_streams.tell(why)
            return 1
        return _unforeseen()


def _written(argv: Sequence[str] | None) -> int:
    """Run the command; a deliberate refusal is reported in one sentence."""
    from pattern.errors import RoundsAloudError
    from voice.cli import standard_streams
    from voice.cli.command_line import run
    from voice.inputs.one_line import plain

    try:
        return run(argv)
    except RoundsAloudError as refused:
        standard_streams.tell(plain(str(refused)))
        return 1
    except ModuleNotFoundError as lacks:
        from voice.models.published import SOUND, this_machine, without_sound

        if lacks.name != SOUND:
            raise
        standard_streams.tell(without_sound(this_machine()))
        return 1


def _unforeseen() -> int:
    """Report an unforeseen error, and keep its trace for someone who can fix it."""
    import traceback

    from voice.cli import standard_streams
    from voice.cli.unforeseen import sentence

    standard_streams.tell(sentence(traceback.format_exc()))
    return EX_SOFTWARE
