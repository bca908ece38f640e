"""A graph in ONNX computed by torch, so that a speech engine can use a graphics processor.

Only the operators that the engine of `kokoro` beside this has. What it multiplies in eight bits is
multiplied in fractions here: nothing that is heard is rounded. Source of what the operators mean:
onnx.ai/onnx/operators, and those of com.microsoft in the documentation of ONNX Runtime.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.recognisers.net.learning.onnx_layers import LAYERS
from voice.recognisers.net.learning.onnx_numbers import RECKONING

_ROUNDS_A_BIAS = "bias_quant"
"""In the names of nodes that make whole numbers of what is added."""
_OPERATORS = RECKONING | LAYERS


@dataclass(frozen=True, slots=True)
class _Node:
    kind: str
    fed: tuple[str, ...]
    made: tuple[str, ...]
    how: Mapping[str, Any]
    done_with: tuple[str, ...]
    """Results that no later node is fed."""


class OnnxInTorch:
    """A graph, ready to be run on a device of torch."""

    def __init__(self, file: Path, device: str) -> None:
        """Read it. Raises: KeyError for an operator that is not known here."""
        import onnx
        import torch
        from onnx import numpy_helper

        graph = onnx.load(file).graph
        self._device = device
        self._kept = {
            one.name: torch.from_numpy(np.array(numpy_helper.to_array(one)))
            for one in graph.initializer
        }
        for name, value in self._kept.items():
            if value.is_floating_point() or value.dtype in (torch.int8, torch.uint8):
                self._kept[name] = value.to(device)
        self._outputs = [one.name for one in graph.output]
        uses = Counter(name for node in graph.node for name in node.input)
        self._nodes = [_node(node, uses, {*self._kept, *self._outputs}) for node in graph.node]

    def run(self, fed: Mapping[str, NDArray[Any]]) -> list[NDArray[Any]]:
        """Each output of the graph."""
        import torch

        there: dict[str, Any] = {"": None, **self._kept}
        for name, value in fed.items():
            own = torch.from_numpy(np.array(value))
            there[name] = own.to(self._device) if own.is_floating_point() else own
        with torch.inference_mode():
            for node in self._nodes:
                inputs = [there[name] for name in node.fed]
                outputs = _OPERATORS[node.kind](_together(node.kind, inputs), node.how)
                outputs = outputs if isinstance(outputs, tuple) else (outputs,)
                there.update(zip(node.made, outputs, strict=False))
                for name in node.done_with:
                    del there[name]
        return [there[name].cpu().numpy() for name in self._outputs]


def _node(node: Any, uses: Counter[str], kept: set[str]) -> _Node:
    from onnx import helper

    kind = node.op_type
    if _ROUNDS_A_BIAS in node.output[0] and kind in ("Floor", "Cast"):
        kind = "Identity"
    if kind not in _OPERATORS:
        raise KeyError(kind)
    uses.subtract(node.input)
    done_with = {name for name in node.input if name and not uses[name] and name not in kept}
    how = {one.name: helper.get_attribute_value(one) for one in node.attribute}
    return _Node(kind, tuple(node.input), tuple(node.output), how, tuple(done_with))


_SHAPED = frozenset(
    (
        "CumSum",
        "Expand",
        "Pad",
        "ReduceMean",
        "ReduceSum",
        "Reshape",
        "Resize",
        "STFT",
        "Slice",
        "Squeeze",
        "Unsqueeze",
    )
)
"""Operators of which only the first input has a place; the others are numbers that say how."""


def _together(kind: str, inputs: list[Any]) -> list[Any]:
    """All on the device, where one of them is there."""
    if kind in _SHAPED:
        return inputs
    there = [one for one in inputs if one is not None and one.device.type != "cpu"]
    return [one if one is None else one.to(there[0].device) for one in inputs] if there else inputs
