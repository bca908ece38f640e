"""Where the program begins and ends: whatever happens in between is told in one sentence.

Imports next to nothing by itself, so that an interrupt while the rest is loaded is told as well.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from voice.cli.interrupts import Interrupts

EX_SOFTWARE = 70
"""An internal fault was found. Source: sysexits.h of 4.3 BSD."""
INTERRUPTED = 130
"""128 and the number of SIGINT, as shells tell it."""


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command.

    Returns 0, or 1 after one sentence about what went wrong; bad options end with 2. Without
    `argv` the process is the program's own, with its streams and signals.
    """
    if argv is not None:
        return _told(argv, lambda: False)
    with (interrupts := Interrupts()):
        try:
            from voice.cli import standard_streams

            standard_streams.make_ready()
            return _told(None, interrupts.came)
        except KeyboardInterrupt:
            from voice.cli import standard_streams  # begun before, or not

            standard_streams.tell("\nStopped; everything said so far is kept.")
            return INTERRUPTED
        finally:
            standard_streams.finish()


def _told(argv: Sequence[str] | None, interrupted: Callable[[], bool]) -> int:
    """Runs it, and tells what went wrong."""
    from voice.cli import standard_streams

    try:
        return _written(argv)
    except Exception as fault:
        if interrupted():  # and some library made another error of that
            raise KeyboardInterrupt from fault
        if isinstance(fault, BrokenPipeError) or standard_streams.left_by_reader():
            return 1  # all that was said is kept
        if isinstance(fault, OSError) and (why := standard_streams.unwritable()) is not None:
            standard_streams.tell(why)
            return 1
        return _unforeseen()


def _written(argv: Sequence[str] | None) -> int:
    """Runs it; what it refuses on purpose is one sentence."""
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
    """The last resort: what nobody foresaw is kept for whoever can mend it."""
    import traceback

    from voice.cli import standard_streams
    from voice.cli.unforeseen import sentence

    standard_streams.tell(sentence(traceback.format_exc()))
    return EX_SOFTWARE
