"""Exact rates from the velocity equations: how the carrier moves and turns per metre of travel and per metre of rack."""

from typing import NamedTuple

from calc.geometry.constraints import Mechanism, Pose
from calc.geometry.linear import solve
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, along, cross, sub
from calc.numeric.linear import Singular


class Twist(NamedTuple):
    """Velocity of the carrier's centre, its angular velocity, and the turning rate of the arm solved with it."""

    velocity: Vector
    turning: Vector
    arm: float = 0.0

    def at(self, centre: Vector, point: Vector) -> Vector:
        """Return the velocity of the carrier-fixed point now at ``point``."""
        vx, vy, vz = self.velocity
        wx, wy, wz = self.turning
        x, y, z = point[0] - centre[0], point[1] - centre[1], point[2] - centre[2]
        return vx + wy * z - wz * y, vy + wz * x - wx * z, vz + wx * y - wy * x

    def plus(self, share: float, other: "Twist") -> "Twist":
        """Return this motion and a share of another one together."""
        return Twist(
            along(self.velocity, share, other.velocity),
            along(self.turning, share, other.turning),
            self.arm + share * other.arm,
        )


def twists(mechanism: Mechanism, pose: Pose, rack: float) -> list[Twist]:
    """Return the motion per metre rise of each wheel centre (the others held), and last per metre of rack, travel held."""
    equations = mechanism.equations(pose, rack)
    heights, _ = mechanism.height_rows(pose)
    zeros = [0.0] * len(heights)
    rows = [[*row, *zeros, steer] for row, steer in zip(equations.rows, equations.rack, strict=True)]
    rows += [[*row, *(float(i == j) for j in range(len(heights))), 0.0] for i, row in enumerate(heights)]
    try:
        found = solve(rows, mechanism.size)
    except Singular:
        raise Unreachable from None
    return [Twist((x[0], x[1], x[2]), (x[3], x[4], x[5]), x[6] if mechanism.size == 7 else 0.0) for x in found]


def hinge_twist(centre: Vector, foot: Vector, axis: Vector) -> Twist:
    """Return the motion of an arm on a fixed axis per metre rise of its wheel centre: w = h / (h x (W - A))_z.

    Source: velocity of a rigid body on an axis; checked against the velocity equations in the tests.
    """
    sweep = cross(axis, sub(centre, foot))
    if abs(sweep[2]) < 1e-9:
        raise Unreachable
    k = 1.0 / sweep[2]
    return Twist((k * sweep[0], k * sweep[1], 1.0), (k * axis[0], k * axis[1], k * axis[2]), k)
