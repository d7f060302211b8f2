"""Builds one scene from its spec and renders it: blender -b --python scene.py -- SPEC.json

Writes OUT.png and OUT.truth.json as the spec says. World: x along the reference from its zero, y to its left, z up from
the mean soil plane, so that the world is the ground frame of the truth.
"""
import json
import os
import random
import sys
from math import pi

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import bpy
from bean import bean, stage_of
from ground import Ground, strew_clods, strew_straw, weed_mesh
from light import render, set_light
from materials import bean_materials, weed_materials
from pose import stand
from references import LAY
from shape import place
from truth import write_truth


def row_positions(rng, spec, low, high):
    """Where seeds came up along a row: spacing with its spread, misses, and doubles."""
    out, x = [], low + rng.uniform(0, spec["spacingM"])
    while x < high:
        if rng.random() >= spec["missShare"] and not any(a <= x <= b for a, b in spec.get("bare", [])):
            out.append(x)
            if rng.random() < spec.get("doubleShare", 0):
                out.append(x + rng.uniform(0.008, 0.02))
        x += max(0.03, rng.gauss(spec["spacingM"], spec["spacingM"] * spec["spacingCv"]))
    return out


def plant_age(rng, spec):
    low, high = spec["age"]
    age = rng.uniform(low, high)
    return max(0.03, age - rng.uniform(0.3, 0.8)) if rng.random() < 0.08 else age


def sow(rng, spec, ground, far):
    """The assessed row, plant by plant, and neighbouring rows from a few meshes; answers the assessed row's plants."""
    materials = bean_materials(rng)
    row, plants = spec["rowY"], []
    for x in row_positions(rng, spec, max(far[0], -1.5), min(far[1], spec["stretchM"] + 1.6)):
        age = plant_age(rng, spec)
        mesh, height = bean(rng, age, materials, rng.gauss(1, 0.1), spec["eaten"])
        y = row + rng.gauss(0, 0.008)
        z = ground.height(x, y)
        plants.append({"at": (x, y, z), "stage": stage_of(age), "kind": "plant", "heightM": height,
                       "thing": place("bean", mesh, (x, y, z))})
    pool = [(age, *bean(rng, age, materials, rng.gauss(1, 0.1), spec["eaten"])) for age in (plant_age(rng, spec) for _ in range(14))]
    for k in range(-12, 13):
        y0 = row + k * spec["rowWidthM"]
        if k == 0 or not far[2] < y0 < min(far[3], 4.5):
            continue
        for x in row_positions(rng, {**spec, "bare": []}, far[0], far[1]):
            age, mesh, height = rng.choice(pool)
            y = y0 + rng.gauss(0, 0.01)
            at = (x, y, ground.height(x, y))
            place("bean", mesh, at, rng.uniform(0, 2 * pi), rng.uniform(0.85, 1.15))
            plants.append({"at": at, "stage": stage_of(age), "kind": "neighbour", "heightM": height})
    return plants


def grow_weeds(rng, spec, ground, strew):
    """Weeds of three forms, scattered over the ground; answers where they stand."""
    materials = weed_materials(rng)
    x0, x1, y0, y1 = strew
    out = []
    kinds = [("grass", 3), ("rosette", 3), ("seedling", 5)]
    area = (x1 - x0) * (y1 - y0)
    for kind, many in kinds:
        for _ in range(many):
            mesh = weed_mesh(rng, materials, kind)
            for _ in range(int(rng.random() + area * spec["weedsPerM2"] / 11)):
                x, y = rng.uniform(x0, x1), rng.uniform(y0, y1)
                if abs(y) < 0.04 and spec["reference"]["kind"] != "frame":
                    continue
                at = (x, y, ground.height(x, y))
                place("weed", mesh, at, rng.uniform(0, 2 * pi), rng.uniform(0.5, 1.3))
                out.append({"at": at, "stage": kind, "kind": "weed", "heightM": 0.03})
    return out


def extents(spec):
    """(near, far) areas as x0, x1, y0, y1: fine soil near, all that the camera sees far."""
    length, row = spec["stretchM"], spec["rowY"]
    if spec["view"] == "down":
        return (-0.35, length + 0.35, row - 0.55, row + 0.55), (-0.9, length + 0.9, row - 1.3, row + 1.3)
    if spec["view"] == "side":
        near, far = (-0.4, length + 0.4, row - 0.5, row + 0.6), (-5, length + 5, row - 1.6, row + 11)
        if spec.get("fromSide", -1) > 0:
            near = (near[0], near[1], row - 0.6, row + 0.5)
            far = (far[0], far[1], row - 11, row + 1.6)
        return near, far
    return (-0.4, length + 0.3, -0.4, row + 0.4), (-0.9, length + 14, row - 6, row + 6)


def main(spec):
    rng = random.Random(spec["seed"])
    bpy.ops.wm.read_factory_settings(use_empty=True)
    near, far = extents(spec)
    camera = stand(rng, spec)
    deep = 0.5 if spec["view"] == "down" else 1.3
    strew = (near[0] - 0.4, near[1] + 0.4, near[2] - deep, near[3] + deep)
    rows = [spec["rowY"] + k * spec["rowWidthM"] for k in range(-12, 13)]
    ground = Ground(rng, {"near": near, "far": far, "stepM": spec["stepM"], "rowsY": rows, "prints": spec["prints"], "soil": spec["soil"],
                          "surface": spec["surface"], "stretch": (0, spec["stretchM"]),
                          "meanOverY": [-0.05, 0, spec["rowY"] / 2, spec["rowY"], spec["rowY"] + 0.05]})
    plants = sow(rng, spec, ground, far)
    reference = spec["reference"]
    spots = [p["at"] for p in plants if p["kind"] == "plant"]

    def keep_off(x, y, size):
        if reference["kind"] in ("tape", "rod") and abs(y) < 0.014 + size * 0.6:
            return True
        if reference["kind"] == "cards" and abs(y) < 0.16 and min(abs(x), abs(x - reference["lengthM"])) < 0.16:
            return True
        return size > 0.012 and any((x - a) ** 2 + (y - b) ** 2 < (size * 0.6) ** 2 for a, b, _ in spots)

    strew_straw(rng, ground, {**spec, "strew": strew})
    plants += grow_weeds(rng, spec, ground, strew)
    laid = LAY[reference["kind"]](rng, ground, reference, spec["prints"])
    set_light(rng, spec, camera)
    write_truth(spec, camera, plants, laid)
    strew_clods(rng, ground, {**spec, "strew": strew}, keep_off)
    render(spec, camera)


main(json.load(open(sys.argv[sys.argv.index("--") + 1])))
