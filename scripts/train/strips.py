"""Rendered strips with truth, kept in memory as 8-bit tensors on one device."""
import ctypes
import queue
import threading
import time
from dataclasses import dataclass

import numpy as np
import torch

MAX_PLANTS, FIELDS = 120, 12
MM_PER_PX = 2.0
WIDTH, HEIGHT = 512, 256
CROP, WEED, GRASS = 1, 2, 3


@dataclass
class Strips:
    """rgb [n,3,h,w] uint8 with gamma 2.2; plant [n,h,w] uint8 plant number; truth [n,120,12]; count [n]; meta [n,8]."""

    rgb: torch.Tensor
    plant: torch.Tensor
    truth: torch.Tensor
    count: torch.Tensor
    meta: torch.Tensor
    visible: torch.Tensor  # [n,120] leaf pixels seen of each plant

    def __len__(self):
        return self.rgb.shape[0]

    def pick(self, index):
        return Strips(*(getattr(self, k)[index] for k in ("rgb", "plant", "truth", "count", "meta", "visible")))


def join(parts):
    return Strips(*(torch.cat([getattr(p, k) for p in parts]) for k in ("rgb", "plant", "truth", "count", "meta", "visible")))


def render_batch(lib, device, count, seed, samples, held, view, threads):
    """One call of the renderer; returns linear light and truth."""
    if device.type == "cuda":
        torch.cuda.set_device(device)  # the renderer draws on its thread's device
    rgb = torch.empty((count, HEIGHT, WIDTH, 3), dtype=torch.float32, device=device)
    plant = torch.empty((count, HEIGHT, WIDTH), dtype=torch.uint8, device=device)
    truth = np.zeros((count, MAX_PLANTS, FIELDS), np.float32)
    number = np.zeros(count, np.int32)
    meta = np.zeros((count, 8), np.float32)
    if device.type == "cuda":
        torch.cuda.synchronize()
    at = lambda a: ctypes.c_void_p(a.ctypes.data)
    rc = lib.render_strips(
        ctypes.c_int(count), ctypes.c_uint(seed), ctypes.c_int(WIDTH), ctypes.c_int(HEIGHT), ctypes.c_float(MM_PER_PX / 1000),
        ctypes.c_int(samples), ctypes.c_int(held), ctypes.c_int(view), ctypes.c_int(threads),
        ctypes.c_void_p(rgb.data_ptr()), ctypes.c_void_p(plant.data_ptr()), at(truth), at(number), at(meta),
    )
    if rc != 0:
        raise RuntimeError("the renderer failed, see its message above")
    return rgb, plant, torch.from_numpy(truth), torch.from_numpy(number.astype(np.int64)), torch.from_numpy(meta)


def finish(rgb, plant, truth, count, meta):
    """Exposes each strip by its own brightness and packs it into 8 bits."""
    n = rgb.shape[0]
    grey = rgb.mean(3).reshape(n, -1)
    sample = grey[:, :: max(1, grey.shape[1] // 8192)]
    white = torch.quantile(sample, 0.985, dim=1).clamp_min(1e-4)
    shown = (rgb * (0.85 / white)[:, None, None, None]).clamp(0, 1) ** (1 / 2.2)
    packed = (shown * 255 + 0.5).to(torch.uint8).permute(0, 3, 1, 2).contiguous()
    slot = plant.long() + (torch.arange(n, device=plant.device) * 256)[:, None, None]
    seen = torch.bincount(slot.reshape(-1), minlength=256 * n).reshape(n, 256)[:, 1 : MAX_PLANTS + 1]
    dev = rgb.device
    return Strips(packed, plant, truth.to(dev), count.to(dev), meta.to(dev), seen.float())


def render_strips(library, device, total, seed, *, seconds=None, samples=4, held=0, view=-1, batch=48, workers=3, threads=5):
    """Renders up to `total` strips (or until `seconds` have passed) with several workers that share the device."""
    lib = ctypes.CDLL(library)
    jobs = queue.Queue()
    for start in range(0, total, batch):
        jobs.put((start, min(batch, total - start)))
    done, stop = queue.Queue(maxsize=4), threading.Event()
    begin = time.time()

    def work():
        try:
            while not stop.is_set():
                try:
                    start, size = jobs.get_nowait()
                except queue.Empty:
                    break
                done.put(render_batch(lib, device, size, seed + start, samples, held, view, threads))
        except Exception as fault:  # handed to the main thread
            done.put(fault)
        done.put(None)

    crew = [threading.Thread(target=work, daemon=True) for _ in range(workers)]
    for t in crew:
        t.start()
    parts, ended = [], 0
    while ended < workers:
        item = done.get()
        if item is None:
            ended += 1
            continue
        if isinstance(item, Exception):
            raise item
        parts.append(finish(*item))
        if seconds is not None and time.time() - begin > seconds:
            stop.set()
    for t in crew:
        t.join()
    out = join(parts)
    took = time.time() - begin
    print(f"rendered {len(out)} strips, {int(out.count.sum())} plants in {took:.1f} s ({len(out) / took:.1f} a second)", flush=True)
    return out
