"""The command `rounds-aloud rehearse`, in which the program answers a scripted maker."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from voice.cli import engines
from voice.inputs.option_numbers import number

if TYPE_CHECKING:
    from tqdm import tqdm

    from pattern.session.state import State
    from voice.caller.caller import Caller
    from voice.rehearsal.film import Film
    from voice.rehearsal.room import Room
    from voice.sound.known_sound import WithoutKnown
    from voice.sound.ports import Samples

MAKER_RATE_WPM = 150
LONGEST_NOISE_S = 300.0
"""Longest noise used, in seconds; it repeats after that."""


def add_arguments(parser: ArgumentParser) -> None:
    """Put the command's arguments on its parser."""
    parser.add_argument("--scenario", type=Path, metavar="FILE", help="who speaks, in TOML")
    parser.add_argument(
        "--voice", metavar="NAME", default=None, help="the maker's voice; see: rounds-aloud check"
    )
    parser.add_argument(
        "--noise",
        type=Path,
        metavar="FILE",
        help="what else sounds in the room, its first five minutes",
    )
    parser.add_argument(
        "--snr",
        type=number("ratio in decibels", -60, 120),
        default=15.0,
        metavar="DB",
        help="how far the noise is under the maker (default: 15)",
    )
    parser.add_argument(
        "--film",
        type=Path,
        metavar="FILE",
        help="a film that plays on this machine, 10 dB louder than the maker, and is taken out of"
        " the microphone's sound: a WAV file of one or two channels, its first five minutes",
    )
    parser.add_argument(
        "--out", type=Path, metavar="DIR", help="where the conversation (WAV) and the write-up go"
    )
    parser.add_argument(
        "--technical", action="store_true", help="end with all figures: times, memory, misses"
    )
    parser.add_argument("--live", action="store_true", help="take as long as it would in life")
    engines.add_arguments(parser)


def run(args: Namespace) -> int:
    """Play the rehearsal and print its results; returns 0 if the piece was finished."""
    from voice.caller.caller import Caller
    from voice.caller.keeping import Unkept
    from voice.caller.piece_folder import writable
    from voice.hearing.listening import Hearing
    from voice.rehearsal import scripted
    from voice.rehearsal.rehearsal import Rehearsal
    from voice.speech.delivery import Delivery
    from voice.speech.speaker import Renderer

    maker = scripted.load(args.scenario or scripted.USUAL)
    if args.out:
        writable(args.out)
    with (
        # The maker has another voice than the program, so that both can be told apart.
        Renderer(Delivery(MAKER_RATE_WPM), system_only=args.voice is None) as own,
        Renderer(Delivery()) as ours,
    ):
        if args.voice:
            own.change(Delivery(MAKER_RATE_WPM, voice=args.voice))
        loud = ours.render("Round two, the crown: thirty six") if maker.talks_over else None
        room, heard = _room(args, own.render("measured six and a half"), loud)
        hearing = Hearing(engines.opened(args))
        caller = Caller(Unkept("rehearsal"))
        with _progress() as bar:
            show = _shows(bar, caller)
            voices = (own, ours)
            tally = Rehearsal(
                caller, maker, hearing, voices, room=room, show=show, source=heard
            ).run()
        print(f"\n{tally.table() if args.technical else tally.told()}")
        if args.out:
            _write(args.out, room.recording(), caller)
    return 0 if tally.ended else 1


def _shows(bar: tqdm[NoReturn], caller: Caller) -> Callable[[str], None]:
    """A function that prints a line of dialogue, and moves the bar to the round in work."""

    def show(line: str) -> None:
        done, left = caller.state.piece.finished, rounds_left_in(caller.state)
        bar.total, bar.n = done + left, done
        bar.write(line, file=sys.stdout)
        sys.stdout.flush()  # as it is said, to whoever reads a pipe too
        bar.refresh()

    return show


def _progress() -> tqdm[NoReturn]:
    """A progress bar of rounds on standard error, if that is a terminal."""
    from threading import RLock

    from tqdm import tqdm

    tqdm.set_lock(RLock())  # the default lock is shared with other processes, through a file
    return tqdm(unit="round", desc="rounds", disable=None, leave=False)


def rounds_left_in(state: State) -> int:
    """Number of rounds to the end of the piece, as planned now."""
    from pattern.plan.next_round import rounds_left

    return rounds_left(state.piece, state.offered)


def _noise(args: Namespace, speech: Samples) -> Samples | None:
    """The noise, scaled to `snr` dB below the maker's speech."""
    if args.noise is None:
        return None
    import numpy as np

    from voice.recognisers.recording import read_recording

    noise = read_recording(args.noise, LONGEST_NOISE_S).astype(np.float64)
    level = np.sqrt(np.mean(speech.astype(np.float64) ** 2)) * 10 ** (-args.snr / 20)
    scaled = noise * level / max(float(np.sqrt(np.mean(noise**2))), 1e-9)
    result: Samples = np.clip(scaled, -32768, 32767).astype(np.int16)
    return result


def _room(
    args: Namespace, speech: Samples, loud: Samples | None
) -> tuple[Room, WithoutKnown | None]:
    """The room, and its sound without what is played there: the film, and the program's own voice
    where it is `loud`.
    """
    from voice.rehearsal.loud_room import as_loud_as
    from voice.rehearsal.room import Room
    from voice.sound.known_sound import WithoutKnown

    film, noise = _film(args, speech), _noise(args, speech)
    if loud is not None:
        echoing = as_loud_as(speech, loud, noise=noise, film=film, live=args.live)
        return echoing, WithoutKnown(echoing, echoing)
    room = Room(noise, film=film, live=args.live)
    return room, None if film is None else WithoutKnown(room, film)


def _film(args: Namespace, speech: Samples) -> Film | None:
    """The film, 10 dB louder than the maker's speech."""
    if args.film is None:
        return None
    from voice.recognisers.played_file import read_played
    from voice.rehearsal.film import Film

    return Film(read_played(args.film, LONGEST_NOISE_S), speech)


def _write(folder: Path, recording: Samples, caller: object) -> None:
    from pattern.writeup.plain_text import as_text
    from pattern.writeup.writeup import as_made
    from voice.caller.caller import Caller
    from voice.inputs.written_file import write_file
    from voice.sound.wav import as_wav

    assert isinstance(caller, Caller)
    write_file(folder / "conversation.wav", as_wav(recording))
    text = as_text(as_made(caller.state, "rehearsal"))
    write_file(folder / "writeup.txt", text.encode())
    print(f"written to {folder}", file=sys.stderr)
