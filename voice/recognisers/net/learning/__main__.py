"""`python -m voice.recognisers.net.learning speak`, then `learn`, then `write`."""

from __future__ import annotations

import argparse
from pathlib import Path

from voice.models.models import verify
from voice.recognisers.net.learning import learning, net, speaking
from voice.recognisers.net.moonshine_net import MODEL


def _options() -> argparse.Namespace:
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
    parser.add_argument(
        "--only", nargs="*", choices=speaking.PARTS, default=speaking.PARTS, help="speak only these"
    )
    parser.add_argument(
        "--share", type=float, default=1.0, help="how much of all lines speak says (to try it)"
    )
    parser.add_argument(
        "--steps", type=int, default=6_000, help="how many steps to learn (default: %(default)s)"
    )
    parser.add_argument(
        "--size", type=int, default=512, help="utterances in a step (default: %(default)s)"
    )
    parser.add_argument("--begin", type=Path, help="a file of ours that learn begins with")
    parser.add_argument("--until", type=int, help="break off after this step; learn goes on later")
    parser.add_argument("--out", type=Path, default=net.OURS, help="what write makes")
    return parser.parse_args()


def main() -> None:
    """Run one step. The published net, which the last two need, is looked for before each.

    Raises: ModelMissing, ModelDamaged.
    """
    options = _options()
    verify(MODEL)
    options.folder.mkdir(exist_ok=True)
    match options.step:
        case "speak":
            speaking.speak_all(options.folder, options.only, options.share)
        case "learn":
            learning.learn(
                options.folder, options.steps, options.size, options.begin, options.until
            )
        case _:
            net.write(options.folder / learning.WEIGHTS, options.out)


if __name__ == "__main__":
    main()
