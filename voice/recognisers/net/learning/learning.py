"""Learning: what the half that hears makes of a room is to be what it made of clean speech.

Three errors are added: that of the text which the other half, left as it was, writes from it, where
the words are known; that of the letters which a small net on top of it tells there; and the
distance from what the published net hears without the room.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from voice.recognisers.net.learning import net, spelling
from voice.recognisers.net.learning.batches import Batch, Batches

WEIGHTS = "learnt.pt"
_BROKEN_OFF = "broken_off.pt"
_SEED = 1
_COMPARED = 0.3
"""This share of a batch is compared with what the published net hears."""
_PEAK = 5e-4
_WARM = 300
"""So many steps the rate grows; then it falls as a cosine does."""
_SPELLS_FASTER, _SPELLS_COUNTS = 4.0, 0.4
"""How much larger the steps are of what tells letters, and how much its error counts."""
_SPELLS_ALONE = 150
"""So many steps its error changes nothing but itself."""
_AVERAGED = 0.006
_KEPT_EACH = 500
"""After so many steps all is kept, so that learning that was broken off goes on from there."""
_AS_PUBLISHED = 0.25
"""This share of what is written is the published net: of many learnt steps a little is taken back,
so that voices unlike those it learnt from are heard as well (M. Wortsman et al., "Robust
fine-tuning of zero-shot models", CVPR 2022)."""
_FIXED = ("conv1", "groupnorm")
"""The first steps stay as published: to learn them takes as long as all others."""


@dataclass(eq=False)
class Learner:
    """The nets, the optimiser and the mean of the weights, as they are after some steps."""

    model: Any
    published: Any
    spells: Any
    steps: Any
    mean: dict[str, Any]
    device: str
    done: int = 0

    def state(self) -> dict[str, Any]:
        """All of it that goes on from one run to another."""
        nets = {"hears": self.model.model.encoder, "spells": self.spells, "steps": self.steps}
        kept = {name: part.state_dict() for name, part in nets.items()}
        return {**kept, "mean": self.mean, "done": self.done}

    def go_on_from(self, state: dict[str, Any]) -> None:
        """Take it up again."""
        self.model.model.encoder.load_state_dict(state["hears"])
        self.spells.load_state_dict(state["spells"])
        self.steps.load_state_dict(state["steps"])
        self.mean, self.done = state["mean"], state["done"]

    def found(self) -> dict[str, Any]:
        """The mean of the weights, with a share of the published ones where they are the same."""
        kept = dict(self.mean)
        for name, value in self.published.state_dict().items():
            kept[name] = (1 - _AS_PUBLISHED) * kept[name] + _AS_PUBLISHED * value
        return kept

    def weights(self) -> dict[str, Any]:
        """Of the half that hears and of what tells letters."""
        own = {spelling.PREFIX + name: value for name, value in self.spells.state_dict().items()}
        return {**self.model.model.encoder.state_dict(), **own}


def learn(
    folder: Path, steps: int, size: int, begin: Path | None = None, until: int | None = None
) -> None:
    """Learn so many steps of so many utterances; the mean of the last weights, mixed with the
    published ones, is written.

    `begin`: a file of ours to begin with in place of the published one. `until`: break off after
    this step. Learning that was broken off goes on where it was.
    """
    import torch

    torch.manual_seed(_SEED)
    learner = _beginning(begin)
    if (broken_off := folder / _BROKEN_OFF).exists():
        learner.go_on_from(torch.load(broken_off, map_location=learner.device))
    last = min(steps, until or steps)
    batches = Batches(folder, _SEED, size, learner.device)
    for number in range(learner.done, last):
        errors = _step(learner, batches[number], steps)
        if learner.done % 100 == 0:
            told = ", ".join(
                f"{name} {float(value.detach()):.3f}" for name, value in errors.items()
            )
            print(f"step {learner.done} of {steps}: {told}", flush=True)
        if learner.done % _KEPT_EACH == 0 or learner.done == last:
            torch.save(learner.state(), broken_off)
    torch.save(learner.found(), folder / WEIGHTS)


def _beginning(begin: Path | None) -> Learner:
    """Before the first step: the net as published, or as a file of ours has it."""
    import torch

    device = "cuda" if torch.cuda.is_available() else "cpu"
    model, published = net.published().to(device), net.published().model.encoder.to(device)
    model.requires_grad_(requires_grad=False)
    published.requires_grad_(requires_grad=False)
    spells = spelling.spells().to(device)
    if begin is not None:
        state = {name: torch.tensor(value) for name, value in net.read(begin).items()}
        first = {n: state.pop(n) for n in [*state] if n.startswith(spelling.PREFIX)}
        spells.load_state_dict({n.removeprefix(spelling.PREFIX): v for n, v in first.items()})
        model.model.encoder.load_state_dict(state)
    for name, weight in model.model.encoder.named_parameters():
        weight.requires_grad_(not name.startswith(_FIXED))
    learnt = [weight for weight in model.model.encoder.parameters() if weight.requires_grad]
    steps = torch.optim.AdamW(
        [
            {"params": learnt, "times": 1.0},
            {"params": spells.parameters(), "times": _SPELLS_FASTER},
        ],
        lr=_PEAK,
        weight_decay=0.01,
        betas=(0.9, 0.98),
        fused=device == "cuda",
    )
    learner = Learner(model, published, spells, steps, {}, device)
    learner.mean = {name: value.clone() for name, value in learner.weights().items()}
    return learner


def _step(learner: Learner, batch: Batch, steps: int) -> dict[str, Any]:
    """Learn from one batch; the errors before it."""
    import torch

    learner.done += 1
    rate = _rate(learner.done, steps)
    for group in learner.steps.param_groups:
        group["lr"] = rate * group["times"]
    error, distance, heard = _errors(learner, batch)
    found = learner.spells(heard if learner.done > _SPELLS_ALONE else heard.detach())
    misspelled = spelling.loss(found, batch.letters, batch.lengths)
    learner.steps.zero_grad()
    (error + distance + _SPELLS_COUNTS * misspelled).backward()
    learnt = [weight for group in learner.steps.param_groups for weight in group["params"]]
    torch.nn.utils.clip_grad_norm_(learnt, 1.0)
    learner.steps.step()
    now = learner.weights()
    torch._foreach_lerp_([learner.mean[name] for name in now], [*now.values()], _AVERAGED)
    return {"text": error, "sound": distance, "letters": misspelled}


def _rate(step: int, steps: int) -> float:
    return _PEAK * min(1, step / _WARM) * (0.485 * (1 + math.cos(math.pi * step / steps)) + 0.03)


def _errors(learner: Learner, batch: Batch) -> tuple[Any, Any, Any]:
    """Cross entropy of the next token, mean square distance as a share of the variance, and what
    was heard.
    """
    import torch

    text, model = batch.tokens, learner.model
    compared = slice(0, max(1, int(_COMPARED * len(text))))
    with torch.autocast(learner.device, dtype=torch.bfloat16):
        with torch.no_grad():
            wanted = learner.published(batch.clean[compared]).last_hidden_state
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
