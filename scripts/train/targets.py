"""Training targets and the loss."""
import torch
import torch.nn.functional as F

from strips import CROP

STRIDE = 2
REACH = 8          # cells drawn around a crown
SIGMA = (1.15, 3.0)  # cells, for small and large plants: a large plant's crown is marked less exactly
BASE_UNIT = 16.0   # px
LEAF_UNIT = 32.0   # px
DOUBLE_PX = 10.0   # two crowns closer than this (20 mm) are a double
MIN_SEEN_PX = 12   # a crop plant with fewer leaf pixels cannot be seen for sure
MIN_WEED_PX = 20
MIN_SHARE = 0.15   # a smaller visible share of the leaves is too hidden to ask for


def plant_table(strips):
    """Labelled and ignored plants: booleans [n,120]."""
    t, seen = strips.truth, strips.visible
    n, p = t.shape[:2]
    exists = torch.arange(p, device=t.device)[None, :] < strips.count[:, None]
    h, w = strips.plant.shape[1:]
    inside = (t[..., 0] > -0.5) & (t[..., 0] < w - 0.5) & (t[..., 1] > -0.5) & (t[..., 1] < h - 0.5)
    share = seen / t[..., 6].clamp_min(1)
    good = exists & inside & (seen >= torch.where(t[..., 4] == CROP, MIN_SEEN_PX, MIN_WEED_PX)) & (share >= MIN_SHARE)
    doubt = exists & inside & ~good & (seen >= 2)
    return good, doubt


def widths(truth, crop):
    """Standard deviation of each bump, in cells: a fifth of the plant's reach, less where a neighbour is near."""
    reach = truth[..., 8] * 1000 / 2.0 / STRIDE
    near = torch.cdist(truth[..., 0:2], truth[..., 0:2]) + 1e6 * (~crop).float()[:, None, :] + 1e6 * torch.eye(truth.shape[1], device=truth.device)
    return torch.minimum((0.2 * reach).clamp(*SIGMA), (0.4 * near.min(2).values / STRIDE).clamp_min(SIGMA[0]))


def draw(points, mask, h, w, sigma):
    """Gaussian bumps, the highest wins. Returns the map [n,h,w], and per-cell indices and weights of every bump."""
    n, p = mask.shape
    dev = points.device
    cell = (points - 0.5) / STRIDE
    near = cell.round()
    k = torch.arange(-REACH, REACH + 1, device=dev)
    dy, dx = torch.meshgrid(k, k, indexing="ij")
    cx = near[..., 0:1] + dx.reshape(1, 1, -1)
    cy = near[..., 1:2] + dy.reshape(1, 1, -1)
    d2 = (dx**2 + dy**2).reshape(1, 1, -1).float().expand(n, p, -1)  # about the nearest cell: the peak is exactly 1
    ok = mask[..., None] & (cx >= 0) & (cx < w) & (cy >= 0) & (cy < h)
    value = torch.exp(-d2 / (2 * sigma[..., None] ** 2)) * ok
    index = (torch.arange(n, device=dev)[:, None, None] * h + cy.clamp(0, h - 1).long()) * w + cx.clamp(0, w - 1).long()
    flat = torch.zeros(n * h * w, device=dev)
    flat.scatter_reduce_(0, index.reshape(-1), value.reshape(-1), "amax")
    return flat.reshape(n, h, w), index, value, d2, cx, cy, ok


def make_targets(strips):
    """All maps at the output's resolution."""
    t = strips.truth
    n, H, W = strips.plant.shape
    h, w = H // STRIDE, W // STRIDE
    dev = t.device
    good, doubt = plant_table(strips)
    crop = t[..., 4] == CROP
    crown, base = t[..., 0:2], t[..., 2:4]
    sigma = widths(t, good & crop)
    heat, index, value, d2, cx, cy, ok = draw(crown, good & crop, h, w, sigma)
    weed = draw(crown, good & ~crop, h, w, sigma)[0]
    hidden = draw(crown, doubt, h, w, sigma)[0]
    weight = (1 - (hidden > 0.15).float() * (heat < 0.15).float())

    own = ok & (d2 <= sigma[..., None].clamp_min(1.7) ** 2) & (value >= heat.reshape(-1)[index] - 1e-6)
    pairs = torch.cdist(crown, crown) + 1e6 * (~(good & crop)).float()[:, None, :] + 1e6 * torch.eye(t.shape[1], device=dev)
    double = (pairs.min(2).values < DOUBLE_PX).float()
    cellx, celly = cx * STRIDE + 0.5, cy * STRIDE + 0.5
    ox, oy = (crown[..., 0:1] - cellx) / STRIDE, (crown[..., 1:2] - celly) / STRIDE
    bx, by = ((base - crown)[..., 0:1] / BASE_UNIT).expand_as(ox), ((base - crown)[..., 1:2] / BASE_UNIT).expand_as(ox)
    values = torch.stack([ox, oy, bx, by, double[..., None].expand_as(ox)], -1)[own]
    at = index[own]
    regress = torch.zeros(n * h * w, 5, device=dev)
    regress[at] = values
    has = torch.zeros(n * h * w, device=dev)
    has[at] = 1

    leaf = strips.plant[:, ::STRIDE, ::STRIDE].long()
    kind = torch.cat([torch.zeros(n, 1, device=dev), t[..., 4]], 1).gather(1, leaf.reshape(n, -1)).reshape(n, h, w)
    mid = torch.cat([torch.zeros(n, 1, 2, device=dev), crown], 1).gather(1, leaf.reshape(n, -1, 1).expand(-1, -1, 2)).reshape(n, h, w, 2)
    gx = torch.arange(w, device=dev).float()[None, None, :] * STRIDE + 0.5
    gy = torch.arange(h, device=dev).float()[None, :, None] * STRIDE + 0.5
    vote = torch.stack([mid[..., 0] - gx, mid[..., 1] - gy], 1) / LEAF_UNIT
    return {
        "heat": heat, "weed": weed, "weight": weight,
        "regress": regress.reshape(n, h, w, 5).permute(0, 3, 1, 2), "has": has.reshape(n, h, w),
        "plant": (kind > 0).float(), "crop": (kind == CROP).float(), "vote": vote,
    }


def focal(logit, target, weight):
    """Penalty-reduced focal loss on a heat map (CornerNet 2018, CenterNet 2019)."""
    p = torch.sigmoid(logit).clamp(1e-4, 1 - 1e-4)
    top = (target > 0.9).float()
    positive = -(1 - p) ** 2 * torch.log(p) * top
    negative = -(1 - target) ** 4 * p**2 * torch.log(1 - p) * (1 - top)
    return ((positive + negative) * weight).sum() / top.sum().clamp_min(8)


def loss_of(out, t, valid):
    """Total loss and its parts. `valid` [n,h,w] is 0 where the strip shows nothing."""
    out = out.float()
    has = t["has"] * valid
    n = has.sum().clamp_min(8)
    weight = t["weight"] * valid
    parts = {
        "heat": focal(out[:, 0], t["heat"], weight),
        "weed": 0.4 * focal(out[:, 1], t["weed"], weight),
        "offset": 0.6 * ((out[:, 2:4] - t["regress"][:, 0:2]).abs().sum(1) * has).sum() / n,
        "base": 1.0 * ((out[:, 4:6] - t["regress"][:, 2:4]).abs().sum(1) * has).sum() / n,
        "double": 0.6 * (F.binary_cross_entropy_with_logits(out[:, 6], t["regress"][:, 4], reduction="none") * has).sum() / n,
        "leaf": 1.0 * (F.binary_cross_entropy_with_logits(out[:, 7], t["plant"], reduction="none") * valid).mean(),
        "crop": 1.0 * (F.binary_cross_entropy_with_logits(out[:, 8], t["crop"], reduction="none") * valid).mean(),
    }
    on = t["plant"] * valid
    vote = (out[:, 9:11] - t["vote"]).abs().clamp_max(3).sum(1)
    parts["vote"] = 0.3 * (vote * on).sum() / on.sum().clamp_min(64)
    return sum(parts.values()), parts
