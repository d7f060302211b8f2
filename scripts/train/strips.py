"""Rendered strips with truth, kept in memory as 8-bit tensors on one device."""
import ctypes
import queue
import threading
import time
from dataclasses import dataclass

import numpy as np
import torch

from network import FINER

MAX_PLANTS, FIELDS = 120, 12
MM_PER_PX = 2.0  # of the truth and the plant map; pictures are FINER
WIDTH, HEIGHT = 512, 256
CROP, WEED, GRASS = 1, 2, 3


@dataclass
class Strips:
    """rgb [n,3,2h,2w] uint8 with gamma 2.2; plant [n,h,w] uint8 plant number; truth [n,120,12] in pixels of plant; count [n]; meta [n,8]."""

    rgb: torch.Tensor
    plant: torch.Tensor
    truth: torch.Tensor
    count: torch.Tensor
    meta: torch.Tensor
    visible: torch.Tensor  # [n,120] leaf pixels seen of each plant

    def __len__(self):
        return self.rgb.shape[0]

    def pick(self, index):
        return Strips(*(getattr(self, k)[index] for k in FIELDS_OF))


FIELDS_OF = ("rgb", "plant", "truth", "count", "meta", "visible")


class Store:
    """Room for a known number of strips: joining parts afterwards would need the memory twice."""

    def __init__(self, total):
        self.total, self.used, self.room = total, 0, None

    def add(self, part):
        if self.room is None:
            self.room = Strips(*(torch.empty((self.total, *getattr(part, k).shape[1:]), dtype=getattr(part, k).dtype, device=part.rgb.device) for k in FIELDS_OF))
        for k in FIELDS_OF:
            getattr(self.room, k)[self.used : self.used + len(part)] = getattr(part, k)
        self.used += len(part)

    def filled(self):
        return self.room.pick(slice(0, self.used))


class Renewal:
    """
    Strips that are replaced by fresh ones, the oldest first, while training goes on: seen too often they are learned by
    heart. `share` of the workers' time is spent on rendering. Nothing is picked while a part is being replaced.
    """

    def __init__(self, library, strips, seed, *, share=0.5, samples=2, batch=24, workers=2, threads=3):
        self.strips, self.made, self.fault = strips, 0, None
        self.lock, self.stop = threading.Lock(), threading.Event()
        size = min(batch, len(strips))

        def work(number):
            lib = ctypes.CDLL(library)
            round_ = 0
            while not self.stop.is_set():
                begin = time.time()
                try:
                    at = seed + (round_ * workers + number) * size
                    part = finish(*render_batch(lib, strips.rgb.device, size, at, samples, 0, -1, threads))
                    self.replace(part)
                except Exception as fault:  # told by the next pick
                    self.fault = fault
                    return
                round_ += 1
                self.stop.wait((time.time() - begin) * (1 / share - 1))

        self.crew = [threading.Thread(target=work, args=(k,), daemon=True) for k in range(workers)]
        for t in self.crew:
            t.start()

    def __len__(self):
        return len(self.strips)

    def replace(self, part):
        with self.lock:
            at = torch.arange(self.made, self.made + len(part), device=part.rgb.device) % len(self)
            for k in FIELDS_OF:
                getattr(self.strips, k)[at] = getattr(part, k)
            self.made += len(part)

    def pick(self, index):
        if self.fault is not None:
            raise self.fault
        with self.lock:
            return self.strips.pick(index)

    def end(self):
        self.stop.set()
        for t in self.crew:
            t.join()


def render_batch(lib, device, count, seed, samples, held, view, threads):
    """One call of the renderer; returns linear light and truth, all in the picture's pixels."""
    if device.type == "cuda":
        torch.cuda.set_device(device)  # the renderer draws on its thread's device
    rgb = torch.empty((count, HEIGHT * FINER, WIDTH * FINER, 3), dtype=torch.float32, device=device)
    plant = torch.empty((count, HEIGHT * FINER, WIDTH * FINER), dtype=torch.uint8, device=device)
    truth = np.zeros((count, MAX_PLANTS, FIELDS), np.float32)
    number = np.zeros(count, np.int32)
    meta = np.zeros((count, 8), np.float32)
    if device.type == "cuda":
        torch.cuda.synchronize()
    at = lambda a: ctypes.c_void_p(a.ctypes.data)
    rc = lib.render_strips(
        ctypes.c_int(count), ctypes.c_uint(seed), ctypes.c_int(WIDTH * FINER), ctypes.c_int(HEIGHT * FINER), ctypes.c_float(MM_PER_PX / FINER / 1000),
        ctypes.c_int(samples), ctypes.c_int(held), ctypes.c_int(view), ctypes.c_int(threads),
        ctypes.c_void_p(rgb.data_ptr()), ctypes.c_void_p(plant.data_ptr()), at(truth), at(number), at(meta),
    )
    if rc != 0:
        raise RuntimeError("the renderer failed, see its message above")
    return rgb, plant, torch.from_numpy(truth), torch.from_numpy(number.astype(np.int64)), torch.from_numpy(meta)


def finish(rgb, plant, truth, count, meta):
    """Exposes each strip by its own brightness, packs it into 8 bits and brings the truth to the answers' pixels."""
    n = rgb.shape[0]
    grey = rgb.mean(3).reshape(n, -1)
    sample = grey[:, :: max(1, grey.shape[1] // 8192)]
    white = torch.quantile(sample, 0.985, dim=1).clamp_min(1e-4)
    shown = (rgb * (0.85 / white)[:, None, None, None]).clamp(0, 1) ** (1 / 2.2)
    packed = (shown * 255 + 0.5).to(torch.uint8).permute(0, 3, 1, 2).contiguous()
    plant = plant[:, ::FINER, ::FINER].contiguous()
    truth[..., :4] = (truth[..., :4] + 0.5) / FINER - 0.5
    truth[..., 6] /= FINER * FINER
    meta[:, :2] = (meta[:, :2] + 0.5) / FINER - 0.5
    meta[:, 6] /= FINER
    slot = plant.long() + (torch.arange(n, device=plant.device) * 256)[:, None, None]
    seen = torch.bincount(slot.reshape(-1), minlength=256 * n).reshape(n, 256)[:, 1 : MAX_PLANTS + 1]
    dev = rgb.device
    return Strips(packed, plant, truth.to(dev), count.to(dev), meta.to(dev), seen.float())


def render_strips(library, device, total, seed, *, seconds=None, samples=2, held=0, view=-1, batch=24, workers=3, threads=5):
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
    store, ended = Store(total), 0
    while ended < workers:
        item = done.get()
        if item is None:
            ended += 1
            continue
        if isinstance(item, Exception):
            raise item
        store.add(finish(*item))
        if seconds is not None and time.time() - begin > seconds:
            stop.set()
    for t in crew:
        t.join()
    out = store.filled()
    took = time.time() - begin
    print(f"rendered {len(out)} strips, {int(out.count.sum())} plants in {took:.1f} s ({len(out) / took:.1f} a second)", flush=True)
    return out
