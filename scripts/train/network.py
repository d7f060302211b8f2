"""The detector: a small fully convolutional network with skip connections. It sees 1 mm a pixel and answers every 4 mm."""
import copy

import torch
from torch import nn
from torch.nn.utils.fusion import fuse_conv_bn_eval

IN_CHANNELS = 6  # red, green, blue, view along, view across, valid
FINER = 2  # input pixels to a pixel of the answers (2 mm), each way
OUT_CHANNELS = 11
# crop heat, weed heat, offset x y (cells), base x y (16 px), two plants here, vegetation, crop leaf, leaf to crown x y (32 px)
SIGMOID = (0, 1, 6, 7, 8)


class Block(nn.Module):
    """Depthwise convolution, then a pointwise bottleneck; added to its input (after MobileNetV2 and ConvNeXt)."""

    def __init__(self, c, kernel=5, expand=2):
        super().__init__()
        self.body = nn.Sequential(
            nn.Conv2d(c, c, kernel, padding=kernel // 2, groups=c, bias=False),
            nn.BatchNorm2d(c),
            nn.Conv2d(c, c * expand, 1, bias=False),
            nn.BatchNorm2d(c * expand),
            nn.ReLU(inplace=True),
            nn.Conv2d(c * expand, c, 1, bias=False),
            nn.BatchNorm2d(c),
        )

    def forward(self, x):
        return x + self.body(x)


def down(a, b):
    return nn.Sequential(nn.Conv2d(a, b, 2, stride=2, bias=False), nn.BatchNorm2d(b))


def up(a, b):
    return nn.Sequential(nn.Conv2d(a, b, 1, bias=False), nn.BatchNorm2d(b), nn.Upsample(scale_factor=2, mode="nearest"))


class PlantNet(nn.Module):
    def __init__(self, widths=(32, 64, 160, 320), first=16):
        super().__init__()
        a, b, c, d = widths
        self.stem = nn.Sequential(
            nn.Conv2d(IN_CHANNELS, first, 3, stride=2, padding=1, bias=False), nn.BatchNorm2d(first), nn.ReLU(inplace=True),
            nn.Conv2d(first, a, 3, stride=2, padding=1, bias=False), nn.BatchNorm2d(a), nn.ReLU(inplace=True),
        )
        self.enc2 = Block(a)
        self.enc4 = nn.Sequential(down(a, b), Block(b), Block(b))
        self.enc8 = nn.Sequential(down(b, c), Block(c), Block(c), Block(c))
        self.enc16 = nn.Sequential(down(c, d), Block(d, 7), Block(d, 7), Block(d, 7), Block(d, 7))
        self.up8, self.dec8 = up(d, c), nn.Sequential(Block(c), Block(c))
        self.up4, self.dec4 = up(c, b), nn.Sequential(Block(b), Block(b))
        self.up2, self.dec2 = up(b, a), Block(a)
        self.head = nn.Sequential(
            nn.Conv2d(a, a, 5, padding=2, groups=a, bias=False), nn.BatchNorm2d(a), nn.Conv2d(a, 48, 1), nn.ReLU(inplace=True), nn.Conv2d(48, OUT_CHANNELS, 1)
        )
        with torch.no_grad():
            bias = self.head[-1].bias
            bias.zero_()
            bias[0] = bias[1] = -4.0  # peaks are rare
            bias[6] = bias[7] = bias[8] = -2.0

    def forward(self, x):
        """Raw outputs [n,11,h/4,w/4] (logits where a sigmoid belongs)."""
        e2 = self.enc2(self.stem(x))
        e4 = self.enc4(e2)
        e8 = self.enc8(e4)
        e16 = self.enc16(e8)
        d8 = self.dec8(self.up8(e16) + e8)
        d4 = self.dec4(self.up4(d8) + e4)
        d2 = self.dec2(self.up2(d4) + e2)
        return self.head(d2)


def steps_of(weight):
    """The size of one of 255 steps for each output channel of a convolution [out,1,1,1]; None for the small ones, kept in half precision."""
    if weight.dim() != 4 or weight.shape[1] < 16:
        return None
    return weight.abs().amax((1, 2, 3), keepdim=True).clamp_min(1e-8) / 127


def rounded(weight):
    """A weight as the exported file holds it: whole steps in convolutions, half precision elsewhere."""
    step = steps_of(weight)
    return weight.half().float() if step is None else (weight / step).round() * step


def folded(net):
    """A copy for answering only: normalisation folded into the convolutions, weights rounded as they are stored."""
    net = copy.deepcopy(net).cpu().float().eval()
    for part in net.modules():
        if not isinstance(part, nn.Sequential):
            continue
        for i in range(len(part) - 1):
            if isinstance(part[i], nn.Conv2d) and isinstance(part[i + 1], nn.BatchNorm2d):
                part[i], part[i + 1] = fuse_conv_bn_eval(part[i], part[i + 1]), nn.Identity()
    with torch.no_grad():
        for p in net.parameters():
            p.copy_(rounded(p))
    return net


class Shipped(nn.Module):
    """What the exported file holds: the folded network with its sigmoids."""

    def __init__(self, net):
        super().__init__()
        self.net = folded(net)

    def forward(self, x):
        y = self.net(x)
        return torch.cat([torch.sigmoid(y[:, :2]), y[:, 2:6], torch.sigmoid(y[:, 6:9]), y[:, 9:]], 1)


def view_channels(meta, height, width, device):
    """How far a height of one metre displaces a point, in metres: (point - foot of the camera) / camera height; of every input pixel."""
    x = (torch.arange(width, device=device, dtype=torch.float32)[None, None, :] + 0.5) / FINER - 0.5
    y = (torch.arange(height, device=device, dtype=torch.float32)[None, :, None] + 0.5) / FINER - 0.5
    scale = (meta[:, 2] * meta[:, 6])[:, None, None]
    vx = (x - meta[:, 0][:, None, None]) / scale
    vy = (y - meta[:, 1][:, None, None]) / scale
    n = meta.shape[0]
    return torch.stack([vx.expand(n, height, width), vy.expand(n, height, width)], 1)


def assemble(rgb, view, valid):
    """The network's input: colour (0..1, gamma-coded) shifted to zero mean, view halved and clamped, validity."""
    colour = (rgb - 0.45) * 4 * valid
    return torch.cat([colour, (view * 0.5).clamp(-1.5, 1.5) * valid, valid], 1)
