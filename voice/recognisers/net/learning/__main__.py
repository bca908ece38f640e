"""`python -m voice.recognisers.net.learning speak`, then `learn`, then `write`."""

from __future__ import annotations

import argparse
from pathlib import Path

from voice.recognisers.net.learning import learning, net, speaking


def main() -> None:
    """Run one step."""
    parser = argparse.ArgumentParser(
        prog="python -m voice.recognisers.net.learning", description=__doc__
    )
    parser.add_argument("step", choices=("speak", "learn", "write"))
    parser.add_argument(
        "--folder",
        type=Path,
        default=Path("adapting"),
        help="for speech and weights (default: %(default)s)",
    )
    parser.add_argument("--minutes", type=float, default=60.0, help="how long to learn")
    parser.add_argument(
        "--begin",
        type=Path,
        help="a state, or a file that write made, to learn on from (default: the net as published)",
    )
    parser.add_argument(
        "--states",
        type=Path,
        nargs="+",
        help="what write takes the mean of (default: what was learnt last)",
    )
    parser.add_argument("--out", type=Path, default=net.OURS, help="what write makes")
    options = parser.parse_args()
    options.folder.mkdir(exist_ok=True)
    match options.step:
        case "speak":
            speaking.speak_all(options.folder)
        case "learn":
            learning.learn(options.folder, options.minutes, options.begin)
        case _:
            net.write(options.states or [options.folder / learning.WEIGHTS], options.out)


if __name__ == "__main__":
    main()
