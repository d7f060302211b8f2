"""
Starts a network from the weights of an exported one, which may be narrower and may see coarser pixels: the first answers are
those of the exported file, whatever is new adds nothing yet (after Chen et al., Net2Net, 2016).
"""
import onnx
import torch
from onnx import numpy_helper
from torch import nn

from network import FINER


def weights_in(path):
    """Weights of an exported file by name, in single precision."""
    stored = {w.name: torch.from_numpy(numpy_helper.to_array(w).copy()).float() for w in onnx.load(path).graph.initializer}
    out = {}
    for name, values in stored.items():
        whole, _, form = name.removeprefix("net.").rpartition(".")
        if form == "half":
            out[whole] = values
        elif form == "whole":
            out[whole] = values * stored[f"net.{whole}.step"]
    return out


def means_of_input(first):
    """The first convolution of a finer stem as one that hands on means of 2 x 2 pixels, each as it is and with its sign turned."""
    out, inputs = first.weight.shape[:2]
    assert FINER == 2 and out >= 2 * inputs
    first.weight[: 2 * inputs].zero_()
    for k in range(inputs):
        first.weight[2 * k, k, 1:, 1:] = 0.25
        first.weight[2 * k + 1, k, 1:, 1:] = -0.25


def turned(weight):
    """A convolution of the network's input as one of its means and turned means (rectified, their difference is the input)."""
    return torch.stack([weight, -weight], 2).reshape(weight.shape[0], -1, *weight.shape[2:])


def pairs_of(net):
    """Convolutions by name, each with the normalisation that follows it or None."""
    for name, part in net.named_modules():
        if isinstance(part, nn.Sequential):
            for i, one in enumerate(part):
                if isinstance(one, nn.Conv2d):
                    after = part[i + 1] if i + 1 < len(part) else None
                    yield f"{name}.{i}", one, after if isinstance(after, nn.BatchNorm2d) else None


@torch.no_grad()
def widen(net, path, inputs):
    """Gives `net` the weights of the exported file. `inputs` [n,6,h,w]: a batch on which the normalisations are measured."""
    old = weights_in(path)
    coarse = "stem.3.weight" not in old
    if coarse:
        means_of_input(net.stem[0])
        old["stem.3.weight"], old["stem.3.bias"] = turned(old.pop("stem.0.weight")), old.pop("stem.0.bias")
    norms = []
    for name, conv, norm in pairs_of(net):
        weight = old.pop(f"{name}.weight", None)
        bias = old.pop(f"{name}.bias", torch.zeros(0)).to(conv.weight.device)
        if weight is not None:
            o, i = weight.shape[:2]
            if conv.groups == 1:
                conv.weight[:o].zero_()
            conv.weight[:o, :i] = weight.to(conv.weight.device)
        if norm is None:
            conv.bias[: len(bias)] = bias
            continue
        norm.weight.fill_((1 + norm.eps) ** 0.5)  # with mean 0 and variance 1: as if it were not there
        norm.bias.zero_()
        norm.bias[: len(bias)] = bias
        norms.append((norm, len(bias) if weight is not None else (2 * conv.weight.shape[1] if name == "stem.0" and coarse else 0)))
    assert not old, f"the network has no place for {sorted(old)}"

    seen = {}
    hooks = [norm.register_forward_pre_hook(lambda part, x: seen.__setitem__(part, torch.var_mean(x[0].float(), (0, 2, 3), unbiased=False))) for norm, _ in norms]
    net.eval()(inputs)
    for hook in hooks:
        hook.remove()
    for norm, kept in norms:
        variance, mean = seen[norm]
        norm.running_mean.copy_(mean)
        norm.running_var.copy_(variance)
        spread = (variance + norm.eps).sqrt()
        norm.weight[:kept] = spread[:kept]
        norm.bias[:kept] += mean[:kept]
        norm.weight[kept:].fill_(1)
        norm.bias[kept:].zero_()
    net.train()
