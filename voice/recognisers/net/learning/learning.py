"""Learning: what the half that hears makes of a room is to be what it made of clean speech.

Three errors are added: that of the text which the other half, left as it was, writes from it, where
the words are known; that of the letters which a small net on top of it tells there; and the
distance from what the published net hears without the room.
"""

from __future__ import annotations

import math
import time
from pathlib import Path
from typing import Any

from voice.recognisers.net.learning import net, spelling
from voice.recognisers.net.learning.batches import Batch, Batches, beside

WEIGHTS = "learnt.pt"
_COMPARED = 6
"""So many of a batch are compared with what the published net hears."""
_PEAK = 2e-4
_SPELLS_FASTER, _SPELLS_COUNTS = 5.0, 0.4
"""How much larger the steps are of what tells letters, and how much its error counts."""
_SPELLS_ALONE = 150
"""So many steps its error changes nothing but itself."""
_AVERAGED = 0.015
_FIXED = ("conv1", "groupnorm")
"""The first steps stay as published: to learn them takes as long as all others."""


def learn(folder: Path, minutes: float, begin: Path | None = None) -> None:
    """Learn for so long, from the published weights or a state; the mean of the last is written."""
    import torch

    model, published = net.published(), net.published().model.encoder
    model.requires_grad_(requires_grad=False)
    published.requires_grad_(requires_grad=False)
    hears = model.model.encoder
    spells = spelling.spells()
    if begin is not None:
        _take_up(begin, hears, spells)
    for name, weight in hears.named_parameters():
        weight.requires_grad_(not name.startswith(_FIXED))
    learnt = [weight for weight in hears.parameters() if weight.requires_grad]
    for layer in (*hears.layers, *published.layers):
        layer.compile(dynamic=True)
    steps = _steps(learnt, spells)
    mean = {name: value.clone() for name, value in _state(hears, spells).items()}
    began = time.monotonic()
    for number, batch in enumerate(beside(Batches(folder, 1)), 1):
        done = (time.monotonic() - began) / 60 / minutes
        if done > 1:
            break
        rate = _PEAK * min(1, number / 200) * (0.485 * (1 + math.cos(math.pi * done)) + 0.03)
        for group in steps.param_groups:
            group["lr"] = rate * group["times"]
        error, distance, heard = _errors(model, published, batch)
        found = spells(heard if number > _SPELLS_ALONE else heard.detach())
        misspelled = spelling.loss(found, batch.letters, batch.lengths)
        steps.zero_grad()
        (error + distance + _SPELLS_COUNTS * misspelled).backward()
        torch.nn.utils.clip_grad_norm_([*learnt, *spells.parameters()], 1.0)
        steps.step()
        for name, value in _state(hears, spells).items():
            mean[name].lerp_(value, _AVERAGED)
        if number % 100 == 0:
            errors = {"text": error, "sound": distance, "letters": misspelled}
            told = ", ".join(f"{name} {float(value):.3f}" for name, value in errors.items())
            print(f"{done:.0%}: step {number}, {told}", flush=True)
    torch.save(mean, folder / WEIGHTS)


def _take_up(begin: Path, hears: Any, spells: Any) -> None:
    """Load the weights of both from a state."""
    import torch

    known = {name: torch.tensor(value) for name, value in net.learnt(begin).items()}
    kept = {name: value for name, value in known.items() if name.startswith(spelling.PREFIX)}
    hears.load_state_dict({name: known[name] for name in known.keys() - kept.keys()})
    if kept:
        spells.load_state_dict({n.removeprefix(spelling.PREFIX): kept[n] for n in kept})


def _steps(learnt: list[Any], spells: Any) -> Any:
    """The optimiser."""
    import torch

    return torch.optim.AdamW(
        [
            {"params": learnt, "times": 1.0},
            {"params": spells.parameters(), "times": _SPELLS_FASTER},
        ],
        lr=_PEAK,
        weight_decay=0.01,
        betas=(0.9, 0.98),
    )


def _state(hears: Any, spells: Any) -> dict[str, Any]:
    own = {spelling.PREFIX + name: value for name, value in spells.state_dict().items()}
    return {**hears.state_dict(), **own}


def _errors(model: Any, published: Any, batch: Batch) -> tuple[Any, Any, Any]:
    """Cross entropy of the next token, mean square distance as a share of the variance, and what
    was heard.
    """
    import torch

    text = batch.tokens
    known = (text >= 0).any(dim=1)
    compared = torch.argsort(known + 0.5 * torch.rand(len(known)))[:_COMPARED]
    with torch.autocast("cpu", dtype=torch.bfloat16):
        with torch.no_grad():
            wanted = published(batch.clean[compared]).last_hidden_state
        found = model.model.encoder(batch.heard).last_hidden_state
        fed, following = text[:, :-1].clamp(min=0), text[:, 1:]
        written = model.model.decoder(input_ids=fed, encoder_hidden_states=found)
        scores = model.proj_out(written.last_hidden_state)
    wanted, alike = wanted.float(), found[compared].float()
    distance = ((alike - wanted) ** 2).mean() / ((wanted - wanted.mean((0, 1))) ** 2).mean()
    error = torch.nn.functional.cross_entropy(
        scores.float().flatten(0, 1), following.flatten(), ignore_index=-1, reduction="sum"
    )
    return error / max(1, int((following >= 0).sum())), distance, found.float()
