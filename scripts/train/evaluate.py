"""Scores a network on held-out strips: F1, count error, base error, by view and stage."""
import numpy as np
import torch

from decode import drop_doubtful, match, peaks_of
from degrade import degrade
from network import Shipped, assemble, view_channels
from strips import CROP
from targets import plant_table

THRESHOLDS = np.round(np.arange(0.15, 0.71, 0.05), 2)


def run(net, strips, device, strength=0.6, batch=16):
    """Shipped outputs for every strip, with a fixed seed for the degradation."""
    model = Shipped(net).eval().to(device)
    state = torch.random.get_rng_state()
    torch.manual_seed(5)
    outs = []
    with torch.no_grad():
        for i in range(0, len(strips), batch):
            s = strips.pick(slice(i, i + batch))
            view = view_channels(s.meta, *s.rgb.shape[2:], device)
            rgb = degrade(s.rgb, view, strength)
            x = assemble(rgb, view, torch.ones_like(rgb[:, :1]))
            outs.append(model(x).cpu())
    torch.random.set_rng_state(state)
    return torch.cat(outs)


def score(net, strips, device, strength=0.6):
    """Prints one line per threshold region and returns the summary."""
    outs = run(net, strips, device, strength)
    good, doubt = plant_table(strips)
    truth, good, doubt = strips.truth.cpu().numpy(), good.cpu().numpy(), doubt.cpu().numpy()
    meta = strips.meta.cpu().numpy()
    tables = {}
    base, pairs_of_truth = [], [0, 0]
    scored = []
    for i in range(len(strips)):
        found = peaks_of(outs[i], 0.1, meta=meta[i])
        want = good[i] & (truth[i, :, 4] == CROP)
        t, hidden = truth[i][want], truth[i][doubt[i]][:, :2]
        for th in THRESHOLDS:
            f = found[found[:, 0] >= th]
            f, m = drop_doubtful(f, match(f, t), hidden)
            keys = ["all", f"view{int(meta[i, 3])}", "hook" if meta[i, 5] < 0.8 else "cotyledon" if meta[i, 5] < 1.2 else "pair" if meta[i, 5] < 2.1 else "trifoliate"]
            if meta[i, 4] == 3:
                keys.append("dense")
            elif 1.2 <= meta[i, 5] < 3 and len(t):
                near = np.hypot(t[:, None, 0] - t[None, :, 0], t[:, None, 1] - t[None, :, 1]) + 1e6 * np.eye(len(t))
                clear = np.mean(near.min(1) > 12.5)  # nobody within 25 mm
                keys.append("main, clear" if clear > 0.85 else "main, crowded")
            for k in keys:
                a = tables.setdefault((k, th), np.zeros(5))
                a += [len(m), len(f), len(t), abs(len(f) - len(t)), 1]
            if th == 0.4:
                base += [np.hypot(*(f[a, 3:5] - t[b, 2:4])) for a, b in m]
        f, m = drop_doubtful(found, match(found, t), hidden)
        hit = {a for a, _ in m}
        scored += [(f[k, 0], k in hit) for k in range(len(f))]
    f1 = lambda a: 2 * a[0] / max(1, a[1] + a[2])
    best = max(THRESHOLDS, key=lambda th: f1(tables[("all", th)]))
    print(f"  best threshold {best}; F1 by threshold " + " ".join(f"{th:g}:{f1(tables[('all', th)]):.3f}" for th in THRESHOLDS))
    for k in sorted({k for k, _ in tables}):
        a = tables[(k, best)]
        print(f"  {k:10s} F1 {f1(a):.3f} precision {a[0] / max(1, a[1]):.3f} recall {a[0] / max(1, a[2]):.3f} count {100 * (a[1] / max(1, a[2]) - 1):+.1f} % |error| a strip {a[3] / a[4]:.2f} of {a[2] / a[4]:.1f}")
    base = np.array(base) * 2.0
    if len(base):
        print(f"  base error mm: median {np.median(base):.1f}, 90 % {np.quantile(base, 0.9):.1f}", flush=True)
    return {"f1": f1(tables[("all", best)]), "threshold": float(best), "scored": scored, "main": f1(tables[("main, clear", best)]) if ("main, clear", best) in tables else None}
