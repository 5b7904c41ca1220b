"""What a wheel's attitude is called: camber, toe, contact point, and the steering axis's caster, inclination, trail and scrub.

Signs: left wheel; camber positive when the top leans outboard; toe-in positive when the front points to the centre-line; caster
positive when the top is rearward; inclination (KPI) positive when the top is inboard; trail positive when the axis meets the ground
ahead of the contact point; scrub radius positive when it meets the ground inboard of it. Source: ISO 8855 axes; definitions derived.
"""

from math import asin, atan2, cos, hypot, sin, sqrt
from typing import NamedTuple

from calc.geometry.vectors import UPWARD, Vector, along, cross, dot, scale, sub, unit


class SteeringAxis(NamedTuple):
    """Angles of the steering axis (rad) and where it meets the ground (m), in the turned wheel's own directions."""

    caster: float
    inclination: float
    trail: float
    scrub: float


def spin_axis(camber: float, toe_in: float) -> Vector:
    """Return the unit spin axis pointing outboard: (sin t cos g, cos t cos g, -sin g).

    >>> spin_axis(0.0, 0.0)
    (0.0, 1.0, -0.0)
    """
    return sin(toe_in) * cos(camber), cos(toe_in) * cos(camber), -sin(camber)


def camber(spin: Vector, ground: Vector = UPWARD) -> float:
    """Return the camber to a ground with that upward normal: asin(-s.n)."""
    return asin(max(-1.0, min(1.0, -dot(spin, ground))))


def toe_in(spin: Vector) -> float:
    """Return the toe-in of the wheel: atan2(s_x, s_y)."""
    return atan2(spin[0], spin[1])


def contact(centre: Vector, spin: Vector, radius: float, ground: Vector = UPWARD) -> Vector:
    """Return the lowest point of a thin disc: W + R (-n + (n.s) s)/|...|."""
    lean = dot(ground, spin)
    root = sqrt(1.0 - lean * lean)
    return along(
        centre, radius / root, (lean * spin[0] - ground[0], lean * spin[1] - ground[1], lean * spin[2] - ground[2])
    )


def camber_rate(spin: Vector, turning: Vector) -> float:
    """Return the rate of camber for an angular velocity: -(w x s)_z / sqrt(1 - s_z^2)."""
    return -(turning[0] * spin[1] - turning[1] * spin[0]) / sqrt(1.0 - spin[2] * spin[2])


def toe_in_rate(spin: Vector, turning: Vector) -> float:
    """Return the rate of toe-in for an angular velocity: [(w x s)_x s_y - s_x (w x s)_y] / (s_x^2 + s_y^2)."""
    x, y, _ = cross(turning, spin)
    return (x * spin[1] - spin[0] * y) / (spin[0] * spin[0] + spin[1] * spin[1])


def steering_axis(lower: Vector, upwards: Vector, contact_point: Vector, spin: Vector) -> SteeringAxis:
    """Return the angles, trail and scrub radius of the line through ``lower`` along ``upwards``."""
    kx, ky, kz = upwards if upwards[2] > 0 else scale(-1.0, upwards)
    ground = along(lower, (contact_point[2] - lower[2]) / kz, (kx, ky, kz))
    flat = hypot(spin[0], spin[1])
    outboard: Vector = (spin[0] / flat, spin[1] / flat, 0.0)
    heading: Vector = (outboard[1], -outboard[0], 0.0)
    gap = sub(ground, contact_point)
    return SteeringAxis(atan2(-kx, kz), atan2(-ky, kz), dot(gap, heading), -dot(gap, outboard))


def screw(velocity: Vector, turning: Vector, centre: Vector) -> tuple[Vector, Vector, float]:
    """Return a point on the screw axis of a motion, its upward direction, and its pitch (m/rad).

    Equation: direction w, point W + w x V / |w|^2, pitch V.w / |w|^2. Source: rigid-body kinematics (Suh 1989).
    """
    size = dot(turning, turning)
    direction = unit(turning)
    point = along(centre, 1.0 / size, cross(turning, velocity))
    return point, direction if direction[2] >= 0 else scale(-1.0, direction), dot(velocity, turning) / size
