"""Writes held-out strips for the TypeScript chain: raw RGB pixels with truth, degraded like mild photos.

`python3 held.py librender.so out-folder [count] [1|2]`: shifted generator settings and seeds that training never uses;
1 as wide as training, 2 plain fields of beans between first pair and first trifoliate.
"""
import json
import os
import sys

import torch

from degrade import degrade
from network import FINER, view_channels
from strips import MM_PER_PX, render_strips
from targets import plant_table


def main(library, out, count=96, setting=1):
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    strips = render_strips(library, device, int(count), 980500, held=int(setting), samples=2, batch=8, workers=1, threads=2)
    write(strips, out, device, 0.6 if int(setting) == 1 else 0.3)


def fine(place):
    """A place of the truth in the picture's pixels."""
    return [(v + 0.5) * FINER - 0.5 for v in place]


def write(strips, out, device, strength=0.6):
    os.makedirs(out, exist_ok=True)
    torch.manual_seed(11)
    good, doubt = plant_table(strips)
    rows = []
    with torch.no_grad():
        for i in range(0, len(strips), 4):
            s = strips.pick(slice(i, i + 4))
            rgb = degrade(s.rgb, view_channels(s.meta, *s.rgb.shape[2:], device), strength)
            for k in range(len(s)):
                name = f"held{i + k:03d}.rgb"
                (rgb[k].permute(1, 2, 0) * 255 + 0.5).to(torch.uint8).cpu().numpy().tofile(os.path.join(out, name))
                plants = []
                for p in range(int(s.count[k])):
                    t = s.truth[k, p].tolist()
                    state = "asked" if good[i + k, p] else "hidden" if doubt[i + k, p] else "out"
                    plants.append({"crown": fine(t[0:2]), "base": fine(t[2:4]), "kind": int(t[4]), "stage": t[5], "state": state, "share": float(s.visible[k, p]) / max(1.0, t[6])})
                m = s.meta[k].tolist()
                rows.append({"file": name, "footPx": fine(m[0:2]), "heightM": m[2], "view": int(m[3]), "scene": int(m[4]), "stage": m[5], "plants": plants})
    with open(os.path.join(out, "held.json"), "w") as f:
        json.dump({"width": strips.rgb.shape[3], "height": strips.rgb.shape[2], "mmPerPx": MM_PER_PX / FINER, "strips": rows}, f)


if __name__ == "__main__":
    main(*sys.argv[1:])
