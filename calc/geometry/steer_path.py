"""How the chassis end of the tie rod moves when the car is steered: straight across with a rack, on an arc with a box and drop arm.

The steering input is the same for both: how far that end has gone to the left. With a box the centre link keeps parallel to itself
(drop arm and idler alike), so the end moves as the end of the drop arm does.
"""

from math import acos, atan2, hypot

from calc.geometry.linkage import Linkage
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, across, apply, cross, scale, spin, sub, unit

_LEFT: Vector = (0.0, 1.0, 0.0)


class SteerPath:
    """The path of the tie rod's chassis end over the steering input (m to the left)."""

    __slots__ = ("_arm", "_axis", "straight")

    def __init__(self, linkage: Linkage) -> None:
        self.straight = linkage.box is None
        self._axis: Vector = (0.0, 0.0, 1.0)
        self._arm: Vector = (0.0, 0.0, 0.0)
        if linkage.box:
            pivot, above, end = (linkage.points[name] for name in linkage.box)
            self._axis = unit(sub(above, pivot))
            self._arm = across(sub(end, pivot), self._axis)

    def at(self, rack: float) -> tuple[Vector, Vector]:
        """Return the shift of the tie rod's chassis end, and its rate per metre of input. Raises ``Unreachable``."""
        if self.straight:
            return (0.0, rack, 0.0), _LEFT
        a, b = self._arm[1], cross(self._axis, self._arm)[1]
        size = hypot(a, b)
        if abs(a + rack) >= size:
            raise Unreachable
        middle, half = atan2(b, a), acos((a + rack) / size)
        arm = apply(spin(self._axis, middle - half if middle > 0 else middle + half), self._arm)
        moves = cross(self._axis, arm)
        return sub(arm, self._arm), scale(1.0 / moves[1], moves)
