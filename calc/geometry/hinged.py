"""Trailing and semi-trailing arm: the carrier turns about a chassis axis, and the angle for a height is exact."""

from math import acos, atan2, hypot

from calc.geometry.constraints import Pose
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, across, add, apply, cross, spin, sub, unit


class HingedArm:
    """A carrier on a fixed axis: height of its centre = A cos a + B sin a + constant."""

    def __init__(self, first: Vector, second: Vector, centre: Vector) -> None:
        self.foot, self.axis, self.arm = first, unit(sub(second, first)), sub(centre, first)
        out = across(self.arm, self.axis)
        self._cos, self._sin = out[2], cross(self.axis, out)[2]
        self._level = first[2] + self.arm[2] - out[2]

    def limit(self, way: float, rack: float, start: float, farthest: float) -> float | None:
        """Return the height at which the arm stands upright or hangs straight down; none beyond ``farthest`` of where it is."""
        size = hypot(self._cos, self._sin)
        height = self._level + way * size
        return height if abs(height - (self._level + self._cos)) < farthest else None

    def at_height(self, height: float, rack: float, start: float) -> Pose:
        """Return the pose with the wheel centre at ``height``; of the two angles the one nearer to the drawn position."""
        size = hypot(self._cos, self._sin)
        wanted = height - self._level
        if abs(wanted) > size:
            raise Unreachable
        middle, half = atan2(self._sin, self._cos), acos(wanted / size)
        # the arm is drawn on one side of its highest point and stays there
        angle = middle - half if atan2(self._sin, self._cos) > 0 else middle + half
        turn = spin(self.axis, angle)
        return Pose(add(self.foot, apply(turn, self.arm)), turn, angle)
