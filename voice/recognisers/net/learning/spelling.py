"""The small net on top of what hears that tells letters: in torch to learn, in ONNX to be used."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.recognisers.net.moonshine_net import LETTERS

PREFIX = "letters."
"""Of the names of its weights in a state."""
_NUMBERS, _FRAMES = 288, 5
"""Numbers for each frame that is heard, and frames that are looked at together."""
_HEARD = "last_hidden_state"


def letters(words: str) -> list[int]:
    """The columns of the letters of words, after that of none."""
    plain = re.sub("[^a-z']", " ", words.lower()).split()
    return [LETTERS.index(letter) + 1 for letter in " ".join(plain)]


def spells() -> Any:
    """The net, yet to learn: two convolutions beside a way past them, and a matrix."""
    import torch

    class Spells(torch.nn.Module):  # type: ignore[misc]  # torch is there only to learn
        def __init__(self) -> None:
            super().__init__()
            self.a, self.b = (
                torch.nn.Conv1d(_NUMBERS, _NUMBERS, _FRAMES, padding="same") for _ in range(2)
            )
            self.out = torch.nn.Linear(_NUMBERS, 1 + len(LETTERS))

        def forward(self, heard: Any) -> Any:
            """Natural logarithms, (utterances, frames, none and LETTERS)."""
            frames, bent = heard.transpose(1, 2), torch.nn.functional.gelu
            seen = bent(self.b(bent(self.a(frames)))) + frames
            return self.out(seen.transpose(1, 2)).float().log_softmax(-1)

    return Spells()


def loss(found: Any, words: Any, lengths: Any) -> Any:
    """Connectionist temporal classification's, for each letter, over those that have any."""
    import torch

    some = lengths > 0
    if not some.any():
        return found.sum() * 0
    frames = torch.full((int(some.sum()),), found.shape[1], device=found.device)
    return torch.nn.functional.ctc_loss(
        found[some].transpose(0, 1), words[some], frames, lengths[some], zero_infinity=True
    )


_NAMED = {
    "a": "a.weight",
    "a_bias": "a.bias",
    "b": "b.weight",
    "b_bias": "b.bias",
    "out": "out.weight",
    "out_bias": "out.bias",
}
"""By its name in the ONNX model, that in torch; `out` is turned there."""


def weights(kept: Mapping[str, NDArray[Any]]) -> dict[str, NDArray[Any]]:
    """Those that `add` gave, by their names in torch."""
    found = {name: kept[f"spells_{short}"] for short, name in _NAMED.items()}
    return {**found, "out.weight": found["out.weight"].T}


def add(model: Any, state: Mapping[str, NDArray[np.float32]]) -> None:
    """Give the ONNX model the net and one more output: `letters`, (1, frames, none and LETTERS)."""
    from onnx import TensorProto, helper, numpy_helper

    graph = model.graph
    weights = {short: state[name] for short, name in _NAMED.items()}
    weights["out"] = weights["out"].T
    for name, weight in weights.items():
        kept = numpy_helper.from_array(np.ascontiguousarray(weight), f"spells_{name}")
        graph.initializer.append(kept)
    for name, number in (("root", 2**-0.5), ("one", 1.0), ("half", 0.5)):
        graph.initializer.append(
            numpy_helper.from_array(np.array(number, np.float32), f"spells_{name}")
        )
    steps: list[tuple[str, list[str], str, dict[str, Any]]] = [
        ("Transpose", [_HEARD], "spells_frames", {"perm": [0, 2, 1]}),
        *_layer("spells_frames", "a"),
        *_layer("spells_a_bent", "b"),
        ("Add", ["spells_b_bent", "spells_frames"], "spells_seen", {}),
        ("Transpose", ["spells_seen"], "spells_back", {"perm": [0, 2, 1]}),
        ("MatMul", ["spells_back", "spells_out"], "spells_product", {}),
        ("Add", ["spells_product", "spells_out_bias"], "spells_sum", {}),
        ("LogSoftmax", ["spells_sum"], "letters", {"axis": -1}),
    ]
    for kind, fed, made, how in steps:
        graph.node.append(helper.make_node(kind, fed, [made], name=made, **how))
    shape = [1, "frames", 1 + len(LETTERS)]
    graph.output.append(helper.make_tensor_value_info("letters", TensorProto.FLOAT, shape))


def _layer(fed: str, name: str) -> list[tuple[str, list[str], str, dict[str, Any]]]:
    """A convolution, and half of x times 1 + erf(x / sqrt 2) of what it makes."""
    made = f"spells_{name}_made"
    edge = _FRAMES // 2
    return [
        ("Conv", [fed, f"spells_{name}", f"spells_{name}_bias"], made, {"pads": [edge, edge]}),
        ("Mul", [made, "spells_root"], f"{made}_1", {}),
        ("Erf", [f"{made}_1"], f"{made}_2", {}),
        ("Add", [f"{made}_2", "spells_one"], f"{made}_3", {}),
        ("Mul", [made, f"{made}_3"], f"{made}_4", {}),
        ("Mul", [f"{made}_4", "spells_half"], f"spells_{name}_bent", {}),
    ]
