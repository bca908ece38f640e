"""The net's weights: from the published files into torch, and from there into a file of our own.

What the net computes stays as it was published; only numbers are others. They are kept in eight
bits, with a scale and a zero for every column. Sources: the package moonshine-voice; the net's
structure as the package transformers has it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voice.models.model_list import find
from voice.models.models import verify
from voice.recognisers.net.learning import eight_bits, spelling
from voice.recognisers.net.moonshine_net import ADAPTED, MODEL

OURS = Path(find(ADAPTED).folder) / find(ADAPTED).file
_HEARS, _WRITES = "encoder_model", "decoder_model_merged"
_QUANTIZED = "_quantized"
_END, _LONGEST = 2, 26
_NAMES = re.compile(r"[a-z0-9_.]+\.(weight|bias)")
"""Of weights in torch."""
Weights = dict[str, NDArray[np.float32]]


def published() -> Any:
    """The net in torch, as published, with whole numbers as fractions."""
    import torch
    from transformers import MoonshineConfig, MoonshineForConditionalGeneration

    net = MoonshineForConditionalGeneration(MoonshineConfig())
    hears = {f"model.encoder.{name}": value for name, value in _weights(_graph(_HEARS)).items()}
    state = hears | _weights(_graph(_WRITES))
    # refuses what is missing or has another shape
    net.load_state_dict({name: torch.tensor(value) for name, value in state.items()})
    net.set_attn_implementation("eager")
    return net.eval()


def read(file: Path) -> Weights:
    """Weights of a file that `write` made, by their names in torch."""
    import onnx

    model = onnx.load(file)
    eight_bits.keep_whole(model)
    kept = dict(_kept(model.graph))
    return _weights(model) | {
        spelling.PREFIX + name: value for name, value in spelling.weights(kept).items()
    }


def _weights(model: Any) -> Weights:
    """By their names in torch; whole numbers as fractions."""
    found: Weights = {}
    kept = dict(_kept(model.graph))
    for node, inputs in _multiplications(model.graph, kept):
        whole, scale, zero = (kept[name] for name in inputs)
        weight = (whole.astype(np.float32) - zero.astype(np.float32)) * scale
        found[_name(node)] = weight if node.op_type == "Gather" else weight.T
    for name, value in kept.items():
        plain = _plain(name)
        if value.dtype == np.float32 and _NAMES.fullmatch(plain) and plain not in found:
            found[plain] = value.reshape(-1) if "groupnorm" in plain else value
    return found


def _name(node: Any) -> str:
    path = str(node.name).strip("/").replace("/MatMul_quant", "").replace("/Gather", "")
    return path.replace("/", ".") + ".weight"


_GROUP = {"onnx::Mul_2080": "groupnorm.weight", "onnx::Add_2081": "groupnorm.bias"}
"""Two weights that have no name of their own in the published file."""


def _plain(name: str) -> str:
    return _GROUP.get(name, name.removesuffix("_add_tensor").removesuffix("_merged_0"))


def _graph(file: str) -> Any:
    """The published file as a model of the package onnx, nothing in it made faster."""
    import onnx
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.graph_optimization_level = onnxruntime.GraphOptimizationLevel.ORT_DISABLE_ALL
    options.add_session_config_entry("session.save_model_format", "ONNX")
    with TemporaryDirectory() as place:
        options.optimized_model_filepath = str(Path(place) / "net.onnx")
        onnxruntime.InferenceSession(
            str(verify(MODEL) / f"{file}.ort"), options, providers=["CPUExecutionProvider"]
        )
        return onnx.load(options.optimized_model_filepath)


def _parts(graph: Any) -> Iterator[Any]:
    """The graph and those within it."""
    yield graph
    for node in graph.node:
        for attribute in node.attribute:
            if attribute.HasField("g"):
                yield from _parts(attribute.g)


def _kept(graph: Any) -> Iterator[tuple[str, NDArray[Any]]]:
    from onnx import numpy_helper

    for part in _parts(graph):
        for tensor in part.initializer:
            yield tensor.name, numpy_helper.to_array(tensor)


def _multiplications(
    graph: Any, kept: dict[str, NDArray[Any]]
) -> Iterator[tuple[Any, tuple[str, str, str]]]:
    """The nodes with weights in eight bits, and the names of their numbers, scale and zero."""
    for part in _parts(graph):
        for node in part.node:
            for name in node.input:
                if name.endswith(_QUANTIZED) and name in kept:
                    stem = name.removesuffix(_QUANTIZED)
                    yield node, (name, f"{stem}_scale", f"{stem}_zero_point")


def write(learnt: Path, out: Path) -> None:
    """Put learnt weights in the place of the published ones."""
    import onnx
    import torch
    from onnx import numpy_helper

    kept_state = torch.load(learnt, map_location="cpu")
    state = {name: value.float().numpy() for name, value in kept_state.items()}
    model = _graph(_HEARS)
    kept = dict(_kept(model.graph))
    new = {
        name: state[_plain(name)].reshape(kept[name].shape)
        for name in kept
        if _plain(name) in state
    }
    for node, names in _multiplications(model.graph, kept):
        new |= zip(names, eight_bits.columns(state[_name(node)].T), strict=True)
    for tensor in model.graph.initializer:
        if tensor.name in new:
            value = np.ascontiguousarray(new[tensor.name])
            tensor.CopyFrom(numpy_helper.from_array(value, tensor.name))
    named = {
        name.removeprefix(spelling.PREFIX): value
        for name, value in state.items()
        if name.startswith(spelling.PREFIX)
    }
    spelling.add(model, named)
    eight_bits.keep_small(model)
    onnx.save(model, str(out))
