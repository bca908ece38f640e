"""Operators of ONNX in torch that only reckon, or move numbers about; see `onnx_in_torch`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

Inputs = Sequence[Any]
How = Mapping[str, Any]


_KINDS = {1: "float32", 6: "int32", 7: "int64", 9: "bool", 11: "float64"}
"""Of numbers, by their number in ONNX."""


def numbers(one: Any) -> list[Any]:
    """The numbers of the tensor, as a list."""
    found: list[Any] = one.tolist()
    return found if isinstance(found, list) else [found]


def _plus(kind: str) -> Callable[[Inputs, How], Any]:
    """The function of torch of that name."""

    def apply(x: Inputs, _: How) -> Any:
        import torch

        return getattr(torch, kind)(*x)

    return apply


def _cast(x: Inputs, how: How) -> Any:
    import torch

    return x[0].to(getattr(torch, _KINDS[how["to"]]))


def _div(x: Inputs, _: How) -> Any:
    import torch

    return torch.div(*x, rounding_mode=None if x[0].is_floating_point() else "trunc")


def _reshape(x: Inputs, _: How) -> Any:
    shape = [x[0].shape[n] if size == 0 else size for n, size in enumerate(numbers(x[1]))]
    return x[0].reshape(shape)


def _unsqueeze(x: Inputs, _: How) -> Any:
    found = x[0]
    for axis in sorted(numbers(x[1])):
        found = found.unsqueeze(axis)
    return found


def _squeeze(x: Inputs, _: How) -> Any:
    return x[0].squeeze(tuple(numbers(x[1])))


def _gather(x: Inputs, how: How) -> Any:
    axis, places = how.get("axis", 0), x[1].long()
    size = x[0].shape[axis]
    places = places.remainder(size)
    found = x[0].index_select(axis, places.reshape(-1))
    return found.reshape([*x[0].shape[:axis], *places.shape, *x[0].shape[axis % x[0].dim() + 1 :]])


def _slice(x: Inputs, _: How) -> Any:
    starts, ends = numbers(x[1]), numbers(x[2])
    axes = numbers(x[3]) if len(x) > 3 and x[3] is not None else range(len(starts))
    steps = numbers(x[4]) if len(x) > 4 and x[4] is not None else [1] * len(starts)
    found = x[0]
    for start, end, axis, step in zip(starts, ends, axes, steps, strict=True):
        places = range(found.shape[axis])[start:end:step]
        if step > 0:
            cut = [slice(None)] * found.dim()
            cut[axis] = slice(start, end, step)
            found = found[tuple(cut)]
        else:
            found = found[(slice(None),) * (axis % found.dim()) + (list(places),)]
    return found


def _split(x: Inputs, how: How) -> Any:
    return tuple(x[0].split(numbers(x[1]), how.get("axis", 0)))


def _mean(x: Inputs, how: How) -> Any:
    return x[0].mean(numbers(x[1]), keepdim=bool(how.get("keepdims", 1)))


def _sum(x: Inputs, how: How) -> Any:
    return x[0].sum(numbers(x[1]), keepdim=bool(how.get("keepdims", 1)))


def _constant_of_shape(x: Inputs, how: How) -> Any:
    import torch
    from onnx import numpy_helper

    value = torch.from_numpy(np.array(numpy_helper.to_array(how["value"])))
    return value.reshape(-1)[0].expand(numbers(x[0])).clone()


def _range(x: Inputs, _: How) -> Any:
    import torch

    return torch.arange(*(one.item() for one in x))


def _shape(x: Inputs, _: How) -> Any:
    import torch

    return torch.tensor(x[0].shape)


def _where(x: Inputs, _: How) -> Any:
    import torch

    return torch.where(*x)


def _scatter(x: Inputs, _: How) -> Any:
    made = x[0].clone()
    made[tuple(x[1].unbind(-1))] = x[2]
    return made


def _clip(x: Inputs, _: How) -> Any:
    return x[0].clamp(*(None if one is None else float(one) for one in x[1:]))


def _concat(x: Inputs, how: How) -> Any:
    import torch

    return torch.cat([*x], how["axis"])


def _expand(x: Inputs, _: How) -> Any:
    import torch

    return x[0].expand(torch.broadcast_shapes(x[0].shape, numbers(x[1])))


RECKONING: dict[str, Callable[[Inputs, How], Any]] = {
    "Add": _plus("add"),
    "And": _plus("logical_and"),
    "Atan": _plus("atan"),
    "Cast": _cast,
    "Clip": _clip,
    "Concat": _concat,
    "ConstantOfShape": _constant_of_shape,
    "Cos": _plus("cos"),
    "CumSum": lambda x, _: x[0].cumsum(int(x[1])),
    "Div": _div,
    "Equal": _plus("eq"),
    "Exp": _plus("exp"),
    "Expand": _expand,
    "Floor": _plus("floor"),
    "Gather": _gather,
    "Greater": _plus("gt"),
    "GreaterOrEqual": _plus("ge"),
    "Identity": lambda x, _: x[0],
    "Less": _plus("lt"),
    "MatMul": _plus("matmul"),
    "Mul": _plus("mul"),
    "NonZero": lambda x, _: x[0].nonzero().T,
    "Pow": _plus("pow"),
    "Range": _range,
    "ReduceMean": _mean,
    "ReduceSum": _sum,
    "Reshape": _reshape,
    "Round": _plus("round"),
    "ScatterND": _scatter,
    "Shape": _shape,
    "Sigmoid": _plus("sigmoid"),
    "Sin": _plus("sin"),
    "Slice": _slice,
    "Split": _split,
    "Sqrt": _plus("sqrt"),
    "Squeeze": _squeeze,
    "Sub": _plus("sub"),
    "Tanh": _plus("tanh"),
    "Transpose": lambda x, how: x[0].permute(*how["perm"]),
    "Unsqueeze": _unsqueeze,
    "Where": _where,
}
