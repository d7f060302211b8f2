"""Small pieces that become one mesh: leaf blades, tubes and fleshy blobs, with a tint at every point.

Lengths are metres, angles radians, z is up. A tint is (strength, age, kind): how light the tissue is,
how yellow or dry, and a free number for the material.
"""
import bpy
from math import cos, pi, sin
from mathutils import Vector, noise


class Shape:
    """Points, faces, texture coordinates, tints and material numbers of a mesh in the making."""

    def __init__(self):
        self.points, self.faces, self.uv, self.tints, self.slots = [], [], [], [], []

    def add_point(self, at, uv=(0.0, 0.0), tint=(1.0, 0.0, 0.0)):
        self.points.append(tuple(at))
        self.uv.append(uv)
        self.tints.append(tint)
        return len(self.points) - 1

    def add_face(self, face, slot):
        self.faces.append(face)
        self.slots.append(slot)

    def mesh(self, name, materials):
        """The finished mesh; `materials` in the order of the slot numbers."""
        mesh = bpy.data.meshes.new(name)
        mesh.from_pydata(self.points, [], self.faces)
        for material in materials:
            mesh.materials.append(material)
        mesh.polygons.foreach_set("use_smooth", [True] * len(self.faces))
        mesh.polygons.foreach_set("material_index", self.slots)
        layer = mesh.uv_layers.new(name="uv")
        layer.data.foreach_set("uv", [c for loop in mesh.loops for c in self.uv[loop.vertex_index]])
        tint = mesh.color_attributes.new("tint", "FLOAT_COLOR", "POINT")
        tint.data.foreach_set("color", [c for t in self.tints for c in (*t, 1.0)])
        mesh.update()
        return mesh


def place(name, mesh, at=(0, 0, 0), turn_z=0.0, scale=1.0, collection=None):
    """A mesh as an object of the scene."""
    thing = bpy.data.objects.new(name, mesh)
    thing.location = at
    thing.rotation_euler = (0, 0, turn_z)
    thing.scale = (scale, scale, scale)
    (collection or bpy.context.scene.collection).objects.link(thing)
    return thing


def tube(shape, path, radii, slot, tint, sides=8):
    """A round stalk along points, with a radius at each."""
    rings = []
    for i, (at, radius) in enumerate(zip(path, radii)):
        ahead = path[min(i + 1, len(path) - 1)] - path[max(i - 1, 0)]
        ahead.normalize()
        side = ahead.cross(Vector((0.31, 0.95, 0.05))).normalized()
        other = ahead.cross(side)
        v = i / (len(path) - 1)
        ring = []
        for k in range(sides):
            a = 2 * pi * k / sides
            ring.append(shape.add_point(at + radius * (cos(a) * side + sin(a) * other), (k / sides, v), tint(v)))
        rings.append(ring)
    for low, high in zip(rings, rings[1:]):
        for k in range(sides):
            j = (k + 1) % sides
            shape.add_face((low[k], low[j], high[j], high[k]), slot)
    shape.add_face(tuple(rings[-1]), slot)


def bezier(a, b, c, d, n):
    """n + 1 points on a cubic."""
    out = []
    for i in range(n + 1):
        t = i / n
        u = 1 - t
        out.append(u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d)
    return out


def blob(shape, at, ahead, up, length, width, thick, slot, tint, bend=0.25, shrivel=0.0, seed=0.0):
    """A fleshy body from `at` along `ahead`, flat towards `up`; shrivelled ones are wrinkled and curled."""
    ahead = ahead.normalized()
    side = ahead.cross(up).normalized()
    up = side.cross(ahead)
    n, m = 9, 12
    rings = []
    for i in range(n + 1):
        t = i / n
        body = max(0.02, sin(pi * min(1, t * 0.97 + 0.03)) ** 0.6)
        ring = []
        for k in range(m):
            a = 2 * pi * k / m
            across, high = cos(a) * width / 2 * body, sin(a) * thick / 2 * body
            if high > 0:
                high *= 0.45
            if shrivel > 0:
                wrinkle = 1 + shrivel * 0.5 * noise.noise(Vector((t * 5 + seed, 2.2 * cos(a), 2.2 * sin(a))))
                across, high = across * wrinkle, high * wrinkle
            lift = bend * length * (t * t)
            point = at + ahead * (length * t) + side * across + up * (high + lift)
            ring.append(shape.add_point(point, (k / m, t), tint))
        rings.append(ring)
    for low, high in zip(rings, rings[1:]):
        for k in range(m):
            j = (k + 1) % m
            shape.add_face((low[k], low[j], high[j], high[k]), slot)


def outline_at(table, t):
    """(half width, y) on a half outline given as (t, half width, y), smooth between its points."""
    for i in range(len(table) - 1):
        if t <= table[i + 1][0] or i == len(table) - 2:
            p0, p1 = table[max(i - 1, 0)], table[i]
            p2, p3 = table[i + 1], table[min(i + 2, len(table) - 1)]
            u = (t - p1[0]) / (p2[0] - p1[0])
            both = []
            for k in (1, 2):
                m1 = (p2[k] - p0[k]) / 2
                m2 = (p3[k] - p1[k]) / 2
                h = u * u
                c = h * u
                both.append((2 * c - 3 * h + 1) * p1[k] + (c - 2 * h + u) * m1 + (3 * h - 2 * c) * p2[k] + (c - h) * m2)
            return both
    return table[-1][1:]


def blade(shape, rng, table, at, ahead, up, length, slot, tint, *, broad=1.0, left=1.0, right=1.0, droop=0.4,
          fold=0.0, cup=0.0, wave=0.02, holes=0, rows=18, columns=8):
    """A leaf blade: starts at `at`, midrib along `ahead`, upper side towards `up`.

    `droop` bends the midrib down (radians from base to tip), `fold` lifts (or lowers) both halves, `cup` curls the
    margin, `holes` are eaten out. Rows run from the midrib to the margin, as the side veins do.
    """
    ahead = ahead.normalized()
    side = ahead.cross(up).normalized()
    up = side.cross(ahead)
    seed = rng.uniform(0, 1000)
    bites = [(rng.uniform(-0.45, 0.45), rng.uniform(0.05, 0.95), rng.uniform(0.02, 0.07)) for _ in range(holes)]
    grid = []
    for i in range(rows + 1):
        v = i / rows
        half, edge_y = outline_at(table, v)
        rib_y = v ** 1.15
        line = []
        for j in range(-columns, columns + 1):
            u = j / columns
            s = abs(u)
            x = u * half * broad * (right if u > 0 else left)
            y = rib_y + (edge_y - rib_y) * s ** 1.2
            bend = droop * max(y, -0.2)
            if abs(droop) > 1e-3:
                along, drop = sin(bend) / droop, -(1 - cos(bend)) / droop
            else:
                along, drop = y, 0.0
            z = drop + fold * abs(x) + cup * x * x
            z += wave * s * s * sin(9 * v + seed + (2 if u > 0 else 0)) + 0.012 * noise.noise(
                Vector((x * 7 + seed, y * 7, 0)))
            z -= 0.008 * abs(sin(pi * 6.5 * v)) ** 0.5 * (1 - s) * (s > 0)
            point = at + length * (ahead * along + side * x + up * z)
            line.append((shape.add_point(point, (u, v), tint), x, y))
        grid.append(line)
    for low, high in zip(grid, grid[1:]):
        for a, b, c, d in zip(low, low[1:], high[1:], high):
            x, y = (a[1] + c[1]) / 2, (a[2] + c[2]) / 2
            if any((x - bx) ** 2 + (y - by) ** 2 < r * r for bx, by, r in bites):
                continue
            shape.add_face((a[0], b[0], c[0], d[0]), slot)
