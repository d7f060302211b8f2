"""Peaks of the maps and their comparison with the truth; the same steps as src/core/detector in TypeScript."""
import numpy as np
import torch
import torch.nn.functional as F

from targets import BASE_UNIT, STRIDE

SUPPRESS_PX = 4.0      # 8 mm: nearer peaks are one
STEM_PX = 20.0         # and, per unit of the view's tangent, 40 mm more along the line of sight: marks on one stem
SAME_BASE_PX = (5.0, 5.0)  # if their bases are within 10 mm plus 10 mm per unit of the tangent
MATCH_PX = 10.0    # 20 mm


def same_plant(weak, strong, meta):
    """Two marks along the line of sight with one base are one plant seen from the side."""
    d = weak[1:3] - strong[1:3]
    if meta is None:
        return np.hypot(*d) <= SUPPRESS_PX
    v = (strong[1:3] - meta[0:2]) / (meta[2] * meta[6])
    tangent = min(float(np.hypot(*v)), 1.5)
    a = v / max(1e-6, np.hypot(*v))
    along, beside = d @ a, d @ np.array([-a[1], a[0]])
    if np.hypot(beside / SUPPRESS_PX, along / (SUPPRESS_PX + STEM_PX * tangent)) > 1:
        return False
    return np.hypot(*d) <= SUPPRESS_PX or np.hypot(*(weak[3:5] - strong[3:5])) <= SAME_BASE_PX[0] + SAME_BASE_PX[1] * tangent


def peaks_of(out, floor=0.1, channel=0, meta=None):
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
        if not any(same_plant(row, k, meta) for k in kept):
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
