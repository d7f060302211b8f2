#!/usr/bin/env python3
"""Makes opencv_geometry.json: homographies and a warped picture by OpenCV, an independent reference for tests/core/geometry.

Run: /usr/bin/python3 tests/reference/opencv_geometry.py   (Debian package python3-opencv; stored values made with 4.6.0)
"""
import json
import pathlib

import cv2
import numpy as np

rng = np.random.default_rng(20240601)
fits = []
for n, noise in [(4, 0.0), (6, 0.0), (8, 0.8), (12, 1.5), (40, 3.0)]:
    true = np.array([[0.9, 0.12, 40.0], [-0.08, 1.1, -25.0], [4e-5, -9e-5, 1.0]])
    src = rng.uniform([0, 0], [4000, 3000], size=(n, 2))
    if n == 4:
        src = np.array([[120.0, 90.0], [3900.0, 200.0], [3700.0, 2900.0], [60.0, 2750.0]])
    hom = np.c_[src, np.ones(n)] @ true.T
    dst = hom[:, :2] / hom[:, 2:] + rng.normal(0, 1, (n, 2)) * noise
    h, _ = cv2.findHomography(src, dst, 0)
    fits.append({"noise": noise, "from": src.tolist(), "to": dst.tolist(), "homography": h.ravel().tolist()})

# A smooth picture, so that fixed-point interpolation in OpenCV (1/32 pixel) costs less than the test's tolerance.
w, hgt = 60, 40
yy, xx = np.mgrid[0:hgt, 0:w]
picture = np.clip(128 + 60 * np.sin(xx / 7.0) + 50 * np.cos(yy / 5.0 + xx / 11.0), 0, 255).round().astype(np.uint8)
matrix = np.array([[0.8, 0.15, 3.0], [-0.1, 0.9, 6.0], [1e-3, -2e-3, 1.0]])
warped = cv2.warpPerspective(picture, matrix, (50, 45), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
out = {
    "madeWith": f"OpenCV {cv2.__version__}",
    "fits": fits,
    "warp": {
        "outToIn": matrix.ravel().tolist(),
        "picture": {"widthPx": w, "heightPx": hgt, "grey": picture.ravel().tolist()},
        "result": {"widthPx": 50, "heightPx": 45, "grey": warped.ravel().tolist()},
    },
}
path = pathlib.Path(__file__).with_name("opencv_geometry.json")
path.write_text(json.dumps(out) + "\n")
print(path.name, "written with", out["madeWith"])
