"""Operators of ONNX in torch that are layers of a net; see `onnx_in_torch`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from voice.recognisers.net.learning.onnx_numbers import How, Inputs, numbers

_NOT_ZERO = 1e-12
"""Added to spectra: a graph may divide by them."""


def _conv(x: Inputs, how: How) -> Any:
    import torch

    first, last = how["pads"]
    sound = x[0] if first == last else torch.nn.functional.pad(x[0], (first, last))
    padding = first if first == last else 0
    bias = x[2] if len(x) > 2 else None
    return torch.nn.functional.conv1d(
        sound, x[1], bias, how["strides"], padding, how["dilations"], how["group"]
    )


def _conv_of_bytes(x: Inputs, how: How) -> Any:
    zero = x[3].float().reshape(-1, 1, 1)
    return _conv((x[0], x[1].float() - zero), how)


def _conv_transposed(x: Inputs, how: How) -> Any:
    import torch

    bias = x[2] if len(x) > 2 else None
    more = how.get("output_padding", [0])
    return torch.nn.functional.conv_transpose1d(
        x[0], x[1], bias, how["strides"], how["pads"][0], more, how["group"], how["dilations"]
    )


def _product_of_bytes(x: Inputs, _: How) -> Any:
    return x[0] @ (x[1].float() - x[3].float())


def _fused_product(x: Inputs, how: How) -> Any:
    first, second = (
        one.transpose(-1, -2) if how.get(side) else one
        for one, side in zip(x, ("transA", "transB"), strict=True)
    )
    return how.get("alpha", 1.0) * (first @ second)


def _as_it_is(x: Inputs, _: How) -> Any:
    """Sound that would be made whole numbers stays as it is, with a scale of one."""
    import torch

    return x[0], torch.ones((), device=x[0].device), torch.zeros((), device=x[0].device)


def _normalised(x: Inputs, how: How) -> Any:
    import torch

    return torch.nn.functional.layer_norm(x[0], x[0].shape[-1:], x[1], x[2], how["epsilon"])


def _skipped_and_normalised(x: Inputs, how: How) -> Any:
    return _normalised((x[0] + x[1], *x[2:]), how)


def _gelu(x: Inputs, _: How) -> Any:
    import torch

    return torch.nn.functional.gelu(x[0] + x[1], approximate="tanh")


def _lstm(x: Inputs, how: How) -> Any:
    """Both ways; in ONNX the gates are in the order input, output, forget, cell."""
    import torch

    size = how["hidden_size"]
    scales, zeros = (x[8], x[10]), (x[9], x[11])
    weights: list[Any] = []
    for way in range(x[1].shape[0]):
        for which, whole in enumerate(x[1:3]):
            scale, zero = (
                side[which].reshape(x[1].shape[0], -1)[way].float() for side in (scales, zeros)
            )
            weights.append(_gates(((whole[way].float() - zero) * scale).T, size))
        weights += [_gates(part, size) for part in x[3][way].split(4 * size)]
    begin = (x[5], x[6]) if x[5] is not None else (x[0].new_zeros(len(x[1]), 1, size),) * 2
    layers, dropout = 1, 0.0
    biased, training, both_ways, batch_first = True, False, True, False
    found, hidden, cell = torch._VF.lstm(
        x[0], begin, weights, biased, layers, dropout, training, both_ways, batch_first
    )
    made = found.reshape(*found.shape[:2], len(x[1]), size).transpose(1, 2)
    return made, hidden, cell


def _gates(weight: Any, size: int) -> Any:
    import torch

    into, out, forget, cell = weight.split(size)
    return torch.cat([into, forget, cell, out]).contiguous()


def _resize(x: Inputs, how: How) -> Any:
    import torch

    times = float(x[2].reshape(-1)[-1])
    size = int(x[0].shape[-1] * times)
    linear = how["mode"] == b"linear"
    mode, corners = ("linear", False) if linear else ("nearest", None)
    channels = x[0].reshape(1, -1, x[0].shape[-1])
    made = torch.nn.functional.interpolate(
        channels,
        scale_factor=times,
        mode=mode,
        align_corners=corners,
        recompute_scale_factor=False,
    )
    return made[..., :size].reshape(*x[0].shape[:-1], -1)


def _pad(x: Inputs, _: How) -> Any:
    import torch

    sides = numbers(x[1])
    half = len(sides) // 2
    first, last = sides[half - 1], sides[-1]
    flat = x[0].reshape(1, -1, x[0].shape[-1])
    made = torch.nn.functional.pad(flat, (first, last), mode="reflect")
    return made.reshape(*x[0].shape[:-1], -1)


def _stft(x: Inputs, _: How) -> Any:
    """Frames of the sound, (1, frames, bins, real and imaginary)."""
    import torch

    step, window = int(x[1]), x[2].to(x[0].device)
    sound = x[0].reshape(-1, x[0].shape[1])
    frames = sound.unfold(-1, len(window), step) * window
    return torch.view_as_real(torch.fft.rfft(frames) + _NOT_ZERO)


LAYERS: dict[str, Callable[[Inputs, How], Any]] = {
    "Conv": _conv,
    "ConvInteger": _conv_of_bytes,
    "ConvTranspose": _conv_transposed,
    "DequantizeLinear": lambda x, _: (x[0].float() - x[2].float()) * x[1],
    "DynamicQuantizeLSTM": _lstm,
    "DynamicQuantizeLinear": _as_it_is,
    "FastGelu": _gelu,
    "FusedMatMul": _fused_product,
    "LayerNormalization": _normalised,
    "LeakyRelu": lambda x, how: x[0].where(x[0] >= 0, x[0] * how["alpha"]),
    "MatMulInteger": _product_of_bytes,
    "Pad": _pad,
    "Resize": _resize,
    "STFT": _stft,
    "SkipLayerNormalization": _skipped_and_normalised,
    "Softmax": lambda x, how: x[0].softmax(how["axis"]),
}
