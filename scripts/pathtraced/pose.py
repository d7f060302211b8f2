"""The camera: a pinhole in plain double precision, and where it stands for each view."""
from math import cos, radians, sin, sqrt

DIAGONAL_MM = sqrt(36 * 36 + 24 * 24)
FOCAL_35MM = 26


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def unit(a):
    n = sqrt(dot(a, a))
    return tuple(x / n for x in a)


class Camera:
    """At `at`, looking at `to`; picture axes right, down, ahead in world coordinates. Pixel centres are integers."""

    def __init__(self, at, to, up, roll, width, height):
        self.at, self.width, self.height = at, width, height
        self.focal = FOCAL_35MM / DIAGONAL_MM * sqrt(width * width + height * height)
        self.cx, self.cy = (width - 1) / 2, (height - 1) / 2
        ahead = unit(tuple(b - a for a, b in zip(at, to)))
        right = unit(cross(ahead, up))
        down = cross(ahead, right)
        c, s = cos(roll), sin(roll)
        self.right = tuple(c * r + s * d for r, d in zip(right, down))
        self.down = tuple(c * d - s * r for r, d in zip(right, down))
        self.ahead = ahead

    def pixel(self, point):
        """(x, y) of a world point in the picture, or None behind the camera."""
        d = tuple(p - a for p, a in zip(point, self.at))
        z = dot(d, self.ahead)
        if z <= 0.01:
            return None
        return (self.cx + self.focal * dot(d, self.right) / z, self.cy + self.focal * dot(d, self.down) / z)

    def inside(self, pixel, margin=0.0):
        return pixel is not None and margin <= pixel[0] <= self.width - 1 - margin and margin <= pixel[1] <= self.height - 1 - margin

    def photo_to_ground(self):
        """Row-major 3 x 3: pixel to (along, across) on z = 0, its last number 1."""
        f, k = self.focal, (self.cx, self.cy)
        rows = []
        for axis, offset in ((self.right, k[0]), (self.down, k[1])):
            rows.append([f * axis[i] + offset * self.ahead[i] for i in range(3)])
        rows.append(list(self.ahead))
        to_pixel = [[r[0], r[1], -dot(r, self.at)] for r in rows]
        inverse = invert(to_pixel)
        return [v / inverse[8] for v in inverse]

    def matrix_world(self):
        """Rows for Blender, whose camera looks along its own -z with y up."""
        return [[self.right[i], -self.down[i], -self.ahead[i], self.at[i]] for i in range(3)] + [[0, 0, 0, 1]]

    def gravity(self):
        return [-self.right[2], -self.down[2], -self.ahead[2]]


def invert(m):
    (a, b, c), (d, e, f), (g, h, i) = m
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return [v / det for v in (e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f,
                              d * h - e * g, b * g - a * h, a * e - b * d)]


def stand(rng, spec):
    """The camera of a scene: held freely, never quite level."""
    length, row = spec["stretchM"], spec["rowY"]
    long, short = spec["pixels"]
    tilt = lambda sd: rng.gauss(0, radians(sd))
    if spec["view"] == "down":
        height = min(1.85, (spec.get("widthM", length) + 0.28) / 1.331)
        at = (length / 2 + rng.gauss(0, 0.03), row / 2 + rng.gauss(0, 0.04), height)
        to = (at[0] + height * tilt(1.5), at[1] + height * tilt(2), 0)
        return Camera(at, to, (0, 1, 0), tilt(1.5), long, short)
    if spec["view"] == "side":
        sign = spec.get("fromSide", -1)
        slant = (length + 0.3) / 1.331
        back = min(2.2, sqrt(max(1.0, slant * slant - 2.25)))
        at = (length / 2 + rng.gauss(0, 0.06), row + sign * back, 1.5 + rng.gauss(0, 0.04))
        return Camera(at, (length / 2 + rng.gauss(0, 0.03), row + rng.gauss(0.05, 0.08), 0), (0, 0, 1), tilt(1.2), long, short)
    at = (-0.7 + rng.gauss(0, 0.05), row / 2 + rng.gauss(0, 0.08), 1.5 + rng.gauss(0, 0.05))
    return Camera(at, (0.75 + rng.gauss(0, 0.05), row / 2 + rng.gauss(0, 0.03), 0), (0, 0, 1), tilt(1.2), short, long)
