"""Three-vectors as plain tuples, and rotations as nine numbers, row by row. Written out by hand: the solver lives on them."""

from math import cos, sin, sqrt

Vector = tuple[float, float, float]
Rotation = tuple[float, float, float, float, float, float, float, float, float]

UPWARD: Vector = (0.0, 0.0, 1.0)
UNTURNED: Rotation = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)


def add(a: Vector, b: Vector) -> Vector:
    """Return a + b."""
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def sub(a: Vector, b: Vector) -> Vector:
    """Return a - b."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def scale(k: float, a: Vector) -> Vector:
    """Return k a."""
    return k * a[0], k * a[1], k * a[2]


def along(a: Vector, k: float, b: Vector) -> Vector:
    """Return a + k b."""
    return a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]


def dot(a: Vector, b: Vector) -> float:
    """Return a . b."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Return a x b."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def norm(a: Vector) -> float:
    """Return the length of a."""
    return sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])


def unit(a: Vector) -> Vector:
    """Return a at length one; a must not be zero."""
    k = 1.0 / sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])
    return k * a[0], k * a[1], k * a[2]


def middle(a: Vector, b: Vector) -> Vector:
    """Return the point half way between a and b."""
    return 0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]), 0.5 * (a[2] + b[2])


def across(a: Vector, axis: Vector) -> Vector:
    """Return the part of a at right angles to the unit vector ``axis``."""
    return along(a, -dot(a, axis), axis)


def mirrored(a: Vector) -> Vector:
    """Return a seen in the centre plane of the car: y changes sign."""
    return a[0], -a[1], a[2]


def two_across(axis: Vector) -> tuple[Vector, Vector]:
    """Return two unit vectors at right angles to the unit vector ``axis`` and to each other."""
    helper: Vector = (1.0, 0.0, 0.0) if abs(axis[0]) < 0.8 else (0.0, 1.0, 0.0)
    first = unit(cross(axis, helper))
    return first, cross(axis, first)


def apply(r: Rotation, a: Vector) -> Vector:
    """Return the vector a turned by r."""
    return (
        r[0] * a[0] + r[1] * a[1] + r[2] * a[2],
        r[3] * a[0] + r[4] * a[1] + r[5] * a[2],
        r[6] * a[0] + r[7] * a[1] + r[8] * a[2],
    )


def undo(r: Rotation, a: Vector) -> Vector:
    """Return the vector a turned back by r."""
    return (
        r[0] * a[0] + r[3] * a[1] + r[6] * a[2],
        r[1] * a[0] + r[4] * a[1] + r[7] * a[2],
        r[2] * a[0] + r[5] * a[1] + r[8] * a[2],
    )


def spin(axis: Vector, angle: float) -> Rotation:
    """Return the turn by ``angle`` about the unit vector ``axis``, by the right hand."""
    x, y, z = axis
    c, s = cos(angle), sin(angle)
    t = 1.0 - c
    return (
        c + t * x * x, t * x * y - s * z, t * x * z + s * y,
        t * x * y + s * z, c + t * y * y, t * y * z - s * x,
        t * x * z - s * y, t * y * z + s * x, c + t * z * z,
    )  # fmt: skip


def turned_further(r: Rotation, wx: float, wy: float, wz: float) -> Rotation:
    """Return r followed by the rotation vector w."""
    angle = sqrt(wx * wx + wy * wy + wz * wz)
    if angle < 1e-300:
        return r
    k = 1.0 / angle
    a, b, c, d, e, f, g, h, i = spin((wx * k, wy * k, wz * k), angle)
    return (
        a * r[0] + b * r[3] + c * r[6], a * r[1] + b * r[4] + c * r[7], a * r[2] + b * r[5] + c * r[8],
        d * r[0] + e * r[3] + f * r[6], d * r[1] + e * r[4] + f * r[7], d * r[2] + e * r[5] + f * r[8],
        g * r[0] + h * r[3] + i * r[6], g * r[1] + h * r[4] + i * r[7], g * r[2] + h * r[5] + i * r[8],
    )  # fmt: skip


def from_frames(now: tuple[Vector, Vector, Vector], design: tuple[Vector, Vector, Vector]) -> Rotation:
    """Return the rotation that carries one right-angled frame into another: the sum of now_k design_k^T."""
    (a, b, c), (d, e, f) = now, design
    return (
        a[0] * d[0] + b[0] * e[0] + c[0] * f[0], a[0] * d[1] + b[0] * e[1] + c[0] * f[1], a[0] * d[2] + b[0] * e[2] + c[0] * f[2],
        a[1] * d[0] + b[1] * e[0] + c[1] * f[0], a[1] * d[1] + b[1] * e[1] + c[1] * f[1], a[1] * d[2] + b[1] * e[2] + c[1] * f[2],
        a[2] * d[0] + b[2] * e[0] + c[2] * f[0], a[2] * d[1] + b[2] * e[1] + c[2] * f[1], a[2] * d[2] + b[2] * e[2] + c[2] * f[2],
    )  # fmt: skip
