"""Renders, trains, evaluates and exports the seedling detector. See README.md beside this file."""
import argparse
import copy
import json
import math
import os
import random
import time

import numpy as np
import torch
import torch.distributed as dist

from degrade import degrade, holes
from evaluate import score
from export import export
from network import FINER, PlantNet, assemble, view_channels
from strips import Renewal, Strips, render_strips
from targets import STRIDE, loss_of, make_targets
from widen import widen


def flipped(s, across, along):
    """Mirrors strips with their truth."""
    h, w = s.plant.shape[1:]
    rgb, plant, truth, meta = s.rgb, s.plant, s.truth.clone(), s.meta.clone()
    if along:
        rgb, plant = rgb.flip(3), plant.flip(2)
        truth[..., [0, 2]] = w - 1 - truth[..., [0, 2]]
        meta[:, 0] = w - 1 - meta[:, 0]
    if across:
        rgb, plant = rgb.flip(2), plant.flip(1)
        truth[..., [1, 3]] = h - 1 - truth[..., [1, 3]]
        meta[:, 1] = h - 1 - meta[:, 1]
    return Strips(rgb.contiguous(), plant.contiguous(), truth, s.count, meta, s.visible)


def camera_error(view):
    """The camera's place is estimated from the reference: not exact, and often unknown for straight-down photos."""
    n = view.shape[0]
    dev = view.device
    scale = torch.exp(0.08 * torch.randn(n, 1, 1, 1, device=dev))
    shift = 0.06 * torch.randn(n, 2, 1, 1, device=dev)
    out = view * scale + shift
    flat = view.abs().mean((1, 2, 3)) < 0.3
    unknown = flat & (torch.rand(n, device=dev) < 0.35)
    return out * (~unknown).float()[:, None, None, None]


def step_inputs(strips, device):
    s = flipped(strips, random.random() < 0.5, random.random() < 0.5)
    h, w = s.rgb.shape[2:]
    view = view_channels(s.meta, h, w, device)
    rgb = degrade(s.rgb, view, random.choice((0.35, 0.6, 1.0)), fixed=True)
    valid = holes(len(s), h, w, device)
    answered = slice(None, None, FINER * STRIDE)
    return assemble(rgb, camera_error(view), valid), make_targets(s), valid[:, 0, answered, answered]


class Average:
    """Exponential moving average of the weights."""

    def __init__(self, net):
        self.net = PlantNet().to(next(net.parameters()).device)
        self.net.load_state_dict(net.state_dict())
        self.count = 0

    @torch.no_grad()
    def follow(self, net):
        self.count += 1
        k = min(0.996, (1 + self.count) / (10 + self.count))
        pairs = [(a, b) for a, b in zip(self.net.state_dict().values(), net.state_dict().values()) if a.dtype.is_floating_point]
        mine = [a for a, _ in pairs]
        torch._foreach_mul_(mine, k)
        torch._foreach_add_(mine, [b for _, b in pairs], alpha=1 - k)


def shared_mean(net, progress, device):
    """Averages the gradients, and how far the training is, over all processes; returns the mean progress."""
    if not dist.is_initialized():
        return progress
    grads = [p.grad for p in net.parameters()]
    flat = torch.cat([g.reshape(-1) for g in grads] + [torch.full((1,), progress, device=device)])
    dist.all_reduce(flat)
    flat /= dist.get_world_size()
    for g, mean in zip(grads, flat[:-1].split([g.numel() for g in grads])):
        g.copy_(mean.view_as(g))
    return flat[-1]


@torch.no_grad()
def unseen_loss(net, strips, device, batch):
    """Parts of the loss on strips that training never sees: what it learns by heart does not help here."""
    net.eval()
    sums, n = {}, 0
    for at in range(0, len(strips), batch):
        x, target, valid = step_inputs(strips.pick(slice(at, at + batch)), device)
        for k, v in loss_of(net(x), target, valid)[1].items():
            sums[k] = sums.get(k, 0) + float(v)
        n += 1
    return " ".join(f"{k} {v / n:.3f}" for k, v in sums.items())


def train(net, average, data, device, seconds, steps, batch, peak, unseen=None, keep=lambda: None, report=15.0):
    """
    Trains until the time or the steps are spent; the learning rate follows whichever is further along. With several
    processes each has its own strips and `batch` of them a step, and the gradients are averaged. `unseen` strips are scored
    with the averaged weights every fourth report.
    """
    first = not dist.is_initialized() or dist.get_rank() == 0
    fast = {"fused": True} if device.type == "cuda" else {}
    forward = torch.compile(net, dynamic=False) if device.type == "cuda" else net
    opt = torch.optim.AdamW(net.parameters(), lr=peak, weight_decay=0.01, betas=(0.9, 0.99), **fast)
    begin, last, done, sums = time.time(), time.time(), 0, {}
    net.train()
    order, at, progress, told, reports = torch.randperm(len(data)), 0, 0.0, 0.0, 0
    while progress < 1:
        rate = peak * min(1, (done + 1) / 200) * (0.02 + 0.98 * 0.5 * (1 + math.cos(math.pi * progress)))
        for g in opt.param_groups:
            g["lr"] = rate
        if at + batch > len(order):
            order, at = torch.randperm(len(data)), 0
        pick = order[at : at + batch].to(device)
        at += batch
        with torch.no_grad():
            x, target, valid = step_inputs(data.pick(pick), device)
        x = x.contiguous(memory_format=torch.channels_last)
        with torch.autocast(device.type, enabled=device.type == "cuda", dtype=torch.bfloat16):
            out = forward(x)
        loss, parts = loss_of(out, target, valid)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        progress, told = float(told), shared_mean(net, max((time.time() - begin) / seconds, (done + 1) / steps), device)  # a step late: nobody waits
        torch.nn.utils.clip_grad_norm_(net.parameters(), 5.0)
        opt.step()
        done += 1
        if first and done % 4 == 0:
            average.follow(net)
        for k, v in parts.items():
            sums[k] = sums.get(k, 0) + v.detach()
        sums["n"] = sums.get("n", 0) + 1
        if first and time.time() - last > report:
            n = sums.pop("n")
            print(f"step {done} {time.time() - begin:.0f} s rate {rate:.2g} " + " ".join(f"{k} {float(v) / n:.3f}" for k, v in sums.items()), flush=True)
            if unseen is not None and reports % 4 == 0:
                print(f"  on {len(unseen)} unseen strips: {unseen_loss(average.net, unseen, device, batch)}; {getattr(data, 'made', 0)} strips renewed", flush=True)
            reports += 1
            sums, last = {}, time.time()
            keep()
    took = time.time() - begin
    if first:
        print(f"trained {done} steps of {batch} strips in {took:.0f} s ({done * batch / max(took, 1e-9):.0f} strips a second)", flush=True)
    return done


def save(path, net, average, state):
    """The checkpoint to go on from, and beside it, a quarter of its size, what `export.py` needs of it."""
    half = {k: v.half() if v.dtype.is_floating_point else v for k, v in average.net.state_dict().items()}
    whole = {"net": net.state_dict(), "average": average.net.state_dict(), "state": state}
    for name, kept in ((path, whole), (os.path.join(os.path.dirname(path), "average.pt"), {"average": half, "state": state})):
        torch.save(kept, name + ".part")
        os.replace(name + ".part", name)


def join_others():
    """This process's device, its number and how many there are (run.sh starts one a GPU)."""
    processes, rank = int(os.environ.get("WORLD_SIZE", 1)), int(os.environ.get("LOCAL_RANK", 0))
    gpu = torch.cuda.is_available()
    if gpu:
        torch.cuda.set_device(rank)
    if processes > 1:
        dist.init_process_group("nccl" if gpu else "gloo")
    return torch.device(f"cuda:{rank}" if gpu else "cpu"), rank, processes


def main():
    a = argparse.ArgumentParser()
    a.add_argument("--library", required=True)
    a.add_argument("--out", default="artifacts/train")
    a.add_argument("--resume", default=None, help="checkpoint to go on from")
    a.add_argument("--from", dest="start", default=None, help="exported network to start from, as large as this or smaller")
    a.add_argument("--small", action="store_true", help="a few strips and steps, to check the whole chain on a CPU")
    a.add_argument("--render-seconds", type=float, default=130)
    a.add_argument("--train-seconds", type=float, default=1345)
    a.add_argument("--strips", type=int, default=26000)
    a.add_argument("--held-out", type=int, default=240)
    a.add_argument("--unseen", type=int, default=256)
    a.add_argument("--renew", type=float, default=0.12, help="share of its time that a worker renders fresh strips during training")
    a.add_argument("--batch", type=int, default=64)
    a.add_argument("--peak", type=float, default=4e-3)
    a.add_argument("--seed", type=int, default=1000)
    a.add_argument("--steps", type=int, default=10**9)
    args = a.parse_args()
    device, rank, processes = join_others()
    torch.manual_seed(args.seed)
    threads, renewal = {"workers": 3, "threads": 5}, {}
    if args.small:
        args.strips, args.held_out, args.batch, args.steps, args.render_seconds, args.train_seconds = 12, 6, 4, 8, 60, 90
        threads = {"workers": 1, "threads": 2, "batch": 6, "samples": 1}
        args.unseen, renewal = 4, {"workers": 1, "threads": 1, "batch": 2, "samples": 1}
    os.makedirs(args.out, exist_ok=True)

    net = PlantNet().to(device)
    net = net.to(memory_format=torch.channels_last)
    average, state = Average(net), {"steps": 0, "rounds": 0, "strips": 0}
    if args.resume and os.path.exists(args.resume):
        saved = torch.load(args.resume, map_location=device)
        net.load_state_dict(saved["net"])
        average.net.load_state_dict(saved["average"])
        state = saved["state"]
        average.count = 10**6
        print("resumed", state, flush=True)
    print(f"{sum(p.numel() for p in net.parameters())} parameters on {device}, process {rank + 1} of {processes}", flush=True)

    torch.manual_seed(args.seed + rank)
    random.seed(args.seed + rank)
    seed = args.seed + 1000003 * (state["rounds"] + 1) + 10000019 * rank
    data = render_strips(args.library, device, args.strips, seed, seconds=args.render_seconds, **threads)
    if processes > 1:
        dist.barrier()
    if args.start:
        with torch.no_grad():
            x, _, _ = step_inputs(data.pick(torch.arange(min(len(data), args.batch), device=device)), device)
        widen(net, args.start, x)
        if processes > 1:
            for value in net.state_dict().values():
                dist.broadcast(value, 0)
        average.net.load_state_dict(net.state_dict())
    checkpoint = os.path.join(args.out, "checkpoint.pt")
    keep = lambda: save(checkpoint, net, average, {**state, "rounds": state["rounds"] + 1})
    unseen = render_strips(args.library, device, args.unseen, 700000, **threads) if rank == 0 else None
    fresh = Renewal(args.library, data, seed + args.strips, share=args.renew, **renewal)
    state["steps"] += train(net, average, fresh, device, args.train_seconds, args.steps, args.batch, args.peak, unseen, keep)
    fresh.end()
    if rank > 0:
        return
    state["rounds"] += 1
    state["strips"] += (len(data) + fresh.made) * processes
    save(checkpoint, net, average, state)
    export(copy.deepcopy(average.net), os.path.join(args.out, "plants.onnx"))
    held = render_strips(args.library, device, args.held_out, 900000, held=1, **threads)
    print("held-out scenes:")
    summary = score(average.net, held, device)
    scored = np.array([(s, float(h)) for s, h in summary.pop("scored")]).reshape(-1, 2)
    np.savetxt(os.path.join(args.out, "scored.csv"), scored, fmt="%.4f", delimiter=",")
    with open(os.path.join(args.out, "summary.json"), "w") as f:
        json.dump({**summary, **state}, f)


if __name__ == "__main__":
    main()
