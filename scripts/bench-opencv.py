"""The same plain steps with OpenCV, one thread: decode, warp, excess green, Otsu, components. Prints the times of every run as one JSON line."""
import json
import sys
import time

import cv2
import numpy as np

cv2.setNumThreads(1)
path = sys.argv[1]
matrix = np.array(json.loads(sys.argv[2]), dtype=np.float64).reshape(3, 3)
width, height, runs = int(sys.argv[3]), int(sys.argv[4]), int(sys.argv[5])

steps = {"decode": [], "warp": [], "excessGreen": [], "otsu": [], "components": [], "total": []}
for _ in range(runs):
    marks = [time.perf_counter()]
    picture = cv2.imread(path)
    marks.append(time.perf_counter())
    strip = cv2.warpPerspective(picture, matrix, (width, height), flags=cv2.INTER_LINEAR)
    marks.append(time.perf_counter())
    b, g, r = cv2.split(picture.astype(np.int16))
    green = np.clip(2 * g - r - b, 0, 255).astype(np.uint8)
    marks.append(time.perf_counter())
    _, mask = cv2.threshold(green, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    marks.append(time.perf_counter())
    cv2.connectedComponentsWithStats(mask, connectivity=8)
    marks.append(time.perf_counter())
    for name, a, z in zip(list(steps)[:-1], marks, marks[1:]):
        steps[name].append((z - a) * 1000)
    steps["total"].append((marks[-1] - marks[0]) * 1000)
print(json.dumps(steps))
