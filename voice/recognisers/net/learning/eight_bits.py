"""Weights in eight bits: whole numbers, with a scale for each of what they make."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

_MOST = 127
Floats = NDArray[np.float32]


def columns(weight: Floats) -> tuple[NDArray[np.uint8], Floats, NDArray[np.uint8]]:
    """Whole numbers, and for each column the scale and the number that means 0."""
    low, high = np.minimum(weight.min(axis=0), 0), np.maximum(weight.max(axis=0), 0)
    scale = np.maximum((high - low) / 255, 1e-8).astype(np.float32)
    zero = np.round(-low / scale)
    whole = np.clip(np.round(weight / scale) + zero, 0, 255)
    return whole.astype(np.uint8), scale, zero.astype(np.uint8)


def convolution(weight: Floats) -> tuple[NDArray[np.int8], Floats]:
    """Whole numbers, and the scale of each channel and frame; (channels, fed, frames)."""
    most = np.abs(weight).max(axis=1, keepdims=True)
    scale = np.maximum(most / _MOST, 1e-8).astype(np.float32)
    return np.round(weight / scale).astype(np.int8), scale


def keep_small(model: Any) -> None:
    """Keep the weights of the ONNX model's convolutions in eight bits.

    The first, which the file has joined with what follows it, stays as published. The weights are
    fractions again once the file is opened, so nothing that is computed takes longer.
    """
    from onnx import TensorProto, helper, numpy_helper

    kept = {tensor.name: tensor for tensor in model.graph.initializer}
    fed = [node.input[1] for node in model.graph.node if node.op_type == "Conv"]
    opened = []
    for name in fed:
        weight = numpy_helper.to_array(kept[name])
        whole, scale = convolution(weight)
        kept[name].CopyFrom(numpy_helper.from_array(whole, f"{name}_whole"))
        model.graph.initializer.append(numpy_helper.from_array(scale, f"{name}_scale"))
        opened += [
            helper.make_node("Cast", [f"{name}_whole"], [f"{name}_cast"], to=TensorProto.FLOAT),
            helper.make_node("Mul", [f"{name}_cast", f"{name}_scale"], [name]),
        ]
    nodes = [*opened, *model.graph.node]
    del model.graph.node[:]
    model.graph.node.extend(nodes)


def keep_whole(model: Any) -> None:
    """Turn back what `keep_small` did, but for what was rounded."""
    from onnx import numpy_helper

    kept = {tensor.name: tensor for tensor in model.graph.initializer}
    for name in [name.removesuffix("_whole") for name in kept if name.endswith("_whole")]:
        whole, scale = (
            numpy_helper.to_array(kept[f"{name}_{part}"]) for part in ("whole", "scale")
        )
        model.graph.initializer.append(numpy_helper.from_array(whole * scale, name))
