"""A dry bean seedling (Phaseolus vulgaris), from hook to second trifoliate leaf, as one mesh.

Sizes are from botany as commonly described: hypocotyl 3 to 6 cm, two fleshy cotyledons that shrivel, a pair of
opposite cordate unifoliate leaves 4 to 7 cm long, then trifoliate leaves with ovate leaflets.
"""
from math import cos, pi, sin
from mathutils import Vector
from shape import Shape, bezier, blade, blob, tube

# Half outlines: (share of the way, half width, y), both in blade lengths; y = 0 is where the petiole joins.
CORDATE = [(0, 0.015, 0.0), (0.08, 0.17, -0.13), (0.18, 0.34, -0.13), (0.3, 0.455, 0.0), (0.42, 0.48, 0.16),
           (0.55, 0.43, 0.36), (0.68, 0.33, 0.55), (0.8, 0.21, 0.72), (0.9, 0.1, 0.86), (0.96, 0.04, 0.95), (1, 0.004, 1.0)]
OVATE = [(0, 0.02, 0.0), (0.08, 0.14, -0.02), (0.18, 0.27, 0.05), (0.3, 0.34, 0.16), (0.42, 0.35, 0.29),
         (0.55, 0.31, 0.45), (0.68, 0.24, 0.6), (0.8, 0.155, 0.75), (0.9, 0.075, 0.88), (0.96, 0.03, 0.95), (1, 0.003, 1.0)]
LEAF, STALK, SEED_LEAF = 0, 1, 2
UP = Vector((0, 0, 1))


def flat(angle, rise=0.0):
    return Vector((cos(angle) * cos(rise), sin(angle) * cos(rise), sin(rise)))


def stage_of(age):
    """The name of the stage at an age: 0 arches out of the soil, 1 has its first pair full grown, 2 a trifoliate leaf."""
    if age < 0.12:
        return "hook"
    if age < 0.55:
        return "cotyledon"
    return "unifoliate" if age < 1.55 else "trifoliate1"


def bean(rng, age, materials, vigour=1.0, eaten=0.25):
    """(mesh with its stem at the origin, height in metres). `age` as in `stage_of`, `vigour` scales all sizes."""
    shape = Shape()
    facing = rng.uniform(0, 2 * pi)
    lean_to, lean = rng.uniform(0, 2 * pi), abs(rng.gauss(0, 0.14))
    hypocotyl = rng.uniform(0.032, 0.056) * vigour * min(1.0, 0.45 + 0.8 * age)
    thick = rng.uniform(0.0016, 0.0024) * vigour ** 0.5
    blush = rng.uniform(0, 1)
    foot = Vector((0, 0, -0.02))
    tip = flat(lean_to) * hypocotyl * lean + UP * hypocotyl
    stem = bezier(foot, Vector((0, 0, hypocotyl * 0.4)), tip - flat(lean_to) * hypocotyl * lean * 0.4 - UP * hypocotyl * 0.3, tip, 8)
    if age < 0.12:
        return hook(shape, rng, facing, hypocotyl, thick, blush, materials)
    tube(shape, stem, [thick * (1.15 - 0.25 * i / 8) for i in range(9)], STALK, lambda v: (0.9 + 0.2 * v, blush * (1 - v), 0))
    seed_leaves(shape, rng, tip, facing, age, vigour)
    node = epicotyl(shape, rng, tip, lean_to, lean, age, vigour, thick)
    first_pair(shape, rng, node, facing + pi / 2, age, vigour, eaten)
    if age > 0.9:
        trifoliates(shape, rng, node, facing + rng.uniform(-0.5, 0.5), age, vigour, thick, eaten)
    return shape.mesh("bean", materials), max(p[2] for p in shape.points)


def hook(shape, rng, facing, height, thick, blush, materials):
    """The stem still arched, cotyledons half out of the soil."""
    height = max(0.014, height * rng.uniform(0.5, 0.9))
    out = flat(facing)
    path = bezier(Vector((0, 0, -0.02)), UP * height * 1.5, out * 0.012 + UP * height * 1.5, out * 0.016 + UP * height * 0.35, 10)
    tube(shape, path, [thick * 1.25] * 11, STALK, lambda v: (1.15, blush * 0.6, 0))
    for turn in (-0.35, 0.35):
        blob(shape, path[-1], flat(facing + turn, -1.0), flat(facing + turn + pi / 2 * (1 if turn > 0 else -1)), 0.014, 0.008,
             0.005, SEED_LEAF, (1.1, 0.2, 0), 0.05)
    return shape.mesh("bean", materials), height


def seed_leaves(shape, rng, node, facing, age, vigour):
    """Two cotyledons; they open, turn yellow, shrivel, and fall one by one."""
    dry = min(1.0, max(0.0, (age - 0.45) / 1.2 + rng.uniform(-0.15, 0.15)))
    for turn in (0, pi):
        if rng.random() < max(0.0, (age - 1.2) * 0.6):
            continue
        size = rng.uniform(0.013, 0.018) * vigour * (1 - 0.35 * dry)
        rise = rng.uniform(0.55, 0.9) - 0.9 * min(1, age * 1.2) + rng.gauss(0, 0.15) - 0.4 * dry
        blob(shape, node, flat(facing + turn + rng.gauss(0, 0.2), rise), UP, size, size * 0.56 * (1 - 0.3 * dry),
             size * 0.36 * (1 - 0.6 * dry), SEED_LEAF, (1.0 - 0.25 * dry, dry, 0), 0.2, dry * 1.2, rng.uniform(0, 99))


def epicotyl(shape, rng, node, lean_to, lean, age, vigour, thick):
    """The stem between the cotyledons and the first pair; answers where it ends."""
    length = rng.uniform(0.018, 0.042) * vigour * min(1.0, 0.12 + 0.95 * max(0, age - 0.1))
    top = node + UP * length + flat(lean_to + rng.gauss(0, 0.7)) * length * lean * 1.2
    path = bezier(node, node + UP * length * 0.4, top - UP * length * 0.3, top, 4)
    tube(shape, path, [thick * (0.9 - 0.12 * i / 4) for i in range(5)], STALK, lambda v: (1.1, 0, 0))
    return top


def first_pair(shape, rng, node, facing, age, vigour, eaten):
    """The two unifoliate leaves, opposite each other; folded together while young."""
    grown = min(1.0, max(0.1, (age - 0.15) / 0.75))
    full = rng.uniform(0.043, 0.068) * vigour
    for turn in (0, pi):
        length = full * rng.uniform(0.88, 1.08) * (0.22 + 0.78 * grown)
        stalk = rng.uniform(0.01, 0.028) * vigour * grown
        rise = 0.95 - 0.75 * grown + rng.gauss(0, 0.16)
        out = facing + turn + rng.gauss(0, 0.2)
        joint = node + flat(out, rise) * stalk
        tube(shape, bezier(node, node + flat(out, rise + 0.35) * stalk * 0.4, joint - flat(out, rise - 0.2) * stalk * 0.3, joint, 4),
             [0.0011, 0.0009, 0.0008, 0.0009, 0.0012], STALK, lambda v: (1.15, 0, 0), 6)
        pitch = 0.6 * (1 - grown) + rng.gauss(-0.08, 0.22)
        up = (UP + flat(out + pi / 2) * rng.gauss(0, 0.22)).normalized()
        blade(shape, rng, CORDATE, joint, flat(out + rng.gauss(0, 0.15), pitch), up, length, LEAF,
              (rng.gauss(1, 0.08), abs(rng.gauss(0, 0.12)) + (1 - grown) * 0.25, 0), broad=rng.uniform(0.9, 1.06),
              droop=rng.gauss(0.45, 0.3), fold=0.75 * (1 - grown) ** 1.5 + rng.gauss(0.02, 0.1), cup=rng.gauss(-0.12, 0.22),
              wave=rng.uniform(0.005, 0.03), holes=bites(rng, eaten))


def bites(rng, eaten):
    return rng.randint(1, 4) if rng.random() < eaten else 0


def trifoliates(shape, rng, node, facing, age, vigour, thick, eaten):
    """The bud between the first pair, and what comes of it: each leaf three leaflets on one petiole."""
    for order in range(3):
        grown = min(1.0, (age - 0.95 - 0.75 * order) / 0.75)
        if grown <= 0:
            return
        top = node + UP * (0.004 + 0.028 * grown * vigour * rng.uniform(0.6, 1.2)) + flat(rng.uniform(0, 6.28)) * 0.003
        tube(shape, [node, (node + top) / 2, top], [thick * 0.75, thick * 0.65, thick * 0.6], STALK, lambda v: (1.1, 0, 0), 6)
        out = facing + pi * order + rng.gauss(0, 0.3)
        rise = 1.25 - 0.55 * grown + rng.gauss(0, 0.12)
        joint = top + flat(out, rise) * (0.006 + 0.045 * grown * vigour * rng.uniform(0.7, 1.2))
        tube(shape, bezier(top, top + (joint - top) * 0.3 + UP * 0.004, joint - (joint - top) * 0.3, joint, 5),
             [0.0011, 0.001, 0.0009, 0.0008, 0.0008, 0.0009], STALK, lambda v: (1.15, 0, 0), 6)
        size = rng.uniform(0.042, 0.062) * vigour * (0.18 + 0.82 * grown)
        end = joint + flat(out, rise - 0.5) * size * 0.28 * grown
        tube(shape, [joint, (joint + end) / 2, end], [0.0008] * 3, STALK, lambda v: (1.15, 0, 0), 6)
        tint = (rng.gauss(1.08, 0.06), 0.1 + 0.35 * (1 - grown), 0)
        for place, turn, left, right in ((end, 0, 1, 1), (joint, 1.25, 0.8, 1.2), (joint, -1.25, 1.2, 0.8)):
            turned = turn * grown + rng.gauss(0, 0.1)
            pitch = rise * (1 - grown) * 0.8 + rng.gauss(-0.1, 0.2)
            blade(shape, rng, OVATE, place, flat(out + turned, pitch), (UP + flat(out) * rng.gauss(0, 0.2)).normalized(),
                  size * rng.uniform(0.9, 1.05) * (1 if turn == 0 else 0.92), LEAF, tint, broad=1.08, left=left, right=right,
                  droop=rng.gauss(0.5, 0.25), fold=0.85 * (1 - grown) + rng.gauss(0.05, 0.1), cup=rng.gauss(-0.1, 0.2),
                  wave=0.02, holes=bites(rng, eaten * 0.5), rows=14, columns=6)
        node = top
