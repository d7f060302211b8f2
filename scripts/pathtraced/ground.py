"""Soil as displaced geometry with loose clods, straw and weeds. World: x along the reference, y to its left, z up."""
import bpy
from math import cos, exp, pi, sin
from mathutils import Vector, noise
from mathutils.bvhtree import BVHTree
from shape import Shape, bezier, blade, place, tube
import bean as plants
from materials import plain, rgb, soil_material

# How rough a surface is: (size of a feature in m, height in m) of each displacement.
SURFACES = {
    "crumb": ((0.4, 0.02), (0.09, 0.012), (0.028, 0.009), (0.012, 0.004)),
    "cloddy": ((0.4, 0.025), (0.12, 0.022), (0.05, 0.02), (0.018, 0.007)),
    "crust": ((0.5, 0.016), (0.1, 0.005), (0.02, 0.003), (0.009, 0.0015)),
}


def spaced(low, high, near_low, near_high, step, growth):
    """Coordinates from low to high: `step` apart in the near part, growing outside it."""
    out, at, gap = [], near_low, step
    while at < near_high:
        out.append(at)
        at += step
    while at < high:
        out.append(at)
        gap *= growth
        at += gap
    out.append(high)
    at, gap = near_low - step, step
    while at > low:
        out.insert(0, at)
        gap *= growth
        at -= gap
    out.insert(0, low)
    return out


class Ground:
    """The soil object and its height at any place."""

    def __init__(self, rng, spec):
        near = spec["near"]
        far = spec["far"]
        xs = spaced(far[0], far[1], near[0], near[1], spec["stepM"], 1.03)
        ys = spaced(far[2], far[3], near[2], near[3], spec["stepM"], 1.03)
        bpy.ops.mesh.primitive_grid_add(x_subdivisions=len(xs) - 1, y_subdivisions=len(ys) - 1, size=1)
        self.thing = bpy.context.object
        mesh = self.thing.data
        grooves = [exp_groove(y, spec["rowsY"]) for y in ys]
        mesh.vertices.foreach_set("co", [c for j, y in enumerate(ys) for x in xs for c in (x, y, grooves[j])])
        mesh.polygons.foreach_set("use_smooth", [True] * len(mesh.polygons))
        mesh.materials.append(soil_material(rng, spec["soil"], spec["prints"]))
        for k, (size, height) in enumerate(SURFACES[spec["surface"]]):
            texture = bpy.data.textures.new(f"relief {k}", "VORONOI" if k == 2 else "CLOUDS")
            texture.noise_scale = size
            if k == 2:
                texture.noise_intensity = 1.3
            else:
                texture.noise_depth = 2
            relief = self.thing.modifiers.new(f"relief {k}", "DISPLACE")
            relief.texture, relief.strength, relief.mid_level = texture, height if k != 2 else -height, 0.5
            relief.direction = "Z"
            relief.texture_coords = "OBJECT"
            anchor = bpy.data.objects.new("anchor", None)
            anchor.location = (rng.uniform(-50, 50), rng.uniform(-50, 50), rng.uniform(-50, 50))
            bpy.context.scene.collection.objects.link(anchor)
            relief.texture_coords_object = anchor
        self.tree = self.read()
        low, high = spec["stretch"]
        heights = [self.raw(low + (high - low) * i / 160, y) for i in range(161) for y in spec["meanOverY"]]
        self.thing.location.z = -sum(heights) / len(heights)
        self.lift = self.thing.location.z

    def read(self):
        bpy.context.view_layer.update()
        return BVHTree.FromObject(self.thing, bpy.context.evaluated_depsgraph_get())

    def raw(self, x, y):
        hit = self.tree.ray_cast(Vector((x, y, 2.0)), Vector((0, 0, -1)))[0]
        return hit.z if hit else 0.0

    def height(self, x, y):
        """Height of the bare soil over its mean plane."""
        return self.raw(x, y) + self.lift


def exp_groove(y, rows):
    """The press wheel's shallow groove over each row, with a low ridge on both sides."""
    z = 0.0
    for row in rows:
        d = (y - row) / 0.035
        if abs(d) < 6:
            z += -0.012 * exp(-d * d) + 0.007 * exp(-((abs(d) - 1.9) ** 2))
    return z


def scatter(name, mesh, spots, collection=None):
    """Many copies of a mesh as instances on small faces: spots are (x, y, z, turn, tilt, size)."""
    points, faces = [], []
    for x, y, z, turn, tilt, size in spots:
        a = Vector((cos(turn), sin(turn), 0))
        up = Vector((sin(tilt) * cos(turn * 1.7), sin(tilt) * sin(turn * 1.7), cos(tilt)))
        b = up.cross(a).normalized()
        a = b.cross(up)
        h = size / 2
        at = Vector((x, y, z))
        base = len(points)
        points += [at - a * h - b * h, at + a * h - b * h, at + a * h + b * h, at - a * h + b * h]
        faces.append((base, base + 1, base + 2, base + 3))
    if not faces:
        return
    holder_mesh = bpy.data.meshes.new(name)
    holder_mesh.from_pydata(points, [], faces)
    holder = place(name, holder_mesh)
    holder.instance_type = "FACES"
    holder.use_instance_faces_scale = True
    holder.show_instancer_for_render = False
    child = place(f"{name} one", mesh)
    child.parent = holder


def clod_mesh(rng, material):
    """A clod about one unit wide, lying on z = 0."""
    bpy.ops.mesh.primitive_ico_sphere_add(subdivisions=3, radius=0.5)
    thing = bpy.context.object
    seed = rng.uniform(0, 500)
    sx, sy, sz = rng.uniform(0.8, 1.2), rng.uniform(0.7, 1.1), rng.uniform(0.55, 0.85)
    for v in thing.data.vertices:
        d = v.co.normalized()
        r = 0.5 * (1 + 0.55 * noise.noise(d * 1.6 + Vector((seed, 0, 0))) + 0.3 * noise.noise(d * 4 + Vector((0, seed, 0))))
        v.co = Vector((d.x * sx, d.y * sy, d.z * sz)) * r
    thing.data.polygons.foreach_set("use_smooth", [True] * len(thing.data.polygons))
    thing.data.materials.append(material)
    mesh = thing.data
    bpy.data.objects.remove(thing)
    return mesh


def strew_clods(rng, ground, spec, keep_off):
    """Loose clods and crumbs, small ones far more often; big ones not on the reference or on a stem."""
    material = ground.thing.data.materials[0]
    x0, x1, y0, y1 = spec["strew"]
    area = (x1 - x0) * (y1 - y0)
    for k in range(6):
        mesh = clod_mesh(rng, material)
        spots = []
        for _ in range(int(area * spec["clodsPerM2"] / 6)):
            size = min(0.07, 0.006 * rng.random() ** (-1 / spec["clodTail"]))
            x, y = rng.uniform(x0, x1), rng.uniform(y0, y1)
            if keep_off(x, y, size):
                continue
            spots.append((x, y, ground.height(x, y) + size * rng.uniform(0.1, 0.34), rng.uniform(0, 6.28), rng.uniform(0, 0.5), size))
        scatter(f"clods {k}", mesh, spots)


def strew_straw(rng, ground, spec):
    """Last year's residue: bits of straw and some broad husks, lying on the clods."""
    x0, x1, y0, y1 = spec["strew"]
    count = int((x1 - x0) * (y1 - y0) * spec["strawPerM2"])
    tones = [rgb(0.42, 0.33, 0.19), rgb(0.55, 0.46, 0.3), rgb(0.25, 0.19, 0.12), rgb(0.36, 0.32, 0.25)]
    for tone in tones:
        material = plain("straw", tone, gloss=0.5, dull=0.4, uneven=0.5, scale=90)
        shape = Shape()
        for _ in range(count // len(tones)):
            length = rng.uniform(0.02, 0.1) if rng.random() < 0.75 else rng.uniform(0.1, 0.28)
            turn = rng.uniform(0, pi)
            x, y = rng.uniform(x0, x1), rng.uniform(y0, y1)
            dx, dy = cos(turn) * length / 2, sin(turn) * length / 2
            z = [ground.height(x + t * dx, y + t * dy) for t in (-1, -0.5, 0, 0.5, 1)]
            top = max(z) + 0.003
            a, b = Vector((x - dx, y - dy, (z[0] + top) / 2 + 0.002)), Vector((x + dx, y + dy, (z[4] + top) / 2 + 0.002))
            middle = Vector((x, y, top)) + Vector((-dy, dx, 0)) * rng.gauss(0, 0.08)
            width = rng.uniform(0.0012, 0.003) if rng.random() < 0.85 else rng.uniform(0.004, 0.008)
            tube(shape, bezier(a, (a + middle * 2) / 3, (b + middle * 2) / 3, b, 5), [width] * 6, 0, lambda v: (1, 0, 0), 5)
        place("straw", shape.mesh("straw", [material]))


def weed_mesh(rng, materials, kind):
    """One weed: a tuft of grass, a rosette of broad leaves, or a seedling with two to six small leaves."""
    shape = Shape()
    up = Vector((0, 0, 1))
    if kind == "grass":
        for _ in range(rng.randint(3, 9)):
            out, tall = rng.uniform(0, 6.28), rng.uniform(0.03, 0.11)
            blade(shape, rng, [(0, 0.035, 0), (0.3, 0.035, 0.3), (0.7, 0.026, 0.7), (1, 0.002, 1)], Vector((0, 0, -0.002)),
                  plants.flat(out, rng.uniform(0.7, 1.3)), up - plants.flat(out) * 0.5, tall, 0, (rng.gauss(1, 0.1), rng.uniform(0, 0.3), 0),
                  droop=rng.uniform(0.3, 1.6), fold=0.4, wave=0, rows=10, columns=2)
        return shape.mesh("weed", materials)
    leaves = rng.randint(6, 13) if kind == "rosette" else rng.randint(2, 6)
    size = rng.uniform(0.015, 0.035) if kind == "rosette" else rng.uniform(0.007, 0.02)
    crown = Vector((0, 0, 0.004 if kind == "rosette" else rng.uniform(0.008, 0.03)))
    tube(shape, [Vector((0, 0, -0.01)), crown * 0.5, crown], [0.001] * 3, 2, lambda v: (1, rng.random() * 0.5, 0), 6)
    narrow = rng.uniform(0.5, 1.1)
    for i in range(leaves):
        out, rise = i * 2.4 + rng.gauss(0, 0.2), rng.uniform(0.0, 0.6)
        joint = crown + plants.flat(out, rise) * size * rng.uniform(0.3, 0.8)
        tube(shape, [crown, (crown + joint) / 2, joint], [0.0006] * 3, 2, lambda v: (1, 0.2, 0), 5)
        blade(shape, rng, plants.OVATE, joint, plants.flat(out, rise - 0.2), up, size * rng.uniform(0.7, 1.2), 1,
              (rng.gauss(1, 0.1), abs(rng.gauss(0, 0.15)), 0), broad=narrow, droop=rng.uniform(0, 0.6), fold=0.15, rows=8, columns=4)
    return shape.mesh("weed", materials)
