"""Writes the model card: `python3 card.py plants.onnx scored.csv summary.json models/seedlings` copies the network too."""
import hashlib
import json
import shutil
import sys

import numpy as np


def isotonic(scores, hits, blocks=14):
    """Rising chance by score: pooled adjacent violators on equally filled blocks of sorted scores."""
    order = np.argsort(scores)
    s, h = scores[order], hits[order]
    parts = [[float(a.mean()), float(b.mean()), len(a)] for a, b in zip(np.array_split(s, blocks), np.array_split(h, blocks)) if len(a)]
    out = []
    for p in parts:
        out.append(p)
        while len(out) > 1 and out[-2][1] > out[-1][1]:
            b, a = out.pop(), out.pop()
            n = a[2] + b[2]
            out.append([(a[0] * a[2] + b[0] * b[2]) / n, (a[1] * a[2] + b[1] * b[2]) / n, n])
    return [[round(a, 4), round(b, 4)] for a, b, _ in out]


def main(onnx, scored, summary, target):
    table = np.loadtxt(scored, delimiter=",").reshape(-1, 2)
    with open(summary) as f:
        facts = json.load(f)
    with open(onnx, "rb") as f:
        digest = hashlib.sha256(f.read()).hexdigest()
    if onnx != target + ".onnx":
        shutil.copyfile(onnx, target + ".onnx")
    card = {
        "name": target.split("/")[-1], "file": target.split("/")[-1] + ".onnx", "sha256": digest, "inputMmPerPx": 1, "mmPerPx": 2, "sideMultiple": 64, "stride": 2,
        "floor": 0.1, "threshold": facts["threshold"], "suppressMm": facts.get("suppressMm", 8), "calibration": isotonic(table[:, 0], table[:, 1]),
        "baseSdMm": facts.get("baseSdMm", 5), "baseSdMmPerTangent": facts.get("baseSdMmPerTangent", 8),
        "training": {"strips": facts["strips"], "steps": facts["steps"], "rounds": facts["rounds"]},
    }
    with open(target + ".json", "w") as f:
        json.dump(card, f, indent=2)
        f.write("\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
