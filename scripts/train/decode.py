"""Peaks of the maps and their comparison with the truth; the same steps as src/core/detector in TypeScript."""
import numpy as np
import torch
import torch.nn.functional as F

from targets import BASE_UNIT, STRIDE

SUPPRESS_PX = 4.0  # 8 mm: nearer peaks are one
MATCH_PX = 10.0    # 20 mm


def peaks_of(out, floor=0.1, channel=0):
    """Peaks of one strip's shipped outputs [11,h,w]: array [k,6] of score, crown x, y, base x, y, double chance."""
    heat = out[channel]
    top = (heat == F.max_pool2d(heat[None, None], 3, 1, 1)[0, 0]) & (heat > floor)
    iy, ix = top.nonzero(as_tuple=True)
    v = out[:, iy, ix]
    cx = (ix + v[2]) * STRIDE + 0.5
    cy = (iy + v[3]) * STRIDE + 0.5
    rows = torch.stack([v[channel], cx, cy, cx + v[4] * BASE_UNIT, cy + v[5] * BASE_UNIT, v[6]], 1).cpu().numpy()
    rows = rows[np.argsort(-rows[:, 0], kind="stable")]
    kept = []
    for row in rows:
        if all((row[1] - k[1]) ** 2 + (row[2] - k[2]) ** 2 > SUPPRESS_PX**2 for k in kept):
            kept.append(row)
    return np.array(kept).reshape(-1, 6)


def match(found, truth, limit=MATCH_PX):
    """Greedy by distance between crowns. Returns pairs (found index, truth index)."""
    if len(found) == 0 or len(truth) == 0:
        return []
    d = np.hypot(found[:, None, 1] - truth[None, :, 0], found[:, None, 2] - truth[None, :, 1])
    order = np.dstack(np.unravel_index(np.argsort(d, axis=None), d.shape))[0]
    used_f, used_t, pairs = set(), set(), []
    for i, j in order:
        if d[i, j] > limit:
            break
        if i not in used_f and j not in used_t:
            used_f.add(i)
            used_t.add(j)
            pairs.append((int(i), int(j)))
    return pairs


def drop_doubtful(found, pairs, hidden):
    """Unmatched finds near a plant too hidden to ask for are not counted as false."""
    taken = {i for i, _ in pairs}
    if len(hidden) == 0:
        return found, pairs
    keep = [i for i in range(len(found)) if i in taken or np.min(np.hypot(hidden[:, 0] - found[i, 1], hidden[:, 1] - found[i, 2])) > MATCH_PX]
    at = {old: new for new, old in enumerate(keep)}
    return found[keep], [(at[i], j) for i, j in pairs]
