"""What a phone, an app and a straightening step do to light: exposure, blur, noise, sharpening, JPEG, scaling, shade."""
import functools
import math

import torch
import torch.nn.functional as F

LUMA = torch.tensor(
    [[16, 11, 10, 16, 24, 40, 51, 61], [12, 12, 14, 19, 26, 58, 60, 55], [14, 13, 16, 24, 40, 57, 69, 56], [14, 17, 22, 29, 51, 87, 80, 62],
     [18, 22, 37, 56, 68, 109, 103, 77], [24, 35, 55, 64, 81, 104, 113, 92], [49, 64, 78, 87, 103, 121, 120, 101], [72, 92, 95, 98, 112, 100, 103, 99]], dtype=torch.float32)
CHROMA = torch.full((8, 8), 99.0)
CHROMA[:4, :4] = torch.tensor([[17, 18, 24, 47], [18, 21, 26, 66], [24, 26, 56, 99], [47, 66, 99, 99]], dtype=torch.float32)  # ITU-T T.81 annex K


def uniform(n, low, high, device):
    return low + (high - low) * torch.rand(n, device=device)


@functools.lru_cache(maxsize=None)
def compiled(step):
    """The step as one program for the GPU, for pictures of one fixed size; itself elsewhere, or where that program fails."""
    if not torch.cuda.is_available():
        return step
    use = [torch.compile(step, dynamic=False)]

    def call(*args):
        try:
            return use[0](*args)
        except Exception as fault:
            if use[0] is step:
                raise
            print(f"{step.__name__} runs uncompiled: {fault}", flush=True)
            use[0] = step
            return step(*args)

    return call


def dct_matrix(device):
    k = torch.arange(8, dtype=torch.float32, device=device)
    m = torch.cos((2 * k[None, :] + 1) * k[:, None] * math.pi / 16) * 0.5
    m[0] *= 1 / math.sqrt(2)
    return m


def quantise(plane, table, scale, m):
    """One plane [n,h,w] in 0..255 through 8x8 blocks; scale [n] multiplies the table."""
    n, h, w = plane.shape
    mt = m.t()
    rows = torch.matmul(m, (plane - 128).reshape(n, h // 8, 8, w))  # down each block
    c = torch.matmul(rows.reshape(n, h // 8, 8, w // 8, 8), mt)
    q = (table[None] * scale[:, None, None]).round().clamp(1, 255)[:, None, :, None, :]
    c = torch.matmul((c / q).round() * q, m).reshape(n, h // 8, 8, w)
    return torch.matmul(mt, c).reshape(n, h, w) + 128


def jpeg(rgb, quality, subsample):
    """JPEG's loss on rgb [n,3,h,w] in 0..1; quality [n] 1..100. Sides are padded to 16."""
    n, _, h, w = rgb.shape
    x = F.pad(rgb, (0, -w % 16, 0, -h % 16), mode="replicate") * 255
    m = dct_matrix(rgb.device)
    r, g, b = x[:, 0], x[:, 1], x[:, 2]
    y = 0.299 * r + 0.587 * g + 0.114 * b
    cb, cr = 128 + 0.564 * (b - y), 128 + 0.713 * (r - y)
    scale = torch.where(quality < 50, 50 / quality, 2 - quality / 50)
    y = quantise(y, LUMA.to(rgb.device), scale, m)
    out = []
    for c in (cb, cr):
        if subsample:
            c = F.avg_pool2d(c[:, None], 2)[:, 0]
        c = quantise(c, CHROMA.to(rgb.device), scale, m)
        if subsample:
            c = F.interpolate(c[:, None], scale_factor=2, mode="bilinear", align_corners=False)[:, 0]
        out.append(c - 128)
    cb, cr = out
    x = torch.stack([y + 1.403 * cr, y - 0.344 * cb - 0.714 * cr, y + 1.773 * cb], 1) / 255
    return x[:, :, :h, :w].clamp(0, 1)


def blur(x, sx, sy, reach=5):
    """Gaussian blur with its own width for every picture: sx, sy [n] in px."""
    k = torch.arange(-reach, reach + 1, device=x.device, dtype=torch.float32)
    for sigma, dim in ((sx, 3), (sy, 2)):
        g = torch.exp(-k[None] ** 2 / (2 * sigma[:, None] ** 2))
        g = (g / g.sum(1, keepdim=True))[:, :, None, None, None]
        size = x.shape[dim]
        y = F.pad(x, (reach, reach, 0, 0) if dim == 3 else (0, 0, reach, reach), mode="replicate")
        x = y.narrow(dim, 0, size) * g[:, 0]
        for i in range(1, 2 * reach + 1):
            x.addcmul_(y.narrow(dim, i, size), g[:, i])
    return x


def develop(packed):
    """Linear light to a photo's tones, with random exposure, white balance, veil, shade, contrast and saturation."""
    n, _, h, w = packed.shape
    dev = packed.device
    r = lambda k, lo, hi: uniform(k, lo, hi, dev)
    x = (packed.float() / 255) ** 2.2
    gain = torch.exp(r(n, -0.8, 0.25))[:, None, None, None]
    tint = torch.exp(0.07 * torch.randn(n, 3, 1, 1, device=dev))
    x = x * gain * tint
    gx = torch.linspace(-1, 1, w, device=dev)[None, None, None, :]
    gy = torch.linspace(-0.5, 0.5, h, device=dev)[None, None, :, None]
    a = r(n, 0, 2 * math.pi)[:, None, None, None]
    along = gx * torch.cos(a) + gy * torch.sin(a)
    x = x * (1 + r(n, -0.25, 0.25)[:, None, None, None] * along)
    edge = torch.sigmoid((along - r(n, -0.8, 0.8)[:, None, None, None]) * r(n, 5, 60)[:, None, None, None])
    shade = (r(n, 0, 1) < 0.2).float() * r(n, 0.2, 0.75)
    x = x * (1 - shade[:, None, None, None] * edge)
    veil = (r(n, 0, 1) < 0.3).float() * r(n, 0, 0.10)
    x = x + veil[:, None, None, None]
    roll = (r(n, 0, 1) < 0.35)[:, None, None, None].float()  # a film-like shoulder instead of hard clipping
    x = x + roll * (1.2 * x / (x + 0.4) - x)
    x = x.clamp(0, 1) ** (1 / (2.2 * torch.exp(r(n, -0.2, 0.25))))[:, None, None, None]
    s = r(n, 0, 0.6)[:, None, None, None]
    x = x * (1 - s) + s * x * x * (3 - 2 * x)  # contrast
    grey = (x * torch.tensor([0.299, 0.587, 0.114], device=dev)[None, :, None, None]).sum(1, keepdim=True)
    return (grey + (x - grey) * torch.where(r(n, 0, 1) < 0.2, r(n, 0.35, 0.7), r(n, 0.7, 1.4))[:, None, None, None]).clamp(0, 1)


def grain(x, noise, sharpen):
    """The sensor's noise and the phone's sharpening; both [n]."""
    amount = noise[:, None, None, None]
    x = x + amount * torch.randn_like(x[:, :1]) + 0.6 * amount * torch.randn_like(x)
    wide = torch.ones_like(noise)
    return (x + sharpen[:, None, None, None] * (x - blur(x, wide, wide, reach=2))).clamp(0, 1)


def degrade(packed, view, strength=1.0, fixed=False):
    """
    Photo-like pictures in 0..1 from 8-bit strips of 1 mm a pixel. `view` [n,2,h,w] steers the blur of oblique views; `fixed`
    says that every call brings as many pictures of the same size.
    """
    n, _, h, w = packed.shape
    dev = packed.device
    r = lambda k, lo, hi: uniform(k, lo, hi, dev)
    whole = compiled if fixed else lambda step: step
    x = whole(develop)(packed)
    tilt = view.mean((2, 3)).abs().clamp_max(2.5)
    sharp = torch.exp(r(n, math.log(0.4), math.log(2.4 * strength)))
    sx = sharp * (1 + 0.35 * tilt[:, 0] ** 2 * r(n, 0, 1)).clamp_max(2.6)
    sy = sharp * (1 + 0.35 * tilt[:, 1] ** 2 * r(n, 0, 1)).clamp_max(2.6)
    firm = whole(blur)(x, sx.clamp(0.4, 3.2), sy.clamp(0.4, 3.2))
    if torch.rand(1).item() < 0.5:  # the far side is softer
        soft = whole(blur)(x, (1.9 * sx).clamp(0.4, 3.2), (1.9 * sy).clamp(0.4, 3.2))
        far = (view * view).sum(1, keepdim=True)
        low, high = far.amin((2, 3), keepdim=True), far.amax((2, 3), keepdim=True)
        firm = firm + (soft - firm) * ((far - low) / (high - low + 1e-6) * r(n, 0, 1)[:, None, None, None])
    x = firm

    fx, fy = 1.0, 1.0
    less = torch.rand(1).item() < 0.65
    if less:  # the photo, or the frame of a film, resolves less than the strip
        fx = 1 + (0.6 + 2 * strength) * torch.rand(1).item() ** 1.5
        fy = fx * (1 + 0.5 * (torch.rand(1).item() - 0.5))
        x = F.interpolate(x, size=(max(32, int(h / fy)), max(32, int(w / fx))), mode="bilinear", align_corners=False, antialias=True)
    whole = (lambda step: step) if less else whole
    x = whole(grain)(x, r(n, 0, 1) ** 3 * 0.06 * strength, r(n, 0, 1.2))
    if torch.rand(1).item() < 0.8:
        x = whole(jpeg)(x, r(n, 25, 95), torch.rand(1).item() < 0.7)
    if x.shape[2:] != (h, w):
        mode = "bilinear" if torch.rand(1).item() < 0.6 else "bicubic"
        x = F.interpolate(x, size=(h, w), mode=mode, align_corners=False)
    return x.clamp(0, 1)


def holes(n, h, w, device):
    """Validity [n,1,h,w]: some strips run past the photo's edge."""
    valid = torch.ones(n, 1, h, w, device=device)
    x = torch.linspace(0, 1, w, device=device)[None, None, None, :]
    y = torch.linspace(0, 1, h, device=device)[None, None, :, None]
    for _ in range(2):
        a = torch.rand(n, 1, 1, 1, device=device) * 2 * math.pi
        cut = (x - 0.5) * torch.cos(a) + (y - 0.5) * torch.sin(a) > 0.25 + 0.35 * torch.rand(n, 1, 1, 1, device=device)
        use = torch.rand(n, 1, 1, 1, device=device) < 0.08
        valid = valid * (1 - (cut & use).float())
    return valid
