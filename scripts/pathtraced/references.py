"""What lies beside the row and gives the scale. Each answers (ends, readings, corners) in world coordinates."""
from math import cos, pi, sin
from mathutils import Vector
from materials import plain, printed, rgb
from shape import Shape, place, tube


def resting(ground, xs, ys, smooth):
    """Heights of something stiff that lies on the soil along xs: it bridges the hollows."""
    top = [max(ground.height(x, y) for y in ys) for x in xs]
    n = len(xs)
    held = [max(top[max(0, i - smooth):i + smooth + 1]) for i in range(n)]
    even = [sum(held[max(0, i - smooth):i + smooth + 1]) / len(held[max(0, i - smooth):i + smooth + 1]) for i in range(n)]
    return [max(a, b) for a, b in zip(even, top)]


class Ribbon:
    """A path that a tape follows; places are by length of arc from its zero."""

    def __init__(self, rng, ground, length, lift):
        n = int(length / 0.01) + 1
        bow, phase = rng.gauss(0, 0.003), rng.uniform(0, 6)
        xs = [length * 1.01 * i / n for i in range(n + 1)]
        ys = [bow * (sin(2.1 * x + phase) - sin(phase)) for x in xs]
        zs = resting(ground, xs, (-0.012, 0, 0.012), 6)
        self.points = [(x, y, z + lift) for x, y, z in zip(xs, ys, zs)]
        self.arc = [0.0]
        for a, b in zip(self.points, self.points[1:]):
            self.arc.append(self.arc[-1] + sum((p - q) ** 2 for p, q in zip(a, b)) ** 0.5)

    def at(self, s):
        i = 0
        while i < len(self.arc) - 2 and self.arc[i + 1] < s:
            i += 1
        t = (s - self.arc[i]) / (self.arc[i + 1] - self.arc[i])
        return tuple(a + t * (b - a) for a, b in zip(self.points[i], self.points[i + 1]))


def lay_tape(rng, ground, spec, prints):
    """A printed tape in pieces, each with its own picture `prints/tape-KIND-N.png`."""
    inch = spec["graduations"] == "in"
    width, piece = (0.025, 24 * 0.0254) if inch else (0.019, 0.5)
    length = spec["lengthM"]
    ribbon = Ribbon(rng, ground, length, 0.0015)
    for k in range(int(length / piece) + 1):
        start, end = k * piece, min(length, (k + 1) * piece)
        if end - start < 0.01:
            continue
        shape = Shape()
        n = max(2, int((end - start) / 0.008))
        rows = []
        for i in range(n + 1):
            s = start + (end - start) * i / n
            x, y, z = ribbon.at(s)
            u = (s - start) / piece
            rows.append([shape.add_point((x, y + width * (v - 0.5), z + 0.0012 * (1 - abs(2 * v - 1))), (u, v)) for v in (0, 0.5, 1)])
        for a, b in zip(rows, rows[1:]):
            for j in range(2):
                shape.add_face((a[j], b[j], b[j + 1], a[j + 1]), 0)
        picture = f"{prints}/tape-{spec['graduations']}-{k}.png"
        place("tape", shape.mesh("tape", [printed("tape", picture, 0.6, spec.get("dirt", 0.3), 0.04)]))
    step = 6 * 0.0254 if inch else 0.1
    readings = [(round(i * step, 4), ribbon.at(i * step)) for i in range(int(length / step + 1e-6) + 1)]
    return [(0.0, ribbon.at(0)), (length, ribbon.at(length))], readings, []


def lay_cards(rng, ground, spec, prints):
    """Two printed cards, centres on the x axis, turned a little, tilted as the soil under them is."""
    w, h, half = 0.2159, 0.2794, 0.06
    ends, corners = [], []
    for number, x in ((0, 0.0), (1, spec["lengthM"])):
        turn = rng.choice((0, pi / 2, pi, -pi / 2)) + rng.gauss(0, 0.06)
        a, b = Vector((cos(turn), sin(turn), 0)), Vector((-sin(turn), cos(turn), 0))
        grid = [(i / 20 - 0.5, j / 24 - 0.5) for i in range(21) for j in range(25)]
        tall = {g: ground.height(*((Vector((x, 0, 0)) + a * g[0] * w + b * g[1] * h).xy)) for g in grid}
        slope_a = sum(z * g[0] for g, z in tall.items()) / sum(g[0] ** 2 for g in grid) / w
        slope_b = sum(z * g[1] for g, z in tall.items()) / sum(g[1] ** 2 for g in grid) / h
        lift = sorted(z - slope_a * g[0] * w - slope_b * g[1] * h for g, z in tall.items())[-1] + 0.001
        a3 = Vector((a.x, a.y, slope_a)).normalized()
        up = a3.cross(Vector((b.x, b.y, slope_b))).normalized()
        b3 = up.cross(a3)
        centre = Vector((x, 0, lift))
        shape = Shape()
        n = 12
        curl = rng.uniform(0.0, 0.004)
        ids = [[shape.add_point(centre + a3 * w * (i / n - 0.5) + b3 * h * (j / n - 0.5)
                                + up * curl * max(0, (abs(2 * i / n - 1) - 0.6) / 0.4) ** 2, (i / n, j / n))
                for i in range(n + 1)] for j in range(n + 1)]
        for j in range(n):
            for i in range(n):
                shape.add_face((ids[j][i], ids[j][i + 1], ids[j + 1][i + 1], ids[j + 1][i]), 0)
        place("card", shape.mesh("card", [printed("card", f"{prints}/card-{number}.png", 0.1, spec.get("dirt", 0.15), 0.05)]))
        ends.append((x, tuple(centre)))
        corners.append((f"marker {number}", [tuple(centre + a3 * half * i + b3 * half * j) for i, j in ((-1, 1), (1, 1), (1, -1), (-1, -1))]))
    return ends, ends, corners


def bar(ground, a, b, radius, bands, materials):
    """A round bar between two places on the ground, painted in bands; answers the heights of its axis."""
    n = 60
    spots = [(a[0] + (b[0] - a[0]) * i / n, a[1] + (b[1] - a[1]) * i / n) for i in range(n + 1)]
    tall = [ground.height(*s) for s in spots]
    # A straight line over all tops, as low as it goes: held up near both ends.
    slope, best = 0.0, None
    for k in range(-30, 31):
        s = k * 0.001
        lift = max(z - s * (i - n / 2) * radius for i, z in enumerate(tall))
        if best is None or lift < best:
            slope, best = s, lift
    axis = lambda t: best + slope * (t * n - n / 2) * radius + radius
    at = lambda t: Vector((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, axis(t)))
    for k in range(bands):
        shape = Shape()
        t0, t1 = k / bands, (k + 1) / bands
        tube(shape, [at(t0), at((t0 + t1) / 2), at(t1)], [radius] * 3, 0, lambda v: (1, 0, 0), 24)
        place("bar", shape.mesh("bar", [materials[k % len(materials)]]))
    return at


def lay_rod(rng, ground, spec, prints):
    radius = spec.get("radiusM", 0.0125)
    red, white = plain("red", rgb(0.45, 0.03, 0.02), 0.7, 0.3), plain("white", rgb(0.7, 0.69, 0.66), 0.7, 0.3)
    count = round(spec["lengthM"] / spec["bandM"])
    length = count * spec["bandM"]
    at = bar(ground, (0, 0), (length, 0), radius, count, [red, white])
    axis = lambda t: tuple(at(t))
    ends = [(0.0, axis(0)), (length, axis(1))]
    return ends, [(k * spec["bandM"], axis(k / count)) for k in range(count + 1)], []


def lay_frame(rng, ground, spec, prints):
    """Four bars whose inside is alongM x acrossM, its inside corner nearest the reader at the origin."""
    along, across, r = spec["alongM"], spec["acrossM"], 0.011
    paint = plain("frame", rgb(0.72, 0.72, 0.7) if spec.get("white", True) else rgb(0.35, 0.36, 0.38), 0.8, 0.25)
    top = max(ground.height(along * i / 40, y) for i in range(41) for y in (-r, across + r))
    tall = sorted(ground.height(along * i / 40, y) for i in range(41) for y in (-r, across + r))
    z = 0.5 * (top + tall[int(len(tall) * 0.9)]) + r
    for a, b in (((-2 * r, -r), (along + 2 * r, -r)), ((-2 * r, across + r), (along + 2 * r, across + r)),
                 ((-r, -2 * r), (-r, across + 2 * r)), ((along + r, -2 * r), (along + r, across + 2 * r))):
        shape = Shape()
        tube(shape, [Vector((*a, z)), Vector(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, z)), Vector((*b, z))], [r] * 3, 0,
             lambda v: (1, 0, 0), 20)
        place("frame", shape.mesh("frame", [paint]))
    inside = [(0, across, z), (along, across, z), (along, 0, z), (0, 0, z)]
    ends = [(0.0, (0, 0, z)), (along, (along, 0, z))]
    return ends, ends, [("inside", inside)]


LAY = {"tape": lay_tape, "cards": lay_cards, "rod": lay_rod, "frame": lay_frame}
